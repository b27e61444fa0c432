#include "results/compare/comparison.h"

#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "pictures/frames/comparison_picture.h"
#include "pictures/tables/comparison_text.h"
#include "results/frame/frames.h"
#include "results/readings/readings.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cstdio>

namespace rushlight::command {

namespace {

constexpr std::size_t most_options = 12;

struct CompareOptions {
    std::string file, setup, against = as_found_name, output, frame_time = "1.5s";
    std::vector<std::string> options;
    EffortOptions effort;
    LightOptions light;
    int width = 640;
    bool json = false, unfiltered = false;
};

/// The one that others are held against comes first.
std::vector<std::string> chosen_options(const SetupFile& file, const std::string& setup, const CompareOptions& o) {
    std::vector<std::string> chosen{o.against};
    for (const std::string& name : o.options.empty() ? file.option_names(setup) : o.options)
        if (std::count(chosen.begin(), chosen.end(), name) == 0) chosen.push_back(name);
    if (chosen.size() > most_options)
        throw InputError(std::to_string(chosen.size()) + " options do not fit into one picture; choose up to " +
                         std::to_string(most_options) + " with --options");
    for (const std::string& name : chosen) file.setup(setup, name);  // an unknown one is answered before the work
    return chosen;
}

void compare(const CompareOptions& o) {
    const SetupFile file = SetupFile::read(o.file, until_interrupted());
    const std::string setup_name = o.setup.empty() ? file.setup_names().front() : o.setup;
    const Setup first = file.setup(setup_name, o.against);
    const std::vector<std::string> names = chosen_options(file, setup_name, o);
    const PictureSize size = picture_size(o.width, camera_of(first));
    const Effort effort = o.effort.effort(0.02, 0, "compare");
    const double frame_seconds = seconds(o.frame_time);
    Setup stem = first;
    stem.option = as_found_name;
    const std::filesystem::path png = picture_path(o.output, file_stem(o.file, file, stem) + "-options");

    Comparison c;
    c.title = first.title;
    c.setup = first.name;
    const Camera camera = camera_of(with(o.light.what_if, first));
    for (const std::string& name : names) {
        if (interrupted()) break;
        Lit l = lit(as_measured(file.setup(setup_name, name), effort), o.light);
        expect_room_for(frame_bytes(size.width, size.height, l.scene.lights.count()) * names.size(), "these frames");
        // One exposure for all: what an option does to the picture is to be seen.
        if (l.setup.camera >= 0)
            l.setup.rig.cameras[static_cast<std::size_t>(l.setup.camera)].exposure = camera.exposure;
        Compared one;
        // Where --time is for all of it, half goes into the readings, and half at most into the frame.
        const Effort reading = part_of(effort, 2 * c.options.size(), 2 * names.size());
        Effort looking = part_of(effort, 2 * c.options.size() + 1, 2 * names.size());
        looking.relative_error = 0;
        looking.seconds = effort.until ? std::min(frame_seconds, looking.seconds) : frame_seconds;
        one.sheet = take_readings(l.setup, l.scene, paced(reading), l.light);
        add_advice(l.light, one.sheet.remarks);
        one.frame = trace_frame(l.setup, l.scene, size.width, size.height, paced(looking), l.light);
        if (!c.options.empty()) {
            one.sheet.changes = changes(c.options.front().sheet, one.sheet);
            one.sheet.against = o.against;
        }
        for (const std::string& remark : one.sheet.remarks) c.remarks.push_back(name + ": " + remark);
        c.options.push_back(std::move(one));
        something_reached().store(true);
    }
    write_png(png, comparison_picture(c, !o.unfiltered));
    tell_remarks(file.remarks());
    hand_over(o.json ? json(c) : text(c));
    (o.json ? say_aside : say)("%s\n", png.c_str());
}

}  // namespace

void add_compare(CLI::App& app) {
    auto o = std::make_shared<CompareOptions>();
    CLI::App* c = app.add_subcommand("compare", "the options side by side, in pictures and in stops");
    c->footer(
        "One picture with a frame of every option at the same exposure, and under each what the meters say: cheeks,\n"
        "their ratio, how far the hair lifts off, placed meters. Differences count in stops from 'as found' (or\n"
        "--against), each with its error; a difference under three errors is marked as noise.\n\n"
        "  rushlight compare scenes/workshop.toml --setup \"4 close A\"\n"
        "  rushlight compare scenes/workshop.toml --setup \"4 close A\" --options \"white board\" \"sun out\"");
    c->add_option("FILE", o->file, "the set-up file")->required()->check([](const std::string& name) {
        return name.empty() ? std::string("expected the name of a set-up file") : std::string();
    });
    c->add_option("--setup", o->setup, "which set-up, by its name (default: the first)");
    c->add_option("--options", o->options, "which options (default: all)");
    c->add_option("--against", o->against, "what to compare the others with")->capture_default_str();
    o->effort.add_to(*c, "stop when every reading is this accurate (default: 2%)");
    o->light.add_to(*c);
    c->add_option("--frame-time", o->frame_time, "how long each frame is traced")->capture_default_str();
    c->add_option("--width", o->width, "pixels across of each frame")
        ->check(whole_number())
        ->check(CLI::Range(240, 4096))
        ->capture_default_str();
    c->add_flag("--unfiltered", o->unfiltered, "leave the noise in the frames");
    c->add_flag("--json", o->json, "JSON instead of the listing");
    c->add_option("-o,--output", o->output, "the PNG's name");
    c->callback([o] { compare(*o); });
}

}  // namespace rushlight::command
