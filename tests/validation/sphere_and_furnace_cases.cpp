// Closed bodies whose answer does not depend on the way the light takes: spheres, and things in even light.
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

double area_of(const Mesh& m) {
    double sum = 0;
    for (const auto& t : m.triangles) {
        const Vec3 a = m.positions[t[0]];
        sum += 0.5 * static_cast<double>((m.positions[t[1]] - a).cross(m.positions[t[2]] - a).length());
    }
    return sum;
}

constexpr double lamp_radius = 0.01;

Scene sphere_scene(const std::vector<Mesh>& walls) {
    Scene s;
    for (const Mesh& m : walls) add(s, m);
    add_lamp(s, lamp(LampShape::ball, {0, 0, 0}, {0, 0, -1}, 2 * lamp_radius, 2 * lamp_radius, 1000));
    finish(s);
    return s;
}

/// E on the wall but for the direct part, R .5 m, 1000 lm in the middle; `inner` is where the meter stands. The lamp is
/// black and keeps what falls on it: that belongs to the balance.
double indirect(double rho, double area) {
    return 1000 * rho / (area * (1 - rho) + 4 * pi * lamp_radius * lamp_radius);
}

void spheres(Cases& all) {
    const std::string section = "Integrating sphere";
    const std::string source =
        "E = Φ ρ / (A (1 - ρ)), CIE 84; the faceted wall's own area, the black lamp in the balance";
    const double inner = 0.499, direct = 1000 / (4 * pi * inner * inner);
    const Mesh whole = icosphere({0, 0, 0}, 0.5F, 5);
    int number = 0;
    for (const double rho : {0.5, 0.8, 0.9, 0.98}) {
        const Run run = run_of(
            [=] {
                Mesh wall = whole;
                wall.finish = matt(rho);
                return sphere_scene({wall});
            },
            {flat({0, 0, static_cast<float>(inner)}, {0, 0, -1})}, 0.0032 * rho);
        const double want = indirect(rho, area_of(whole));
        all.push_back({"1.6-" + std::to_string(++number), section,
                       "sphere of 1 m, 1000 lm, ρ " + std::to_string(rho).substr(0, 4) + ": light but for the direct",
                       source, want, "lx", 0.01, [=] {
                           const Measured m = run().all(0);
                           return Measured{m.value - direct, m.error};
                       }});
    }
    Mesh bright = whole, dark = whole;
    bright.triangles.clear();
    dark.triangles.clear();
    bright.finish = matt(0.9);
    dark.finish = matt(0.2);
    for (const auto& t : whole.triangles)
        ((whole.positions[t[0]] + whole.positions[t[1]] + whole.positions[t[2]]).z / 3 > 0.25F ? dark : bright)
            .triangles.push_back(t);
    const double area = area_of(whole), rho = (0.9 * area_of(bright) + 0.2 * area_of(dark)) / area;
    const float at = static_cast<float>(inner);
    const Run run = run_of(
        [=] {
            return sphere_scene({bright, dark});
        },
        {flat({0, 0, at}, {0, 0, -1}), flat({0, 0, -at}, {0, 0, 1}), flat({at, 0, 0}, {-1, 0, 0})}, 0.002);
    const std::array<const char*, 3> where{"on the dark cap", "opposite the cap", "at the side"};
    for (std::size_t i = 0; i < 3; ++i)
        all.push_back({"1.6-" + std::to_string(i + 5), section,
                       std::string("patchwork of ρ .9 and a quarter of ρ .2: total ") + where[i],
                       "mean ρ by area is exact in a sphere, CIE 84", indirect(rho, area) + direct, "lx", 0.01,
                       reading(run, i)});
}

/// A box 1 m wide in even light of 1000 cd/m2 all round, seen by two spot meters.
Scene box_in_even_light(const Finish& f) {
    Scene s;
    Box box;
    box.centre = {0, 0, 0};
    Mesh m = box_mesh(box);
    m.finish = f;
    add(s, m);
    s.lights.add("sky", SkyLight(by_hand::outside(1000, 1000), std::make_shared<Openings>()));
    finish(s);
    return s;
}

void furnace(Cases& all) {
    const std::string section = "White furnace";
    const std::string source = "in even light a body of albedo ρ shows ρ L; rendering texts";
    const MeterPoint front{MeterKind::spot, {3, 0.2F, 0.1F}, {-1, 0, 0}, 0.01F};
    struct Kind {
        const char* what;
        Finish finish;
        double share, tolerance;
    };
    Finish coat = matt(1.0);
    coat.gloss = 0.04F;
    Finish cloth = matt(0.4);
    cloth.through = Spectrum{0.35F};
    cloth.straight = Spectrum{0.25F};
    Finish pane;
    pane.pane = true;
    pane.pane_transmittance = 1;
    const std::array<Kind, 5> kinds{{{"matt white ρ 1 vanishes", matt(1), 1, 0.003},
                                     {"matt grey ρ .5", matt(0.5), 0.5, 0.003},
                                     {"cloth .4 + .35 + .25 vanishes", cloth, 1, 0.003},
                                     {"clear pane, R + T = 1, vanishes", pane, 1, 0.003},
                                     {"varnish over white (may lose 1 % between facets, never gain)", coat, 1, 0.01}}};
    int number = 0;
    for (const Kind& k : kinds) {
        const Run run = run_of([=] { return box_in_even_light(k.finish); }, {front}, 0.0009);
        all.push_back({"1.7-" + std::to_string(++number), section, k.what, source, 1000 * k.share, "cd/m²", k.tolerance,
                       reading(run, 0)});
    }
    // Bands must not leak into each other: a surface whose sixteen shares all differ.
    Finish colours = matt(0);
    for (int b = 0; b < bands; ++b) colours.reflectance[b] = static_cast<float>(0.1 + 0.8 * b / (bands - 1));
    const Run spectral = run_of([=] { return box_in_even_light(colours); }, {front}, 0.0009);
    for (const int b : {0, 7, 15})
        all.push_back({"1.7-" + std::to_string(++number), section,
                       "band at " + std::to_string(static_cast<int>(band_centre(b))) + " nm: share sent back",
                       "L(λ) = ρ(λ) L, definition", 0.1 + 0.8 * b / (bands - 1), "", 0.003,
                       sure([=] { return static_cast<double>(spectral().light(0)[b] / (equal_energy()[b] * 1000)); })});
    // A closed room whose every face gives out M and sends back rho: of cloth, in even light from outside.
    Finish wall = matt(0.6);
    wall.through = Spectrum{0.2F};
    const Run room = run_of(
        [=] {
            Scene s;
            Box box;
            box.size = {4, 3, 2.5F};
            Mesh m = box_mesh(box);
            m.finish = wall;
            add(s, m);
            s.lights.add("sky", SkyLight(by_hand::outside(1000, 1000), std::make_shared<Openings>()));
            finish(s);
            return s;
        },
        {flat({0.3F, -0.5F, 0.2F}, {0, 0, 1}), flat({1.9F, 1.4F, -1.2F}, {-0.3F, -0.5F, 0.2F})}, 0.0009);
    const std::array<const char*, 2> where{"in the middle", "in a corner"};
    for (std::size_t i = 0; i < 2; ++i)
        all.push_back({"1.7-" + std::to_string(++number), section,
                       std::string("room of cloth ρ .6, τ .2: every face gives out 628.3 lm/m², ") + where[i],
                       "E = M / (1 - ρ) whatever the shape; algebra", 0.2 * pi * 1000 / 0.4, "lx", 0.003,
                       reading(room, i)});
}

}  // namespace

Cases sphere_and_furnace_cases() {
    Cases all;
    spheres(all);
    furnace(all);
    return all;
}

}  // namespace rushlight::validation
