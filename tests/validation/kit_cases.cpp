// The kit as rendered: what cloths and nets cost, how a thin cloth spreads, boards and blacks, shades, blinds, gels.
#include "quantity/lamp_spectra.h"
#include "references/references.h"
#include "references/rooms.h"
#include "setup/plain/catalogues.h"

namespace rushlight::validation {

namespace {

using namespace small;

Lamp far_lamp(double candela) {
    Lamp l = lamp(LampShape::hard, {0, 0, 5}, {0, 0, -1}, 0.02, 0.02, candela);
    l.beam = 60;
    l.field = 90;
    l.output = Lamp::Output::candela;
    return l;
}

Scene under(const Finish& sheet, double wide, float height) {
    Scene s;
    add_lamp(s, far_lamp(25'000));
    add(s, rectangle_mesh(rectangle({0, 0, height}, {0, 0, 1}, wide, wide), sheet));
    finish(s);
    return s;
}

/// A net keeps 2^-stops of the lamp's light, and all of its hardness.
void nets(Cases& all) {
    for (const auto& [name, stops] : {std::pair{"single", 0.5}, std::pair{"double", 1.0}}) {
        const Run run =
            run_of([stops = stops] { return under(net_finish(stops), 1, 2); }, {flat({0, 0, 0}, {0, 0, 1})}, 0.0005);
        all.push_back({std::string("kit-net-") + name, "Nets and cloths",
                       std::string(name) + " net before a hard lamp, 1000 lx: lux left",
                       "definition of a stop; thread of .03 reflects nothing here", 1000 * std::exp2(-stops), "lx",
                       0.002, reading(run, 0)});
    }
}

/// Luminance behind a cloth of spread s, lit square-on with E, seen at half the spread:
/// L = E tau (m + 2) / (2 pi) cos^m (s / 2), cos^(m + 1)(s / 2) = 1/2; nothing of it falls back at square incidence.
void spread(Cases& all) {
    constexpr double lux = 25'000 / 9.0, tau = 0.5;
    for (const double degrees : {30.0, 60.0, 100.0}) {
        Finish cloth = matt(0);
        cloth.through = Spectrum{static_cast<float>(tau)};
        cloth.spread = static_cast<float>(degrees);
        const double half = radians(Degree{degrees}) / 2;
        const double m = std::log(0.5) / std::log(std::cos(half)) - 1;
        const Vec3 aside(static_cast<float>(std::sin(half)), 0, static_cast<float>(2 - std::cos(half)));
        const Run run = run_of([cloth] { return under(cloth, 1, 2); },
                               {{MeterKind::spot, aside, (Vec3(0, 0, 2) - aside).normalized(), 0.002F}}, 0.0015);
        const double want = lux * tau * (m + 2) / (2 * pi) * 0.5 / std::cos(half);
        const std::string d = std::to_string(static_cast<int>(degrees));
        all.push_back({"kit-spread-" + d, "Nets and cloths",
                       "cloth of τ .5, spread " + d + "°, lit square-on: its luminance at half the spread",
                       "cosine-power lobe: L = E τ (m + 2) / 2π cos^m, half the candela at half the spread", want,
                       "cd/m²", 0.006, reading(run, 0)});
    }
}

/// A drum shade, black inside: luminance of its outside level with the bulb is tau I / (pi R^2).
void shades(Cases& all) {
    const Run run = run_of(
        [] {
            Scene s;
            Lamp l = lamp(LampShape::ball, {0, 0, 1}, {0, 0, -1}, 0.02, 0.02, 400 * pi);
            Shade shade;
            shade.bottom = shade.top = 0.4;
            shade.height = 0.3;
            shade.finish = matt(0);
            shade.finish.through = Spectrum{0.4F};
            l.shade = shade;
            add_lamp(s, l);
            finish(s);
            return s;
        },
        {{MeterKind::spot, {1.5F, 0.2F, 1}, Vec3(-1.3F, -0.2F, 0).normalized(), 0.005F}}, 0.002);
    all.push_back({"kit-shade-1", "Shades and blinds",
                   "bulb of 100 cd in a drum of .4 m, τ .4, black inside: its luminance level with the bulb",
                   "L = τ E / π, E = I / R²; inverse square", 0.4 * 100 / 0.04 / pi, "cd/m²", 0.006, reading(run, 0)});
}

/// Flat black slats w wide, p apart, tilted by t: of parallel light at elevation e, in the plane square to the slats, a
/// share 1 - (w / p) |sin(t - e)| / cos(e) gets between.
void blinds(Cases& all) {
    Room room;
    room.width = 4;
    room.depth = 4;
    room.height = 3;
    room.wall_thickness = 0.2;
    room.finish.fill(matt(0));
    Opening o = hole(Wall::near, 1, 3, 0.5, 2.5);
    room.openings = {o};
    Blind blind;
    blind.slat = 0.05;
    blind.pitch = 0.05;
    blind.finish = matt(0);
    for (const auto& [tilt, up] :
         {std::pair{0.0, 30.0}, std::pair{30.0, 0.0}, std::pair{45.0, 20.0}, std::pair{-20.0, 35.0}}) {
        blind.tilt = tilt;
        const Mesh mesh = blind_mesh(room, o, blind);
        const double e = radians(Degree{up}), t = radians(Degree{tilt});
        const double want = 1 - std::abs(std::sin(t - e)) / std::cos(e);
        const auto share = [mesh, e] {
            RayScene rays;
            Finish black = matt(0);
            rays.add(mesh, {"blind", PartKind::panel, rays.add_surface(Surface(black)), -1, -1});
            rays.commit();
            constexpr int count = 40'000;
            int through = 0;
            for (int i = 0; i < count; ++i) {
                // From within, against the light; even over many slats in the middle of the window.
                const Vec3 from(2, 0.5F, static_cast<float>(1.5 - 0.6 * std::tan(e) + (i + 0.5) / count * 0.5));
                Spectrum all_of_it{1.0F};
                const Vec3 toward(0, static_cast<float>(-std::cos(e)), static_cast<float>(std::sin(e)));
                through += rays.passes(Ray{from, toward}, all_of_it) ? 1 : 0;
            }
            return static_cast<double>(through) / count;
        };
        all.push_back(
            {"kit-blind-" + std::to_string(static_cast<int>(tilt)) + "-" + std::to_string(static_cast<int>(up)),
             "Shades and blinds",
             "slats 50 mm wide and apart, tilted " + std::to_string(static_cast<int>(tilt)) + "°, light from " +
                 std::to_string(static_cast<int>(up)) + "° up: share between them",
             "plane geometry of flat slats", want, "", 0, sure(share), 0.002});
    }
}

/// What a black board takes from a cheek in an even surround: the share of the cheek's hemisphere that it fills, but
/// for what it sends back itself.
void blacks(Cases& all) {
    for (const auto& [w, h] : {std::pair{0.6, 0.9}, std::pair{1.2, 1.2}, std::pair{1.2, 2.4}}) {
        const double factor = parallel_rectangle(1 / pi, -w / 2, w / 2, -h / 2, h / 2, 0.6);
        const Run run = run_of(
            [w = w, h = h] {
                Scene s;
                Finish dark = matt(0.03);
                add(s, rectangle_mesh(rectangle({0, 0, 0.6F}, {0, 0, -1}, w, h), dark));
                s.lights.add("sky", SkyLight(by_hand::outside(1000, 1000), std::make_shared<Openings>()));
                finish(s);
                return s;
            },
            {flat({0, 0, 0}, {0, 0, 1})}, 0.0015);
        all.push_back(
            {"kit-black-" + std::to_string(static_cast<int>(10 * w)) + "x" + std::to_string(static_cast<int>(10 * h)),
             "Blacks",
             "black .03, " + std::to_string(static_cast<int>(10 * w)) + " x " +
                 std::to_string(static_cast<int>(10 * h)) + " dm, .6 m off, even surround: share left",
             "1 - (1 - ρ) F, configuration factor of a parallel rectangle", 1 - 0.97 * factor, "", 0.01,
             reading(run, 0, 1 / (1000 * pi))});
    }
}

void mired_sums(Cases& all) {
    const auto after = [](std::initializer_list<double> shifts, double from) {
        return [shifts = std::vector<double>(shifts), from] {
            Spectrum light = white_light(Kelvin{from});
            for (const double shift : shifts)
                light *= gel(Mired{shift}, 0.7, colour_temperature(tristimulus(light)).cct);
            return colour_temperature(tristimulus(light)).cct.value;
        };
    };
    const std::string source = "M = 10⁶ / T, shifts add; definition";
    all.push_back(
        {"5.4-gel-1", "Gels", "5500 K through +131 mired", source, 3196.7, "K", 0.004, sure(after({131}, 5500))});
    all.push_back(
        {"5.4-gel-2", "Gels", "3200 K through -131 mired", source, 5509.6, "K", 0.004, sure(after({-131}, 3200))});
    all.push_back({"5.4-gel-3", "Gels", "5600 K through two of +78", source, 1e6 / (1e6 / 5600 + 156), "K", 0.01,
                   sure(after({78, 78}, 5600))});
}

}  // namespace

Cases kit_cases() {
    Cases all;
    nets(all);
    spread(all);
    shades(all);
    blinds(all);
    blacks(all);
    mired_sums(all);
    return all;
}

}  // namespace rushlight::validation
