#include "quantity/colour.h"
#include "setup/plain/face.h"
#include "setup/read/typed_file.h"

#include <cmath>

namespace rushlight {
namespace {

// Every key of every section but those of models, each with a value that is not its default.
Setup everything() {
    return SetupFile::read(std::string(RUSHLIGHT_SOURCE) + "/tests/setup/everything.toml").setup();
}

TEST(SetupFile, ReadsThePlace) {
    const auto s = everything();
    EXPECT_EQ(s.title, "all of it");
    EXPECT_EQ(s.name, "1");
    EXPECT_EQ(s.option, "as found");
    const Place& p = s.place;
    EXPECT_EQ(p.name, "annex");
    EXPECT_DOUBLE_EQ(p.latitude, -43.5);
    EXPECT_DOUBLE_EQ(p.longitude, 171.3);
    EXPECT_DOUBLE_EQ(p.near_wall_faces, 10);
    EXPECT_DOUBLE_EQ(p.ground_reflectance, 0.15);
    EXPECT_TRUE(p.has_room);
    EXPECT_DOUBLE_EQ(p.room.wall_thickness, 0.3048);
    EXPECT_NEAR(p.room.width, 12 * 0.3048, 1e-12);
    EXPECT_DOUBLE_EQ(p.room.height, 2.5);
    expect_near(p.upper, {3.6576F, 3.5F, 2.5F});
    const auto finish = [&](Wall w) { return p.room.finish[static_cast<std::size_t>(w)]; };
    EXPECT_NEAR(luminous(finish(Wall::near).reflectance), 0.4, 1e-5);
    EXPECT_NEAR(luminous(finish(Wall::far).reflectance), 0.45, 1e-5);
    EXPECT_FLOAT_EQ(finish(Wall::far).gloss, 0.04F);
    EXPECT_FLOAT_EQ(finish(Wall::far).roughness, 0.2F);
    EXPECT_NEAR(luminous(finish(Wall::left).reflectance), 0.1, 1e-5);
    EXPECT_GT(finish(Wall::left).gloss, 0);
    EXPECT_NEAR(luminous(finish(Wall::right).metal), 0.5, 1e-5);
    EXPECT_EQ(finish(Wall::floor).name, "dark carpet");
    EXPECT_EQ(finish(Wall::ceiling).name, "plaster");
    const Opening& window = named(p.room.openings, "window");
    EXPECT_EQ(window.wall, Wall::right);
    EXPECT_DOUBLE_EQ(window.from, 1);
    EXPECT_DOUBLE_EQ(window.to, 2);
    EXPECT_DOUBLE_EQ(window.sill, 0.9);
    EXPECT_DOUBLE_EQ(window.head, 6 * 0.3048);
    EXPECT_TRUE(window.glazed);
    EXPECT_DOUBLE_EQ(window.glass, 0.80);
    EXPECT_DOUBLE_EQ(window.bars, 0.15);
    EXPECT_DOUBLE_EQ(window.nd_density, 0.6);
    EXPECT_NEAR(luminous(window.curtain.value().through + window.curtain->straight), 0.5, 1e-6);
    EXPECT_FALSE(named(p.room.openings, "hatch").glazed);
    const Box& table = p.boxes.at(0);
    expect_near(table.centre, {1, 1.2192F, 0.725F});
    expect_near(table.size, {1, 0.8F, 0.05F});
    EXPECT_DOUBLE_EQ(table.turn, 30);
    EXPECT_EQ(table.finish.name, "light oak");
}

TEST(SetupFile, ReadsTheDay) {
    const Day d = everything().day;
    EXPECT_FALSE(d.dark);
    EXPECT_EQ(d.year, 2026);
    EXPECT_EQ(d.month, 6);
    EXPECT_EQ(d.day, 12);
    EXPECT_DOUBLE_EQ(d.clock_hours, 10.5);
    EXPECT_DOUBLE_EQ(d.utc_offset_hours, 12);  // standard time in the southern winter (zone database)
    EXPECT_EQ(d.sky.cie_type, 9);
    EXPECT_TRUE(d.sky.sun);
    EXPECT_DOUBLE_EQ(d.sky_horizontal_lux, 9000);
    EXPECT_DOUBLE_EQ(d.sun_normal_lux, 60000);
    EXPECT_DOUBLE_EQ(d.sky_kelvin, 12000);
    EXPECT_DOUBLE_EQ(d.sun_kelvin, 5200);
    EXPECT_LT(d.uniform_sky_luminance, 0);
    EXPECT_DOUBLE_EQ(first_of(small_room + "[day]\nsky_luminance = 2500\n").day.uniform_sky_luminance, 2500);
    EXPECT_TRUE(first_of(small_room + "[day]\ndark = true\n").day.dark);
}

// Offsets by law in the IANA database: +1 and +2 in Berlin, +5:30 in Kolkata.
TEST(SetupFile, KnowsTimeZones) {
    const auto offset = [](const std::string& date, const std::string& zone) {
        return first_of(small_room + "[day]\ndate = " + date + "\ntime_zone = \"" + zone + "\"\n").day.utc_offset_hours;
    };
    EXPECT_DOUBLE_EQ(offset("2026-01-15", "Europe/Berlin"), 1);
    EXPECT_DOUBLE_EQ(offset("\"2026-07-15\"", "Europe/Berlin"), 2);
    EXPECT_DOUBLE_EQ(offset("2026-07-15", "Asia/Kolkata"), 5.5);
    EXPECT_DOUBLE_EQ(offset("2026-07-15", "UTC-03:30"), -3.5);
    const SetupFile twice = SetupFile::from_text(
        small_room + "[day]\ndate = 2026-10-25\ntime = \"02:30\"\ntime_zone = \"Europe/Berlin\"\n", "f.toml");
    EXPECT_DOUBLE_EQ(twice.setup().day.utc_offset_hours, 2);
    EXPECT_EQ(twice.remarks().at(0), "f.toml:9:8: 02:30 comes twice on that day in Europe/Berlin; the first is taken");
}

TEST(SetupFile, ReadsMarks) {
    const Rig r = everything().rig;
    const Mark& a = named(r.marks, "A");
    expect_near(a.at, {1, 1, 0.2F});
    EXPECT_NEAR(a.facing, 45, 1e-5);
    EXPECT_NEAR(a.person.height, 68 * 0.0254, 1e-9);
    EXPECT_EQ(a.person.pose, Pose::seated);
    EXPECT_DOUBLE_EQ(a.person.seat, 0.5);
    EXPECT_DOUBLE_EQ(a.person.skin, 0.3);
    EXPECT_DOUBLE_EQ(a.person.hair, 0.5);
    EXPECT_DOUBLE_EQ(a.person.hair_warmth, 0);
    EXPECT_DOUBLE_EQ(a.person.wardrobe, 0.06);
    EXPECT_EQ(a.person.wardrobe_hue, "blue");
    EXPECT_DOUBLE_EQ(a.person.shirt.value_or(0), 0.6);
    EXPECT_EQ(a.person.shirt_hue, "cream");
    EXPECT_EQ(a.person.glasses, Rims::dark);
    EXPECT_EQ(a.person.lenses, Lenses::coated);
    EXPECT_NEAR(named(r.marks, "B").facing, -90, 1e-5);
    EXPECT_DOUBLE_EQ(named(r.marks, "B").person.hair, 0.12);
    EXPECT_EQ(a.person.cut, HairCut::loose);
    EXPECT_DOUBLE_EQ(a.person.wave, 0.6);
    EXPECT_EQ(named(r.marks, "B").person.cut, HairCut::shorter);
    EXPECT_DOUBLE_EQ(named(r.marks, "C").facing, 30);
    EXPECT_DOUBLE_EQ(named(r.marks, "C").head_turn, -25);
    EXPECT_DOUBLE_EQ(named(r.marks, "C").head_tilt, 5);
    EXPECT_LT(named(r.marks, "C").person.hair, 0);
}

TEST(SetupFile, ReadsLamps) {
    const Rig r = everything().rig;
    const Lamp& spot = named(r.lamps, "spot");
    EXPECT_EQ(spot.shape, LampShape::hard);
    expect_near(spot.at, {0.5F, 0.5F, 2});
    expect_near(spot.aim, {0, 1, 0});
    EXPECT_DOUBLE_EQ(spot.roll, 5);
    EXPECT_DOUBLE_EQ(spot.width, 0.03);
    EXPECT_DOUBLE_EQ(spot.beam, 20);
    EXPECT_DOUBLE_EQ(spot.field, 40);
    EXPECT_EQ(spot.output, Lamp::Output::candela);
    EXPECT_NEAR(photometric(spot.intensity_or_flux), 20000, 0.5);
    EXPECT_NEAR(colour_temperature(tristimulus(spot.intensity_or_flux)).cct.value, 3200, 40);
    EXPECT_DOUBLE_EQ(spot.level, 0.5);
    EXPECT_FALSE(spot.on);

    const Lamp& soft = named(r.lamps, "soft");
    EXPECT_EQ(soft.shape, LampShape::box);
    EXPECT_DOUBLE_EQ(soft.width, 0.6);
    EXPECT_DOUBLE_EQ(soft.height, 0.3);
    EXPECT_DOUBLE_EQ(soft.grid, 40);
    EXPECT_DOUBLE_EQ(soft.level, 0.25);
    expect_near(soft.aim, (face_of(named(r.marks, "A")) - soft.at).normalized());
    // Half orange shifts by 78 mired and takes 0.4 stop (common practice, no source), the ND one more.
    EXPECT_NEAR(photometric(soft.intensity_or_flux * soft.gel), 2000 * std::exp2(-1.4), 1);
    EXPECT_NEAR(1e6 / colour_temperature(tristimulus(soft.intensity_or_flux * soft.gel)).cct.value, 1e6 / 5600 + 78, 4);

    const Lamp& lantern = named(r.lamps, "lantern");
    EXPECT_EQ(lantern.shape, LampShape::ball);
    expect_near(lantern.aim, {0, 0, -1});
    EXPECT_DOUBLE_EQ(lantern.level, 0.3);
    EXPECT_NEAR(photometric(lantern.intensity_or_flux), 4 * pi * 100, 0.1);  // even all round, I = E d^2

    const Lamp& line = named(r.lamps, "line");
    EXPECT_EQ(line.shape, LampShape::tube);
    EXPECT_DOUBLE_EQ(line.width, 1.2192);
    EXPECT_DOUBLE_EQ(line.height, 0.04);
    EXPECT_DOUBLE_EQ(line.level, 1);
    EXPECT_TRUE(line.on);
}

TEST(SetupFile, ReadsPanels) {
    const Rig r = everything().rig;
    const Panel& bounce = named(r.panels, "bounce");
    EXPECT_EQ(bounce.kind, PanelKind::board);
    expect_near(bounce.at, {1, 2, 1.5F});
    EXPECT_DOUBLE_EQ(bounce.roll, 10);
    EXPECT_DOUBLE_EQ(bounce.width, 1.2192);
    EXPECT_DOUBLE_EQ(bounce.height, 1.2192);
    EXPECT_FALSE(bounce.finish.metal.dark());
    const Panel& cutter = named(r.panels, "cutter");
    EXPECT_EQ(cutter.kind, PanelKind::flag);
    expect_near(cutter.facing, {0, -1, 0});
    EXPECT_EQ(cutter.finish.name, "black cloth");
    EXPECT_DOUBLE_EQ(cutter.width, 0.6);
    EXPECT_DOUBLE_EQ(cutter.height, 0.9);
    EXPECT_NEAR(luminous(named(r.panels, "frame").finish.through), std::exp2(-1.5), 1e-5);
    EXPECT_NEAR(luminous(named(r.panels, "own frame").finish.through), 0.4, 1e-5);
    EXPECT_NEAR(luminous(named(r.panels, "own frame").finish.straight), 0.1, 1e-5);
    EXPECT_NEAR(luminous(named(r.panels, "single").finish.straight), 0.5, 1e-5);
    EXPECT_NEAR(luminous(named(r.panels, "thin").finish.straight), std::exp2(-0.25), 1e-5);
}

TEST(SetupFile, ReadsCamerasAndMeters) {
    const auto s = everything();
    ASSERT_EQ(s.rig.cameras.size(), 4U);
    EXPECT_EQ(s.camera, 1);
    const Camera& c = s.rig.cameras[0];
    expect_near(c.at, {3, 1, 1.2F});
    expect_near(c.look_at, face_of(named(s.rig.marks, "A")));
    EXPECT_DOUBLE_EQ(c.roll, 2);
    EXPECT_DOUBLE_EQ(c.lens, 50);
    EXPECT_DOUBLE_EQ(c.sensor_width, 23.5);
    EXPECT_DOUBLE_EQ(c.sensor_height, 13.2);
    EXPECT_DOUBLE_EQ(c.exposure.t_stop, 4);
    EXPECT_DOUBLE_EQ(c.exposure.shutter_angle, 172.8);
    EXPECT_DOUBLE_EQ(c.exposure.frames_per_second, 25);
    EXPECT_DOUBLE_EQ(c.exposure.iso, 640);
    EXPECT_DOUBLE_EQ(c.exposure.nd_density, 0.3);
    EXPECT_DOUBLE_EQ(c.white_balance, 4300);
    EXPECT_DOUBLE_EQ(c.headroom, 5.5);
    EXPECT_DOUBLE_EQ(c.footroom, 4);
    EXPECT_DOUBLE_EQ(c.lens_passes, 0.8);
    EXPECT_DOUBLE_EQ(c.focus, 1.5);
    EXPECT_DOUBLE_EQ(c.tint, 0.004);
    EXPECT_DOUBLE_EQ(c.mist.share, 0.03);
    EXPECT_DOUBLE_EQ(c.mist.core, 1);
    EXPECT_DOUBLE_EQ(c.mist.skirt, 9);
    EXPECT_DOUBLE_EQ(c.polarizer.value_or(0), 15);
    EXPECT_DOUBLE_EQ(c.exposure.filter_stops, 2);
    EXPECT_DOUBLE_EQ(c.graduated.density, 0.3);
    EXPECT_DOUBLE_EQ(c.graduated.edge, 0.7);
    EXPECT_DOUBLE_EQ(c.graduated.blend, 0.1);
    EXPECT_DOUBLE_EQ(c.graduated.turn, 10);
    EXPECT_EQ(s.rig.cameras[2].of, "A");
    EXPECT_NEAR(s.rig.cameras[2].at.z, 1.4, 1e-5);
    EXPECT_EQ(s.rig.cameras[3].of, "B");
    const Camera plain;
    EXPECT_DOUBLE_EQ(s.rig.cameras[1].sensor_width, plain.sensor_width);
    EXPECT_DOUBLE_EQ(s.rig.cameras[1].lens, plain.lens);
    const Meter& dome = named(s.rig.meters, "dome");
    EXPECT_EQ(dome.receptor, Receptor::dome);
    EXPECT_EQ(dome.mark, "A");
    expect_near(dome.facing, (c.at - dome.at).normalized());
    expect_near(named(s.rig.meters, "down").facing, {0, 0, -1});
    expect_near(named(s.rig.meters, "at B").facing, {0, 1, 0});
}

// Seated eyes of 1.72 and 1.66 m on a seat of 0.46 m at 1.22 and 1.18 m (ergonomics tables, from memory); standing ones
// of a woman of 1.655 m without shoes at 1.540 m (the median table of tests/scene/figure/stand_in_test.cpp).
TEST(Face, EyeHeights) {
    StandIn who;
    who.pose = Pose::seated;
    who.seat = 0.46;
    who.height = 1.72;
    EXPECT_NEAR(eye_height(who), 1.22, 0.02);
    who.height = 1.66;
    EXPECT_NEAR(eye_height(who), 1.18, 0.02);
    who.pose = Pose::standing;
    who.height = 1.655 + shoe_sole;
    EXPECT_NEAR(eye_height(who), 1.540 + shoe_sole, 0.01);
}

TEST(SetupFile, WithoutSetupsThereIsOne) {
    const SetupFile f = SetupFile::from_text(small_room + "[day]\ndark = true\n", "f.toml");
    EXPECT_EQ(f.setup_names(), std::vector<std::string>{"as found"});
    EXPECT_EQ(f.setup().camera, -1);
    EXPECT_TRUE(f.remarks().empty());
}

TEST(SetupFile, SaysWhatItGuessed) {
    const SetupFile f = SetupFile::from_text("[place]\nroom = { width = 5, depth = 4, height = 2.7 }\n", "f.toml");
    EXPECT_EQ(f.remarks(), (std::vector<std::string>{
                               "f.toml:1:1: walls: no finish given; a reflectance of 0.5 is assumed",
                               "f.toml:1:1: floor: no finish given; a reflectance of 0.2 is assumed",
                               "f.toml:1:1: ceiling: no finish given; a reflectance of 0.7 is assumed",
                               "f.toml: no [day] given; midsummer noon under a clear sky is assumed",
                               "f.toml: no time_zone given; UTC+0 is assumed from the longitude",
                               "f.toml:1:1: latitude and longitude are not given; 50 and 0 degrees are assumed"}));
}

TEST(SetupFile, ReadsModels) {
    const std::string beside = std::string(RUSHLIGHT_SOURCE) + "/tests/setup/broken/f.toml";
    const SetupFile f = SetupFile::from_text(
        "[place.model]\nfile = \"box.obj\"\nunit = \"ft\"\nmove = [1, 0, 0]\notherwise = 0.4\n"
        "surfaces = { \"Grey\" = { opening = true, glass = 0.7, bars = 0.1, nd = 0.3, curtain = 0.9 } }\n"
        "[[place.furniture]]\nname = \"cube\"\nobj = \"box.obj\"\nat = [2, 1]\nfrom_floor = 0.5\nunit = \"cm\"\n"
        "up = \"y\"\nturn = 90\nfinish = 0.2\nsurfaces = { \"Grey\" = \"dark oak\" }\n[day]\ndark = true\n",
        beside);
    const auto s = f.setup();
    EXPECT_FALSE(s.place.has_room);
    expect_near(s.place.lower, {1, 0, 0});
    expect_near(s.place.upper, {1.3048F, 0.3048F, 0.3048F});
    ASSERT_EQ(s.place.model_openings.size(), 1U);
    EXPECT_EQ(s.place.model_openings[0].triangles.size(), 12U);
    EXPECT_DOUBLE_EQ(s.place.model_openings[0].glass, 0.7);
    EXPECT_NEAR(luminous(s.place.model_openings[0].curtain.value().through), 0.72, 1e-6);
    ASSERT_EQ(s.place.models.size(), 2U);
    EXPECT_TRUE(s.place.models[0].name.empty()) << "the place itself";
    EXPECT_EQ(s.place.models[1].name, "cube");
    expect_near(s.place.models[1].at, {2, 1, 0.5F});
    EXPECT_DOUBLE_EQ(s.place.models[1].turn, 90);
    const Triangles& cube = *s.place.models[1].triangles;
    EXPECT_EQ(cube.faces.size(), 12U);
    EXPECT_EQ(cube.finishes.at(cube.faces[0].finish).reflectance, named_finish("dark oak")->reflectance);
    for (const Vec3& p : cube.positions) {
        EXPECT_NEAR(p.x, 2, 0.0101);
        EXPECT_NEAR(p.z, 0.505, 0.00501);
    }
}

TEST(Scenes, AreSound) {
    for (const char* name : {"workshop.toml", "workshop-rough.toml", "kitchen-night.toml"}) {
        const SetupFile f = SetupFile::read(std::string(RUSHLIGHT_SOURCE) + "/scenes/" + name);
        EXPECT_NE(f.title().find("invented"), std::string::npos) << name;
        EXPECT_TRUE(f.remarks().empty()) << name << ": " << f.remarks()[0];
        for (const std::string& s : f.setup_names())
            for (const std::string& o : f.option_names(s)) EXPECT_GE(f.setup(s, o).camera, 0);
    }
}

}  // namespace
}  // namespace rushlight
