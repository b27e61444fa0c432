#include "command/commands.h"
#include "command/options.h"
#include "pictures/frame_picture.h"
#include "pictures/image.h"
#include "pictures/write_file.h"
#include "results/frames.h"
#include "results/preview_filter.h"

#include <cstdio>
#include <filesystem>

namespace rushlight::command {

namespace {

struct FrameOptions {
    FileOptions file;
    EffortOptions effort;
    LightOptions light;
    int width = 960;
    std::string output;
    bool plain = false, unfiltered = false;
};

void frame(const FrameOptions& o) {
    const SetupFile file = SetupFile::read(o.file.file);
    const Setup setup = o.file.choose(file);
    const PictureSize size = picture_size(o.width, camera_of(setup));
    const Effort effort = o.effort.effort(0.1, o.effort.error.empty() ? 8 : 0, "frame");
    const std::filesystem::path png = picture_path(o.output, file_stem(o.file.file, setup));
    std::filesystem::path exr = png;
    exr.replace_extension(".exr");
    expect_writable(exr);
    Lit l = lit(setup, o.light);
    const Scene& scene = l.scene;
    expect_room_for(frame_bytes(size.width, size.height, scene.lights.count()), "this frame with its layers");

    std::vector<std::string> remarks = file.remarks();
    const LayeredFrame traced = trace_frame(l.setup, scene, size.width, size.height, effort, l.light);
    remarks.insert(remarks.end(), traced.remarks.begin(), traced.remarks.end());

    write_exr(exr, traced);
    FrameLook look;
    look.caption = !o.plain;
    if (!o.unfiltered) look.correction = preview_correction(traced);
    write_png(png, frame_picture(traced, look));
    tell_remarks(remarks);
    std::printf("%s\n%s   (float, a layer for each of: ", png.c_str(), exr.c_str());
    for (std::size_t i = 0; i < traced.sources.size(); ++i)
        std::printf("%s%s", i > 0 ? ", " : "", traced.sources[i].c_str());
    std::printf(")\n%llu paths a pixel in %.1f s, %s\n", static_cast<unsigned long long>(traced.paths_per_pixel),
                traced.seconds, noise_text(traced.noise, "pixel").c_str());
}

}  // namespace

void add_frame(CLI::App& app) {
    auto o = std::make_shared<FrameOptions>();
    CLI::App* c = app.add_subcommand("frame", "what does the camera see?");
    c->footer(
        "Writes a PNG as the camera would show it (its lens, T-stop, ISO, white balance; 18 % grey under the metered\n"
        "light lands at middle grey, white lies at the camera's headroom) and beside it an EXR in cd/m2 with the\n"
        "light of every source in a layer of its own, so that levels can be changed afterwards.\n\n"
        "  rushlight frame scenes/workshop.toml --setup \"1 wide\" --time 20s\n"
        "  rushlight frame scenes/workshop.toml --setup \"4 close A\" --error 5% --width 1920");
    o->file.add_to(*c);
    o->effort.add_to(*c, "go on until a pixel's noise is this low, as a mean over the picture (else 8 s)");
    o->light.add_to(*c);
    c->add_option("--width", o->width, "pixels across; the height follows the sensor")
        ->check(CLI::Range(16, 16384))
        ->capture_default_str();
    c->add_option("-o,--output", o->output, "the PNG's name; the EXR goes beside it");
    c->add_flag("--plain", o->plain, "no caption under the picture");
    c->add_flag("--unfiltered", o->unfiltered,
                "show the noise as it is. Else a filter for looking smooths bounced light in the PNG, and says so;\n"
                "the EXR is never filtered");
    c->callback([o] { frame(*o); });
}

}  // namespace rushlight::command
