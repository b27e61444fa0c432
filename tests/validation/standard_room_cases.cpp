// The analytic cases of CIE 171:2006 in kind: rooms with one thing at work in each. Every expected value is worked out
// here or by hand from the formulas, none is copied from the report's tables, some of which are known to be wrong.
#include "references/references.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

const std::string section = "CIE 171:2006 cases, worked out";

std::string number_of(int i) {
    return std::to_string(i);
}

void flux_through_an_opening(Cases& all) {
    const auto scene = [] {
        Scene s;
        const auto openings = add_room(s, {4, 4, 3}, {hole(Wall::ceiling, 1.5, 2.5, 1.5, 2.5)});
        s.lights.add("sky", SkyLight(by_hand::outside(1000, 0), openings));
        finish(s);
        return s;
    };
    const float up = 1e-4F;
    const Run run = run_of(scene, {flat({2, 2, up}, {0, 0, 1}), flat({up, up, up}, {0, 0, 1})}, 0.0015);
    const std::string what = "hole 1 × 1 m in a 4 × 4 m roof 3 m up, 1000 cd/m²: ",
                      parallel = "element to parallel rectangle";
    all.push_back({"5.4-1", section, what + "middle of the floor", parallel, 107.150, "lx", 0.005, reading(run, 0)});
    all.push_back({"5.4-2", section, what + "corner of the floor", parallel, 31.390, "lx", 0.005, reading(run, 1)});
    const auto landed = once([scene] {
        constexpr std::uint32_t count = 1'000'000;
        const Scene s = scene();
        std::array<double, 2> lumen{};
        for (const Vertex& v : trace_light_paths(s, 5, 0, count, 1).vertices)
            lumen[v.part == static_cast<std::uint32_t>(Wall::floor) ? 0 : 1] += photometric(v.throughput) / count;
        const double share = lumen[0] / (lumen[0] + lumen[1]);
        const double error = (lumen[0] + lumen[1]) * std::sqrt(share * (1 - share) / count);
        return std::array<Measured, 3>{Measured{lumen[0], error}, Measured{lumen[1], error},
                                       Measured{lumen[0] + lumen[1], 0}};
    });
    all.push_back({"5.4-3", section, what + "flux on the floor", "its view factor, .352336", 1106.90, "lm", 0.01,
                   [=] { return landed()[0]; }});
    all.push_back({"5.4-4", section, what + "flux on the walls", "what the floor leaves", 2034.69, "lm", 0.01,
                   [=] { return landed()[1]; }});
    all.push_back(
        {"5.4-5", section, what + "flux in all", "Φ = π L A", 3141.59, "lm", 1e-3, [=] { return landed()[2]; }});
}

void lit_patch(Cases& all) {
    const auto scene = [](bool screened) {
        Scene s;
        Room black;
        black.width = black.depth = 4;
        black.height = 3.2;
        black.wall_thickness = 0;
        black.finish.fill(matt(0));
        black.finish[static_cast<std::size_t>(Wall::floor)] = matt(0.8);
        black.openings = {hole(Wall::ceiling, 1.75, 2.25, 0.75, 1.25)};
        auto openings = std::make_shared<Openings>();
        openings->upper = {4, 4, 3.2F};
        openings->closed = true;
        openings->rectangles.push_back(opening_rectangle(black, black.openings[0]));
        for (int w = 0; w < 6; ++w) add(s, wall_mesh(black, static_cast<Wall>(w)));
        s.lights.add("sun", SunLight(by_hand::outside(0, 0, 5000), openings));
        if (screened) {
            Rectangle screen = rectangle({2, 0.36F, 1.5F}, {1, 0, 0}, 0.72, 3);
            add(s, rectangle_mesh(screen, matt(0)));
        }
        finish(s);
        return s;
    };
    const float by = 2e-4F;
    const std::string source = "E = ρ E0 × configuration factor, by Lambert's polygon formula";
    const std::string what = "floor patch .5 × .5 m, 1 m from the wall, 5000 lx, ρ .8: wall behind it, ";
    const Run bare =
        run_of([=] { return scene(false); },
               {flat({2, by, 0.5F}, {0, 1, 0}), flat({2, by, 1}, {0, 1, 0}), flat({2, by, 1.5F}, {0, 1, 0})}, 0.0015);
    const std::array<const char*, 3> up{".5 m up", "1 m up", "1.5 m up"};
    const std::array<double, 3> want{104.259, 77.842, 43.965};
    for (std::size_t i = 0; i < 3; ++i)
        all.push_back({"5.6-" + number_of(static_cast<int>(i) + 1), section, what + up[i], source, want[i], "lx", 0.005,
                       reading(bare, i)});
    const Run screened = run_of([=] { return scene(true); }, {flat({2 + by, by, 1}, {0, 1, 0})}, 0.0015);
    all.push_back({"5.7-1", section, "the same, a screen hides just half of it, 1 m up",
                   "half of it, by symmetry and polygon", 38.921, "lx", 0.005, reading(screened, 0)});
}

void interreflection(Cases& all) {
    const auto scene = [](double rho) {
        Scene s;
        small::add_box(s, {4, 4, 4}, matt(rho));
        add_lamp(s, lamp(LampShape::ball, {2, 2, 2}, {0, 0, -1}, 0.01, 0.01, 10'000));
        finish(s);
        return s;
    };
    int number = 0;
    for (const double rho : {0.05, 0.3, 0.5, 0.8, 0.9, 0.95})
        all.push_back({"5.8-" + number_of(++number), section,
                       "cube of 4 m, 10 000 lm in its middle, ρ " + std::to_string(rho).substr(0, 4) +
                           ": mean of direct and bounced",
                       "E = Φ / (A (1 - ρ)), energy balance; the lamp is black",
                       10'000 / (96 * (1 - rho) + 4 * pi * 0.005 * 0.005), "lx", 0.01, [=] {
                           return mean_over(scene(rho), rectangle({2, 4, 2}, {0, -1, 0}, 4, 4), rho > 0.6 ? 60 : 20);
                       }});
    // Not flat: the middle of a wall, by a small tracer written apart.
    for (const auto& [rho, bounced, error] :
         std::array<std::array<double, 3>, 2>{{{0.5, 112.06, .03}, {0.8, 430.91, .07}}}) {
        const Run run =
            run_of([=, reflectance = rho] { return scene(reflectance); }, {flat({2, 3.9999F, 2}, {0, -1, 0})}, 0.0015);
        all.push_back({"5.8-" + number_of(++number), section,
                       "the same, ρ " + std::to_string(rho).substr(0, 3) + ": middle of a wall",
                       "direct E = Φ / 4πd² = 198.944 lx, bounced by an independent tracer", 198.944 + bounced, "lx",
                       0.005, reading(run, 0), 3 * error});
    }
}

/// What of the sky a point sees through a rectangle: `luminance(toward, cosine at the hole)`, midpoints over its area.
double through_a_hole(const Point& corner, const Point& across, const Point& up, const Point& at, const Point& facing,
                      const std::function<double(const Point&, double)>& luminance) {
    // Edges of what stands outside run along `across`: steps that are too long upwards would cut them off or double
    // them.
    constexpr int steps = 200, upward = 6400;
    const Point normal = across.cross(up).normalized();
    double sum = 0;
    for (int i = 0; i < steps; ++i)
        for (int j = 0; j < upward; ++j) {
            const Point way = corner + across * ((i + 0.5) / steps) + up * ((j + 0.5) / upward) - at;
            const Point toward = way.normalized();
            const double cosine = std::abs(toward.dot(normal));
            sum += luminance(toward, cosine) * std::max(0.0, toward.dot(facing)) * cosine / way.length2();
        }
    return sum * across.cross(up).length() / (steps * upward);
}

Daylight sky_by_hand(int type, double zenith, double ground, const Vec3& sun) {
    Daylight d = by_hand::outside(zenith, ground, 0, sun);
    d.sun = false;
    d.sky = GeneralSky(general_sky_table()[static_cast<std::size_t>(type - 1)], d.toward_sun);
    return d;
}

enum class Outside { open, overhang, mask };

struct SkyRoom {
    const char* id;
    const char* what;
    bool roof, glazed;
    Outside outside;
};

/// Room 6 x 8 x 3 m; a roof hole 1 x 1 m over the meter, or a window 2 m wide from .1 to 1.4 m over the desk; the sun
/// stands 45 degrees high, facing the window.
void sky_room(Cases& all, const SkyRoom& r, int type) {
    const Vec3 sun = Vec3(0.3F, -1, std::sqrt(1.09F)).normalized();
    const double lz = 2000, ground = 500;
    const Run run = run_of(
        [=] {
            Scene s;
            const auto openings = add_room(s, {6, 8, 3},
                                           {r.roof ? hole(Wall::ceiling, 2.5, 3.5, 3.5, 4.5, r.glazed)
                                                   : hole(Wall::near, 2, 4, 0.9, 2.2, r.glazed)});
            if (r.outside == Outside::overhang)
                add(s, rectangle_mesh(rectangle({3, -0.75F, 2.3F}, {0, 0, -1}, 12, 1.5), matt(0)));
            if (r.outside == Outside::mask) add(s, rectangle_mesh(rectangle({3, -8, 0}, {0, 1, 0}, 40, 6), matt(0)));
            s.lights.add("sky", SkyLight(sky_by_hand(type, lz, ground, sun), openings));
            finish(s);
            return s;
        },
        {r.roof ? flat({3, 4, 0.0001F}, {0, 0, 1}) : flat({3, 1, 0.8F}, {0, 0, 1}),
         flat({2.2F, 2.5F, 1.5F}, {0.3F, -1, 0.2F})},
        0.0016);
    const Point place = r.roof ? Point(3, 4, 0.0001) : Point(3, 1, .8), tilted_at(2.2, 2.5, 1.5);
    const auto seen = [=](const Point& from) {
        return [=](const Point& to, double cosine) {
            double l = to.z > 0 ? lz * general_sky(general_sky_table()[static_cast<std::size_t>(type - 1)], to,
                                                   Point(sun.x, sun.y, sun.z))
                                : ground;
            if (r.outside == Outside::overhang && to.z > 0) {
                const Point p = from + to * ((2.3 - from.z) / to.z);
                if (p.y > -1.5 && p.y < 0 && std::abs(p.x - 3) < 6) l = 0;
            }
            if (r.outside == Outside::mask && to.y < 0) {
                const Point p = from + to * ((-8 - from.y) / to.y);
                if (std::abs(p.z) < 3 && std::abs(p.x - 3) < 20) l = 0;
            }
            return r.glazed ? l * pane_transmittance(cosine, 1.52, 0.95) : l;
        };
    };
    const Point corner = r.roof ? Point(2.5, 3.5, 3) : Point(2, 0, .9),
                across = r.roof ? Point(1, 0, 0) : Point(2, 0, 0), up = r.roof ? Point(0, 1, 0) : Point(0, 0, 1.3);
    const std::string source =
        "ISO 15469:2004 over the solid angle" + std::string(r.glazed ? ", times the pane's T(θ)" : "");
    const std::string what = std::string(r.what) + ", sky type " + number_of(type);
    all.push_back({std::string(r.id) + "-" + number_of(type), section, what + (r.roof ? "" : ", desk 1 m in"), source,
                   through_a_hole(corner, across, up, place, {0, 0, 1}, seen(place)), "lx", r.glazed ? 0.01 : 0.005,
                   reading(run, 0)});
    if (r.roof) return;
    all.push_back({std::string(r.id) + "-" + number_of(type) + "b", section, what + ", tilted face 2.5 m in", source,
                   through_a_hole(corner, across, up, tilted_at, Point(.3, -1, .2).normalized(), seen(tilted_at)), "lx",
                   r.glazed ? 0.01 : 0.005, reading(run, 1)});
}

}  // namespace

Cases standard_room_cases() {
    Cases all;
    flux_through_an_opening(all);
    lit_patch(all);
    interreflection(all);
    for (int type = 1; type <= 15; ++type)
        sky_room(all, {"5.9", "roof hole 1 × 1 m, bare", true, false, Outside::open}, type);
    for (const int type : {1, 5, 12})
        sky_room(all, {"5.10", "roof hole 1 × 1 m, glazed", true, true, Outside::open}, type);
    for (const SkyRoom& r : {SkyRoom{"5.11", "window, bare, sky and ground", false, false, Outside::open},
                             {"5.12", "window, glazed, sky and ground", false, true, Outside::open},
                             {"5.13", "window under a black overhang of 1.5 m", false, false, Outside::overhang},
                             {"5.14", "window behind a black mask 8 m off", false, false, Outside::mask}})
        for (const int type : {1, 5, 12}) sky_room(all, r, type);
    return all;
}

}  // namespace rushlight::validation
