#include "results/compare/origins.h"

#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "pictures/files/write_file.h"
#include "pictures/frames/sphere_picture.h"
#include "pictures/tables/origins_text.h"
#include "results/compare/best_place.h"
#include "results/network/network.h"
#include "results/readings/readings.h"
#include "setup/text/typed_values.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <cstdio>

namespace rushlight::command {

namespace {

struct OriginsOptions {
    FileOptions file;
    EffortOptions effort;
    LightOptions light;
    std::string point, output, reach = "1";
    std::vector<std::string> black, white;
    bool json = false;
};

double metres(const std::string& text, const char* what) {
    auto m = length_from(text);
    if (!m) m = length_from(text + "m");
    if (!m || !(*m >= 0.05 && *m <= 20))
        throw InputError(in_quotes(text) + " is not " + what + " between 0.05 and 20 m, such as 1.2, 120cm or 4ft");
    return *m;
}

PanelWish wish(const std::string& text, bool black, double reach) {
    const std::size_t by = text.find('x');
    PanelWish w;
    w.black = black;
    w.reach = reach;
    w.width = metres(text.substr(0, by), "a width");
    w.height = by == std::string::npos ? w.width : metres(text.substr(by + 1), "a height");
    return w;
}

void origins(const OriginsOptions& o) {
    const Clock clock;
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    const Setup setup = o.file.choose(file);
    const double reach = metres(o.reach, "a reach");
    std::vector<PanelWish> wishes;
    for (const std::string& size : o.black) wishes.push_back(wish(size, true, reach));
    for (const std::string& size : o.white) wishes.push_back(wish(size, false, reach));
    const Effort whole = o.effort.effort(0.01, 0, "origins");
    const std::size_t parts = 2 + wishes.size();
    Effort effort = part_of(whole, 0, parts);
    const std::filesystem::path png = picture_path(
        o.output, file_stem(o.file.file, file, setup) + "-" + file_stem(o.point, "", as_found_name) + "-origins");

    Lit l = lit(as_measured(setup, effort), o.light);
    const NamedMeter meter = meter_named(o.point, l.setup, l.scene);
    effort = paced(effort);
    Origins found = find_origins(l.setup, l.scene, meter.name, meter.point, effort, l.light);
    add_advice(l.light, found.remarks);
    something_reached().store(true);
    const LastSurfaces surfaces = last_surfaces(l.scene, l.setup);
    Effort looking = paced(part_of(whole, 1, parts));
    looking.relative_error = has_network() ? 0.3 : 0.12;  // what is smoothed may be rougher
    looking.seconds = 0;
    looking.most_seconds = effort.seconds > 0 ? effort.seconds : 60;
    constexpr int side = 200;
    const Sphere sphere = look_around(l.scene, meter.point, surfaces, side, looking, l.light);
    std::vector<BestPlace> places;
    for (const PanelWish& w : wishes) {
        if (interrupted()) break;
        const Effort trying = paced(part_of(whole, 2 + places.size(), parts));
        const auto best = best_place(l.setup, l.scene, found, sphere, w, trying, l.light);
        if (best)
            places.push_back(*best);
        else
            found.remarks.push_back(
                std::string("There is no place for the ") + (w.black ? "black" : "white board") + " of " +
                plain(w.width) + " by " + plain(w.height) + " m within " + plain(w.reach) +
                " m that is inside the room, clear of everything, out of frame and not blocking a lamp.");
    }
    found.seconds = clock.seconds();
    write_png(png, sphere_picture(found, sphere, surfaces, places));
    tell_remarks(file.remarks());
    hand_over(o.json ? json(found, places) : text(found, places));
    (o.json ? say_aside : say)("%s\n", png.c_str());
}

}  // namespace

void add_origins(CLI::App& app) {
    auto o = std::make_shared<OriginsOptions>();
    CLI::App* c = app.add_subcommand("origins", "what lights this cheek, and what would a black cloth here take off?");
    c->footer(
        "MARK is a mark's name for the front of its face, or the name of any reading: \"A near cheek\", \"A dome to\n"
        "lens\", a meter by hand. Says what lights that point, by source and by the surface that the light left last,\n"
        "and draws the sphere of light that the point sees.\n\n"
        "With --black or --white it finds the spot within --reach where a panel of that size takes or gives "
        "most:\n"
        "inside the room, clear of everything, out of frame, not blocking a lamp. Its effect is estimated from the "
        "sphere\n"
        "(solid angle times luminance, less the panel's own few per cent), then traced with the panel put in.\n\n"
        "  rushlight origins scenes/workshop.toml \"A near cheek\" --setup \"4 close A\"\n"
        "  rushlight origins scenes/workshop.toml \"A near cheek\" --setup \"4 close A\" --black 1.2x2.4 --reach 1");
    o->file.add_to(*c);
    c->add_option("MARK", o->point, "a mark, or a reading by its name")->required();
    o->effort.add_to(*c, "stop when the reading is this accurate (default: 1%)");
    o->light.add_to(*c);
    c->add_option("--black", o->black, "best place for a black cloth of this size: 1.2x2.4, 4ftx8ft")
        ->allow_extra_args(false);
    c->add_option("--white", o->white, "best place for a white board of this size")->allow_extra_args(false);
    c->add_option("--reach", o->reach, "how far from the point its middle may be, m")->capture_default_str();
    c->add_flag("--json", o->json, "JSON instead of the listing");
    c->add_option("-o,--output", o->output, "the PNG's name");
    c->callback([o] { origins(*o); });
}

}  // namespace rushlight::command
