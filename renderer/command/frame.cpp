#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "pictures/draw/image.h"
#include "pictures/files/write_file.h"
#include "pictures/frames/exposure_picture.h"
#include "pictures/frames/frame_picture.h"
#include "results/frame/frames.h"
#include "results/frame/lens_filters.h"
#include "results/frame/preview_filter.h"
#include "results/readings/spots.h"
#include "setup/advice/planned_key.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <future>
#include <utility>

namespace rushlight::command {

namespace {

struct FrameOptions {
    FileOptions file;
    EffortOptions effort;
    LightOptions light;
    int width = 960;
    std::string output;
    std::string guides;
    bool plain = false, unfiltered = false, exposure = false;
};

Guides guides_of(const FrameOptions& o) {
    Guides guides;
    std::string wrong;
    if (o.guides.empty() || guides_from(o.guides, guides, wrong)) return guides;
    const std::string near = hint(wrong, guide_words());
    const bool a_slip = near.find("did you mean") != std::string::npos;
    throw InputError(
        in_quotes(wrong) + " isn't a frame guide" +
        (a_slip ? near : "; expected aspects such as 2.39 or 16:9, from 0.2 to 5, or thirds, centre, safe"));
}

/// Where the spot readings of `read` are taken, as places of the picture.
std::vector<ExposureKey> exposure_keys(const Setup& setup, const LayeredFrame& frame) {
    std::vector<ExposureKey> keys;
    for (const PlannedKey& k : planned_keys(setup))
        keys.push_back({k.mark, k.over_grey(grey_luminance(frame.camera.exposure).value)});
    return keys;
}

std::vector<ExposureMark> exposure_marks(const Setup& setup, const Scene& scene, const LayeredFrame& frame) {
    const CameraView view(frame.camera, frame.width, frame.height);
    std::vector<ExposureMark> marks;
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i)
        for (const PlacedSpot& s : place_spots(setup, scene, view, static_cast<int>(i)).seen) {
            float x = 0, y = 0;
            if (!view.project(view.at() + s.point.facing, x, y)) continue;
            const bool skin = s.name.find("cheek") != std::string::npos || s.name == "front";
            marks.push_back({skin ? s.name : "", static_cast<double>(x), static_cast<double>(y),
                             static_cast<double>(s.point.spot_radius * view.pixels_per_tangent())});
        }
    return marks;
}

void tell_of_filters(const LayeredFrame& frame, const FrameLook& look) {
    const Camera& c = frame.camera;
    const std::vector<Tristimulus> light = light_on_sensor(frame, look);
    const RangeShares range = beyond_range(light, c);
    say("%.1f %% of the picture clips (over %+.1f stops), %.1f %% is under the footroom (%+.1f)\n", 100 * range.clipped,
        c.headroom, 100 * range.lost, -c.footroom);
    if (!(c.mist.share > 0)) return;
    const MistEffect e = mist_effect(light_on_sensor(frame, look, true), light, c.mist);
    say("mist spreads %.1f %% of the light, half of that within %.1f degrees: the darkest twentieth of the picture\n"
        "rises by %.3g cd/m2, which alone is %.1f stops under grey\n",
        100 * c.mist.share, e.halo, e.lift, -std::log2(std::max(e.lift, 1e-9) / grey_luminance(c.exposure).value));
}

/// The files of a frame, as bytes.
std::vector<FileBytes> files_of(const LayeredFrame& traced, FrameLook& look, bool filtered,
                                const std::filesystem::path& png, const std::filesystem::path& exr, int threads) {
    // The layers are packed while the picture is denoised.
    auto layers = std::async(std::launch::async, [&] { return rushlight::exr(traced); });
    Effort effort;
    effort.threads = threads;
    if (filtered) look.correction = preview_correction(traced, effort);
    std::string picture = rushlight::png(frame_picture(traced, look));
    return {{exr, layers.get()}, {png, std::move(picture)}};
}

/// Seconds that filtering and writing will take after the trace: by a rehearsal, as machines differ, and what else they
/// have to do.
double seconds_to_finish(const Lit& l, const PictureSize& size, const Effort& effort, bool filtered) {
    constexpr int wide = 96, rehearsed_at_least = 4;
    if (!effort.until || size.width < rehearsed_at_least * wide) return 0;
    Effort glance;
    glance.seconds = 0.01;
    glance.threads = effort.threads;
    const int high = std::max(1, size.height * wide / size.width);
    const LayeredFrame small = trace_frame(l.setup, l.scene, wide, high, glance);
    FrameLook look;
    look.caption = false;
    // Once to be ready for it, once to see how long it takes.
    files_of(small, look, filtered, "", "", effort.threads);
    const Clock clock;
    files_of(small, look, filtered, "", "", effort.threads);
    const double larger = static_cast<double>(size.width) * size.height / (static_cast<double>(wide) * high);
    return std::min(clock.seconds() * larger, 0.7 * std::max(0.0, effort.left()));
}

void frame(const FrameOptions& o) {
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    Setup setup = o.file.choose(file);
    const PictureSize size = picture_size(o.width, camera_of(setup));
    const Guides guides = guides_of(o);
    Effort effort = o.effort.effort(0.1, o.effort.error.empty() ? 2.5 : 0, "frame");
    const std::filesystem::path png = picture_path(o.output, file_stem(o.file.file, file, setup));
    std::filesystem::path exr = png;
    exr.replace_extension(".exr");
    expect_output(exr);
    std::filesystem::path exposure = png;
    exposure.replace_filename(png.stem().string() + "-exposure.png");
    if (o.exposure) expect_output(exposure);
    Lit l = lit(as_measured(setup, effort), o.light);
    const Scene& scene = l.scene;
    expect_room_for(frame_bytes(size.width, size.height, scene.lights.count()), "this frame with its layers");

    std::vector<std::string> remarks = file.remarks();
    effort.reached = &something_reached();
    const LayeredFrame traced = trace_frame(l.setup, scene, size.width, size.height,
                                            paced(effort, seconds_to_finish(l, size, effort, !o.unfiltered)), l.light);
    remarks.insert(remarks.end(), traced.remarks.begin(), traced.remarks.end());
    add_advice(l.light, remarks);

    FrameLook look;
    look.caption = !o.plain;
    look.guides = guides;
    std::vector<FileBytes> files = files_of(traced, look, !o.unfiltered, png, exr, effort.threads);
    if (o.exposure)
        files.push_back({exposure, rushlight::png(exposure_picture(traced, look, exposure_marks(setup, scene, traced),
                                                                   exposure_keys(setup, traced)))});
    write_together(files);
    tell_remarks(remarks);
    if (o.exposure) say("%s\n", exposure.c_str());
    say("%s\n%s   (float, luminance as Y, a layer for each of: ", png.c_str(), exr.c_str());
    for (std::size_t i = 0; i < traced.sources.size(); ++i) say("%s%s", i > 0 ? ", " : "", traced.sources[i].c_str());
    say(")\n%llu paths a pixel in %.1f s, %s\n", static_cast<unsigned long long>(traced.paths_per_pixel),
        traced.seconds, noise_text(traced.noise, "pixel").c_str());
    tell_of_filters(traced, look);
}

}  // namespace

void add_frame(CLI::App& app) {
    auto o = std::make_shared<FrameOptions>();
    CLI::App* c = app.add_subcommand("frame", "what does the camera see?");
    c->footer(
        "Writes a PNG as the camera would show it (its lens, T-stop, ISO, white balance; 18 % grey under the metered\n"
        "light lands at middle grey, white is at the camera's headroom) and beside it an EXR in cd/m2 with the\n"
        "light of every source in a layer of its own, so you can change levels afterwards. Its colours are\n"
        "balanced for the camera's white, which shifts the luminance of other whites by a few per cent; its channel "
        "Y\n"
        "is the luminance in the place, cd/m2, as a spot meter reads it.\n\n"
        "Focus, T-stop, mist, polarizer and graduated ND of the camera are in the picture; the EXR has the light as "
        "it\n"
        "comes through lens and polarizer, before mist and graduated filter.\n\n"
        "  rushlight frame scenes/workshop.toml --setup \"1 wide\" --time 20s --exposure --guides 2.39,thirds\n"
        "  rushlight frame scenes/workshop.toml --setup \"4 close A\" --error 5% --width 1920");
    o->file.add_to(*c);
    o->effort.add_to(*c, "stop when the mean noise of a pixel is this low (default: 2.5 s of tracing)");
    o->light.add_to(*c);
    c->add_option("--width", o->width, "pixels across; the height follows the sensor")
        ->check(whole_number())
        ->check(CLI::Range(16, 16384))
        ->capture_default_str();
    c->add_option("-o,--output", o->output, "the PNG's name; the EXR goes beside it");
    c->add_option("--guides", o->guides, "draw frame lines: aspects and thirds, centre, safe, such as 2.39,thirds");
    c->add_flag("--exposure", o->exposure,
                "also write a picture in stops over grey, in false colour: skin, clipping, lost blacks");
    c->add_flag("--plain", o->plain, "no caption under the picture");
    c->add_flag("--unfiltered", o->unfiltered, "leave the noise in. By default the PNG is denoised; the EXR never is");
    c->callback([o] { frame(*o); });
}

}  // namespace rushlight::command
