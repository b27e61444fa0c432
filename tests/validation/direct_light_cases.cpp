// One source, no bounce: inverse square, polygons, rectangles, discs, spheres, tubes, and how far a source must stand
// to count as a point.
#include "references/references.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

const std::string section = "Direct light";

Scene scene_of(const Lamp& l) {
    Scene s;
    add_lamp(s, l);
    finish(s);
    return s;
}

void inverse_square(Cases& all) {
    const std::string source = "E = I cos θ / d², IES Lighting Handbook; CIE 171:2006 case 5.2";
    const Run run = run_of(
        [] {
            Lamp l = lamp(LampShape::hard, {0, 0, 2}, {0, 0, -1}, 0.002, 0.002, 1000);
            l.output = Lamp::Output::candela;
            l.beam = 178;  // nearly even, so that the intensity off the aim is known
            l.field = 179.9;
            return scene_of(l);
        },
        {flat({0, 0, 0}, {0, 0, 1}), flat({1.1547005F, 0, 0}, {0, 0, 1}), flat({1.5F, 0, 0}, {0, 0, 1})}, 1e-4);
    const double tolerance = 5e-4;
    all.push_back({"1.1-1", section, "1000 cd, 2 m, square on", source, 250.00, "lx", tolerance, reading(run, 0)});
    all.push_back(
        {"1.1-2", section, "the same, 30° off, level surface", source, 162.380, "lx", tolerance, reading(run, 1)});
    all.push_back({"1.1-3", section, "the same, 1.5 m to the side", source, 128.00, "lx", tolerance, reading(run, 2)});
    const Run ball = run_of(
        [] {
            return scene_of(lamp(LampShape::ball, {0, 0, 2}, {0, 0, -1}, 0.02, 0.02, 4 * pi * 1000));
        },
        {flat({0, 0, 0}, {0, 0, 1})}, 1e-4);
    all.push_back({"1.1-4", section, "ball of 4π · 1000 lm is 1000 cd all round", "I = Φ / 4π, definition", 250.00,
                   "lx", tolerance, reading(ball, 0)});
}

void polygons(Cases& all) {
    const std::string source = "Lambert's polygon formula, Photometria 1760; CIE 171:2006 case 5.3";
    const std::array<MeterPoint, 3> at{flat({0, 2, 0}, {0, 0, 1}), flat({0, 2, 0.9F}, {0, -1, 0}),
                                       flat({1.0F, 1.5F, 0.3F}, {0, -0.8F, 0.6F})};
    const std::array<const char*, 3> where{"desk", "facing the window", "tilted face, off axis"};
    const std::array<double, 3> want{457.818, 1561.917, 1225.788};
    const std::vector<Point> window{{-.6, 0, .15}, {.6, 0, .15}, {.6, 0, 1.65}, {-.6, 0, 1.65}};
    for (const float scale : {1.0F, 10.0F}) {
        std::vector<MeterPoint> meters(at.begin(), at.end());
        for (MeterPoint& m : meters) m.at *= scale;
        const Run run = run_of(
            [scale] {
                const double area = 1.2 * 1.5 * scale * scale;
                return scene_of(lamp(LampShape::box, Vec3(0, 0, 0.9F) * scale, {0, 1, 0}, 1.2 * scale, 1.5 * scale,
                                     pi * 4000 * area));
            },
            meters, 0.001);
        for (std::size_t i = 0; i < 3; ++i) {
            const Point normal(at[i].facing.x, at[i].facing.y, at[i].facing.z);
            const Point place(at[i].at.x, at[i].at.y, at[i].at.z);
            const double exact = polygon_illuminance(4000, window, place, normal);
            if (std::abs(exact / want[i] - 1) > 1e-5) throw std::logic_error("the polygon formula is broken");
            const std::string times = scale > 1 ? ", everything ten times as large" : "";
            all.push_back({"1.2-" + std::to_string(i + (scale > 1 ? 4 : 1)), section,
                           std::string("window 1.2 × 1.5 m, 4000 cd/m², ") + where[i] + times, source, want[i], "lx",
                           0.005, reading(run, i)});
        }
    }
}

void rectangles(Cases& all) {
    const std::string source = "element to parallel rectangle, view-factor catalogues; IES Handbook";
    const Rectangle r = rectangle({0, 0, 1.5F}, {0, 0, -1}, 0.8, 0.6);
    const Run run = run_of(
        [] {
            return scene_of(lamp(LampShape::box, {0, 0, 1.5F}, {0, 0, -1}, 0.8, 0.6, pi * 8000 * 0.48));
        },
        {flat({0, 0, 0}, {0, 0, 1}), flat(r.across * 0.4F + r.up * 0.3F, {0, 0, 1}), flat(r.across * 1.2F, {0, 0, 1})},
        0.001);
    const std::array<const char*, 3> where{"under its middle", "under a corner", "1.2 m off along the long side"};
    const std::array<double, 3> want{1589.523, 1321.716, 647.287};
    for (std::size_t i = 0; i < 3; ++i)
        all.push_back({"1.3-" + std::to_string(i + 1), section,
                       std::string("soft box .8 × .6 m, 8000 cd/m², 1.5 m up, ") + where[i], source, want[i], "lx",
                       0.005, reading(run, i)});
}

/// A round hole of radius .5 m in a black ceiling under an even sky of 8000 cd/m2.
Scene under_a_disc(float height) {
    Scene s;
    const float side = 10;
    auto openings = add_room(s, {side, side, height + 1e-4F}, {hole(Wall::ceiling, 4.49, 5.51, 4.49, 5.51)});
    add(s, round_mask({5, 5, height}, 0.5));
    s.lights.add("sky", SkyLight(by_hand::outside(8000, 0), openings));
    finish(s);
    return s;
}

void discs_spheres_tubes(Cases& all) {
    const std::array<double, 5> off{0, .5, 1, 2, 4}, want{1478.397, 1326.667, 984.759, 398.639, 63.941};
    std::vector<MeterPoint> meters;
    for (const double d : off) meters.push_back(flat({static_cast<float>(5 + d), 5, 0.5F}, {0, 0, 1}));
    const Run disc_run = run_of([] { return under_a_disc(2.5F); }, meters, 0.0015);
    for (std::size_t i = 0; i < off.size(); ++i)
        all.push_back({"1.4-" + std::to_string(i + 1), section,
                       "disc of 1 m, 8000 cd/m², 2 m up, " + std::to_string(off[i]).substr(0, 3) + " m off its axis",
                       "element to parallel disc, view-factor catalogues", want[i], "lx", 0.005, reading(disc_run, i)});
    const Run ball = run_of(
        [] {
            return scene_of(lamp(LampShape::ball, {0, 0, 2}, {0, 0, -1}, 0.3, 0.3, 17765.29));
        },
        {flat({0, 0, 0}, {0, 0, 1}), flat({0, 0, 0}, {0, std::sqrt(0.75F), 0.5F})}, 0.001);
    const std::string sphere = "E = π L (R/d)² cos θ, view-factor catalogues";
    all.push_back({"1.4-6", section, "sphere R .15 m, 20 000 cd/m² (17 765.29 lm), 2 m off", sphere, 353.429, "lx",
                   0.005, reading(ball, 0)});
    all.push_back({"1.4-7", section, "the same, receiver tilted 60°", sphere, 176.715, "lx", 0.005, reading(ball, 1)});
    // The lamp's prism of 32 sides is up to .32 % narrower across its flats; the girth brings its front nearer than
    // the axis, which the thin-line formula (306.258 at 1 m) does not know: the sum over the cylinder does.
    for (const double d : {1.0, 4.0}) {
        const Run tube = run_of(
            [d] {
                return scene_of(lamp(LampShape::tube, {0, 0, static_cast<float>(d)}, {0, 0, -1}, 1.2, 0.026,
                                     12000 * pi * pi * 1.2 * 0.026));
            },
            {flat({0, 0, 0}, {0, 0, 1})}, 0.001);
        all.push_back({d < 2 ? "1.4-8" : "1.4-9", section,
                       "tube 1.2 m × 26 mm, 12 000 cd/m², " + std::string(d < 2 ? "1" : "4") +
                           " m from its axis (the lamp is a prism of 32 sides, .32 % narrower across its flats)",
                       "definition of illuminance, summed over the cylinder", cylinder(12000, 1.2, 0.026, d), "lx",
                       0.005, reading(tube, 0)});
    }
    const double a = std::atan(0.6 / 4);
    const Run far_tube = run_of(
        [] {
            return scene_of(lamp(LampShape::tube, {0, 0, 4}, {0, 0, -1}, 1.2, 0.026, 12000 * pi * pi * 1.2 * 0.026));
        },
        {flat({0, 0, 0}, {0, 0, 1})}, 0.001);
    all.push_back({"1.4-10", section, "the tube at 4 m against the thin-line formula",
                   "E = (L D / d)(a + sin a cos a), a = atan(l / 2d), handbook",
                   12000 * 0.026 / 4 * (a + std::sin(a) * std::cos(a)), "lx", 0.006, reading(far_tube, 0)});
}

void five_times_rule(Cases& all) {
    const std::string source =
        "IES Handbook, \"five times the largest dimension\" (from memory); the share in closed form";
    const std::array<int, 4> times{1, 2, 5, 10};
    struct Shape {
        const char* what;
        double width, height, largest;
        std::array<double, 4> share;
    };
    const std::array<Shape, 3> shapes{{{"disc, by diameters", 0, 0, 1, {.8000, .9412, .9901, .9975}},
                                       {"square, by sides", 0.5, 0.5, 0.5, {.7523, .9233, .9869, .9967}},
                                       {"4:1 strip, by long sides", 1, 0.25, 1, {.8553, .9581, .9930, .9982}}}};
    int number = 0;
    for (const Shape& shape : shapes) {
        const bool round = shape.width == 0;
        const double l = 8000, area = round ? pi * 0.25 : shape.width * shape.height;
        std::vector<MeterPoint> meters;
        for (const int n : times)
            meters.push_back(
                flat(Vec3(round ? 5 : 0, round ? 5 : 0, static_cast<float>(10.5 - n * shape.largest)), {0, 0, 1}));
        const Run run = run_of(
            [=] {
                if (round) return under_a_disc(10.5F);
                return scene_of(
                    lamp(LampShape::box, {0, 0, 10.5F}, {0, 0, -1}, shape.width, shape.height, pi * l * area));
            },
            meters, 0.0009);
        for (std::size_t i = 0; i < times.size(); ++i) {
            const double d = times[i] * shape.largest;
            all.push_back({"1.9-" + std::to_string(++number), section,
                           "share of the point-source value at " + std::to_string(times[i]) + " ×, " + shape.what,
                           source, shape.share[i], "", 0.003, reading(run, i, d * d / (l * area))});
        }
    }
}

}  // namespace

Cases direct_light_cases() {
    Cases all;
    inverse_square(all);
    polygons(all);
    rectangles(all);
    discs_spheres_tubes(all);
    five_times_rule(all);
    return all;
}

}  // namespace rushlight::validation
