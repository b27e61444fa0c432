// What stands in the light: edges, cloths, mirrors.
#include "references/references.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

void soft_box_penumbra(Cases& all) {
    const std::string section = "Penumbra";
    const auto scene = [] {
        Scene s;
        add_lamp(s, lamp(LampShape::box, {0, 0, 3}, {0, 0, -1}, 0.6, 0.6, pi * 8000 * 0.36));
        add(s, rectangle_mesh(rectangle({-5, 0, 1}, {0, 0, 1}, 10, 10), matt(0)));  // a flag over all of x < 0
        finish(s);
        return s;
    };
    const std::array<int, 5> sixths{-2, -1, 0, 1, 2};
    const std::array<double, 5> share{.1636, .3309, .5000, .6691, .8364};
    const std::array<const char*, 5> at{"1/3 in the shade", "1/6 in the shade", "under the edge", "1/6 in the light",
                                        "1/3 in the light"};
    for (std::size_t i = 0; i < sixths.size(); ++i) {
        const double x = 0.05 * sixths[i];
        const double whole = parallel_rectangle(8000, -0.3 - x, 0.3 - x, -0.3, 0.3, 3);
        const bool middle = sixths[i] == 0;
        const Run run =
            run_of(scene, {flat({static_cast<float>(x), 0, 0}, {0, 0, 1})}, (middle ? 0.0016 : 0.0031) / share[i]);
        all.push_back({"1.13-" + std::to_string(i + 1), section,
                       std::string("soft box .6 m, edge 2 m under it, 1 m over the floor: share of the bare lamp, ") +
                           at[i] + " of the width",
                       "w = s b / a, similar triangles; the lit part of the lamp in closed form", share[i], "", 0,
                       reading(run, 0, 1 / whole), middle ? 0.005 : 0.01});  // of the bare lamp
    }
}

void sun_penumbra(Cases& all) {
    const double width = 2 * 3 * std::tan(radians(Degree{sun_angular_diameter / 2}));
    const std::array<double, 5> across{-0.6, -0.3, 0, 0.3, 0.6};
    std::vector<MeterPoint> meters;
    for (const double a : across) meters.push_back(flat({static_cast<float>(1.5 + a * width / 2), 2, 0.5F}, {0, 0, 1}));
    const Run run = run_of(
        [] {
            Scene s;
            const auto openings = add_room(s, {4, 4, 3.5F}, {hole(Wall::ceiling, 1.5, 2.5, 1.5, 2.5)});
            s.lights.add("sun", SunLight(by_hand::outside(0, 0, 100'000), openings));
            finish(s);
            return s;
        },
        meters, 0.0025);
    for (std::size_t i = 0; i < across.size(); ++i) {
        const double a = across[i];
        all.push_back({"1.13-" + std::to_string(i + 6), "Penumbra",
                       "sun .533°, edge 3 m off, 27.9 mm wide: share at " + std::to_string(a).substr(0, a < 0 ? 4 : 3) +
                           " of the half width",
                       "part of a disc beyond a straight edge", 0.5 + (a * std::sqrt(1 - a * a) + std::asin(a)) / pi,
                       "", 0.01, reading(run, i, 1e-5)});
    }
}

/// A sun of 4000 lx straight down on a cloth of 1 m at 3 m; black sheets keep it off the rest.
Scene cloth_in_the_sun(float straight) {
    Finish cloth = matt(0.2);
    cloth.through = Spectrum{0.5F};
    cloth.straight = Spectrum{straight};
    Scene s;
    add(s, rectangle_mesh(rectangle({0, 0, 3}, {0, 0, 1}, 1, 1), cloth));
    for (const float side : {-1.0F, 1.0F}) {
        add(s, rectangle_mesh(rectangle({side * 5.5F, 0, 3.01F}, {0, 0, 1}, 10, 20), matt(0)));
        add(s, rectangle_mesh(rectangle({0, side * 5.5F, 3.01F}, {0, 0, 1}, 1.02, 10), matt(0)));
    }
    auto openings = std::make_shared<Openings>();
    openings->rectangles.push_back(rectangle({0, 0, 3.02F}, {0, 0, -1}, 1.2, 1.2));
    s.lights.add("sun", SunLight(by_hand::outside(0, 0, 4000), openings));
    finish(s);
    return s;
}

void cloths(Cases& all) {
    const std::string section = "Diffusion cloth",
                      source = "L = E τ / π, definition of diffuse transmittance, CIE S 017";
    const std::vector<MeterPoint> meters{flat({0, 0, 0}, {0, 0, 1}),
                                         flat({0.8F, 0, 0}, {0, 0, 1}),
                                         {MeterKind::spot, {0.1F, 0.2F, 0.5F}, {0, 0, 1}, 0.01F}};
    const Run thick = run_of([] { return cloth_in_the_sun(0); }, meters, 0.0015);
    // Not the spot meter: through this cloth it would look into the sun.
    const Run thin = run_of([] { return cloth_in_the_sun(0.25F); }, {meters[0], meters[1]}, 0.0015);
    const double beside = parallel_rectangle(4000 * 0.5 / pi, -1.3, -0.3, -0.5, 0.5, 3);
    all.push_back({"1.10-1", section, "4000 lx on a cloth of τ .5: its luminance", source, 636.62, "cd/m²", 0.005,
                   reading(thick, 2)});
    all.push_back(
        {"1.10-2", section, "1 × 1 m of it, 3 m off, on the axis", source, 68.214, "lx", 0.005, reading(thick, 0)});
    all.push_back(
        {"1.10-3", section, "the same, .8 m beside the axis", source, beside, "lx", 0.005, reading(thick, 1)});
    const std::string edge =
        "common practice, no source: what passes straight through keeps the shadow edge, E = k E0 + scattered";
    all.push_back({"1.10-4", section, "with .25 passing straight through, in the sun's beam", edge, 0.25 * 4000 + 68.214, "lx",
                   0.005, reading(thin, 0)});
    all.push_back({"1.10-5", section, "the same, beside the beam", edge, beside, "lx", 0.005, reading(thin, 1)});
    const Run two = run_of(
        [] {
            Finish cloth = matt(0.4);
            cloth.through = Spectrum{0.5F};
            Scene s;
            for (const float z : {3.0F, 3.01F}) add(s, rectangle_mesh(rectangle({0, 0, z}, {0, 0, 1}, 6, 6), cloth));
            auto openings = std::make_shared<Openings>();
            openings->rectangles.push_back(rectangle({0, 0, 3.05F}, {0, 0, -1}, 6, 6));
            s.lights.add("sun", SunLight(by_hand::outside(0, 0, 4000), openings));
            finish(s);
            return s;
        },
        {{MeterKind::spot, {0.3F, 0.1F, 1}, {0, 0, 1}, 0.01F}}, 0.0015);
    all.push_back({"1.10-6", section, "two cloths of ρ .4, τ .5 close together: transmittance of both",
                   "τ² / (1 - ρ²), geometric series", 0.29762, "", 0.005, reading(two, 0, pi / 4000)});
}

void mirrors(Cases& all) {
    const double angle = radians(Degree{30});
    const auto at = [=](double d, double side) {
        return Vec3(static_cast<float>(side * d * std::sin(angle)), 0, static_cast<float>(d * std::cos(angle)));
    };
    const Run run = run_of(
        [=] {
            Finish mirror = matt(0);
            mirror.metal = Spectrum{0.9F};
            mirror.roughness = 0.01F;
            Scene s;
            add(s, rectangle_mesh(rectangle({0, 0, 0}, {0, 0, 1}, 3, 3), mirror));
            Lamp l = lamp(LampShape::ball, at(1.5, -1), {0, 0, -1}, 1, 1, 800);
            l.output = Lamp::Output::candela;
            add_lamp(s, l);
            add(s, rectangle_mesh(rectangle({0, 0, 2}, {1, 0, 0}, 3, 2.4), matt(0)));  // no straight way to the meter
            finish(s);
            return s;
        },
        {flat(at(2.5, 1), Vec3(0, 0, 0) - at(2.5, 1))}, 0.0033);
    all.push_back({"1.11-1", "Mirror", "800 cd by a mirror of ρ .9, 1.5 m to it and 2.5 m on, 30°",
                   "E = ρ I / (d1 + d2)², image source; geometric optics", 45.00, "lx", 0.01, reading(run, 0)});
}

}  // namespace

Cases shaping_cases() {
    Cases all;
    soft_box_penumbra(all);
    sun_penumbra(all);
    cloths(all);
    mirrors(all);
    return all;
}

}  // namespace rushlight::validation
