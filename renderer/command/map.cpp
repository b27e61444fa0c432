#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "paths/field.h"
#include "pictures/draw/image.h"
#include "pictures/maps/map_picture.h"
#include "results/frame/maps.h"
#include "setup/text/typed_values.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>

namespace rushlight::command {

namespace {

struct MapOptions {
    FileOptions file;
    EffortOptions effort;
    LightOptions light;
    int width = 960;
    std::string plane, unit = "stops", output;
};

Metre height(const std::string& text, const Place& place) {
    auto metres = length_from(text);
    if (!metres) metres = length_from(text + "m");  // a bare number is metres, as in a set-up file
    if (!metres) throw InputError(in_quotes(text) + " is not a height such as 1.2, 120cm or 4ft");
    // A room has a floor and a ceiling; a rough model may end anywhere, and takes what any point may have.
    constexpr double farthest = 1000;
    const double floor = place.has_room ? static_cast<double>(place.lower.z) : -farthest;
    const double ceiling = place.has_room ? static_cast<double>(place.upper.z) : farthest;
    constexpr double rounding = 1e-4;
    if (!(*metres >= floor - rounding && *metres <= ceiling + rounding))
        throw InputError("a plane at " + plain(*metres) + " m lies outside " +
                         in_quotes(place.name.empty() ? "the place" : place.name) + ", which goes from " +
                         plain(floor) + " to " + plain(ceiling) + " m");
    // A meter is held clear of the floor and the ceiling.
    constexpr double clear = 0.001;
    return Metre{std::clamp(*metres, floor + clear, std::max(floor + clear, ceiling - clear))};
}

void map(const MapOptions& o) {
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    Setup setup = o.file.choose(file);
    Effort effort = o.effort.effort(0.1, o.effort.error.empty() ? 2 : 0, "map");
    const std::filesystem::path png =
        picture_path(o.output, file_stem(o.file.file, file, setup) + (o.plane.empty() ? "-map" : "-plan-map"));
    PictureSize size;
    Metre level{};
    if (o.plane.empty()) {
        size = picture_size(o.width, camera_of(setup));
        // A small map is enlarged, to at most this, so that its numbers have room.
        constexpr int enlarged = 1440;
        picture_size(std::max(o.width, enlarged), camera_of(setup));
    } else {
        level = height(o.plane, setup.place);
    }
    Lit l = lit(as_measured(setup, effort), o.light);
    const Scene& scene = l.scene;
    LightMap traced;
    constexpr double a_pixel = 1e-6;  // s to draw and to write
    const double pixels = static_cast<double>(o.width) * o.width;
    effort.reached = &something_reached();
    effort = paced(effort, a_pixel * pixels);
    if (o.plane.empty()) {
        const std::size_t points = static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height);
        expect_room_for(field_bytes(points, scene.lights.count(), l.light.holds_layers(points, scene.lights.count())),
                        "this map");
        traced = map_view(l.setup, scene, size.width, size.height, effort, l.light);
    } else {
        // A plan needs fewer points than pixels: its colours change slowly, and each point is a meter.
        traced = map_plane(l.setup, scene, level, std::max(16, o.width / 3), effort, l.light);
    }
    write_png(png, map_picture(traced, o.unit == "lux" ? MapUnit::lux : MapUnit::stops));
    std::vector<std::string> remarks = file.remarks();
    remarks.insert(remarks.end(), traced.remarks.begin(), traced.remarks.end());
    add_advice(l.light, remarks);
    tell_remarks(remarks);
    say("%s\n%.1f s, %s\n", png.c_str(), traced.seconds, noise_text(traced.noise, "point").c_str());
}

}  // namespace

void add_map(CLI::App& app) {
    auto o = std::make_shared<MapOptions>();
    CLI::App* c = app.add_subcommand("map", "how does the light fall, in lux or in stops?");
    c->footer(
        "Puts a flat meter on every surface that the camera sees, or level at every point of a plane above\n"
        "the floor, and draws the illuminance over the picture in false colour, with numbers and a legend.\n"
        "Stops count from the light this camera's T-stop, ISO, shutter and ND ask for (flat receptor, C = 250).\n\n"
        "  rushlight map scenes/workshop.toml --setup \"1 wide\"\n"
        "  rushlight map scenes/workshop.toml --plane 1.2 --unit lux\n"
        "  rushlight map scenes/workshop.toml --plane \"4ft\"");
    o->file.add_to(*c);
    o->effort.add_to(*c, "stop when the mean noise of a point is this low (default: 2 s of tracing)");
    o->light.add_to(*c);
    c->add_option("--plane", o->plane, "a level plane at this height above the floor: 1.2, 120cm, 4ft");
    c->add_option("--unit", o->unit, "lux or stops")->check(CLI::IsMember({"lux", "stops"}))->capture_default_str();
    c->add_option("--width", o->width, "pixels across")
        ->check(whole_number())
        ->check(CLI::Range(48, 8192))
        ->capture_default_str();
    c->add_option("-o,--output", o->output, "the PNG's name");
    c->callback([o] { map(*o); });
}

}  // namespace rushlight::command
