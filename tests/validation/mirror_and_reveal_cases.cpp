// Sharp mirrors, and windows that are set into a wall.
#include "references/references.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

Finish silvered(double share) {
    Finish f = matt(0);
    f.metal = Spectrum{static_cast<float>(share)};
    f.roughness = 0;
    return f;
}

/// Schlick's rise (1994), which bare metal has here.
double reflectance(double at_normal, double cosine) {
    return at_normal + (1 - at_normal) * std::pow(1 - cosine, 5);
}

void sun_by_mirrors(Cases& all) {
    const std::string section = "Sharp mirrors";
    const std::string source = "E = rho E_sun, geometric optics; all of the disc shows in the mirror";
    const Vec3 sun = Vec3(0.5F, -0.6F, 0.62F).normalized(), on(0, -1, 0);
    const Vec3 normal = (sun + on).normalized();
    const std::array<std::array<double, 2>, 5> mirrors{{{1, 2}, {1, 6}, {0.3, 2}, {0.3, 6}, {0.1, 2.5}}};
    for (std::size_t i = 0; i < mirrors.size(); ++i) {
        const auto [size, away] = mirrors[i];
        const Run run = run_of(
            [=, size = size, away = away] {
                Scene s;
                add(s, rectangle_mesh(rectangle(-on * static_cast<float>(away), normal, size, size), silvered(0.88)));
                s.lights.add("sun", SunLight(by_hand::outside(0, 0, 80'000, sun), std::make_shared<Openings>()));
                finish(s);
                return s;
            },
            {flat({0, 0, 0}, {0, 1, 0})}, 0.001);
        const std::string metres = std::to_string(size).substr(0, 3), off = std::to_string(away).substr(0, 3);
        all.push_back({"1.17-" + std::to_string(i + 1), section,
                       "sun of 80,000 lx by a mirror of " + metres + " m, " + off + " m off", source,
                       80'000 * reflectance(0.88, static_cast<double>(normal.dot(on))), "lx", 0.004, reading(run, 0)});
    }
    const Run seen = run_of(
        [] {
            Scene s;
            add(s, rectangle_mesh(rectangle({0, 4, 0}, {0, -1, 0}, 3, 3), silvered(0.88)));
            add_lamp(s, lamp(LampShape::box, {1, 0, 0}, {0, 1, 0}, 0.3, 0.3, pi * 1000 * 0.09));
            finish(s);
            return s;
        },
        {{MeterKind::spot, {-1, 0, 0}, Vec3(2, 8, 0).normalized(), 0.005F}}, 0.001);
    all.push_back({"1.17-6", section, "lamp of 1000 cd/m2 in a mirror 4 m off, by spot", "L = rho L, geometric optics",
                   1000 * reflectance(0.88, 8 / std::sqrt(68.0)), "cd/m2", 0.003, reading(seen, 0)});
}

/// A black room 5 x 5 x 3 m, its one window set into a wall of some thickness, even sky and ground of 1000 cd/m2. What
/// shows through both ends of the hole is a rectangle again.
void reveals(Cases& all) {
    const std::string section = "Windows set in";
    const std::string source = "Lambert's polygon formula for the rectangle seen through both ends of the hole";
    const struct {
        const char* what;
        double from, to, sill, head, thickness;
        Vec3 at, facing;
    } rows[] = {{"window 1.5 x 1.2 m, no reveal, facing it", 1.5, 3, 0.9, 2.1, 0, {2.25F, 2.5F, 1.2F}, {0, -1, 0}},
                {"the same, level", 1.5, 3, 0.9, 2.1, 0, {2.25F, 2.5F, 0.8F}, {0, 0, 1}},
                {"window 1.5 x 1.2 m, .2 m deep, facing it", 1.5, 3, 0.9, 2.1, 0.2, {2.25F, 2.5F, 1.2F}, {0, -1, 0}},
                {"the same, level", 1.5, 3, 0.9, 2.1, 0.2, {2.25F, 2.5F, 0.8F}, {0, 0, 1}},
                {"slit .3 m wide, .2 m deep, seen aslant", 2, 2.3, 0.5, 2.5, 0.2, {3.6F, 2, 1.2F}, {-0.6F, -0.8F, 0}},
                {"window 1.2 m wide, .5 m deep, aslant", 1, 2.2, 0.9, 2.1, 0.5, {3.5F, 2.5F, 1}, {-0.5F, -0.8F, 0.3F}}};
    int number = 0;
    for (const auto& row : rows) {
        const Run run = run_of(
            [row] {
                Room room;
                room.width = room.depth = 5;
                room.height = 3;
                room.wall_thickness = row.thickness;
                room.finish.fill(matt(0));
                room.openings = {hole(Wall::near, row.from, row.to, row.sill, row.head)};
                Scene s;
                for (int w = 0; w < 6; ++w) add(s, wall_mesh(room, static_cast<Wall>(w)));
                if (row.thickness > 0) add(s, reveal_mesh(room, room.openings[0]));
                const auto openings = std::make_shared<Openings>();
                openings->rectangles.push_back(opening_rectangle(room, room.openings[0]));
                const auto reach = static_cast<float>(0.98 * row.thickness);
                openings->lower = Vec3(-reach, -reach, -reach);
                openings->upper = Vec3(5 + reach, 5 + reach, 3 + reach);
                openings->closed = true;
                s.lights.add("sky", SkyLight(by_hand::outside(1000, 1000), openings));
                finish(s);
                return s;
            },
            {flat(row.at, row.facing)}, 0.0003);
        // The far end of the hole, brought into the plane of the near one as it is seen from the meter.
        const double nearer = static_cast<double>(row.at.y) / (static_cast<double>(row.at.y) + row.thickness);
        const auto brought = [&](double far, float meter) {
            return static_cast<double>(meter) + (far - static_cast<double>(meter)) * nearer;
        };
        const double x0 = std::max(row.from, brought(row.from, row.at.x)),
                     x1 = std::min(row.to, brought(row.to, row.at.x));
        const double z0 = std::max(row.sill, brought(row.sill, row.at.z)),
                     z1 = std::min(row.head, brought(row.head, row.at.z));
        const Point at(row.at), facing = Point(row.facing).normalized();
        all.push_back({"1.18-" + std::to_string(++number), section, row.what, source,
                       polygon_illuminance(1000, {{x0, 0, z0}, {x1, 0, z0}, {x1, 0, z1}, {x0, 0, z1}}, at, facing),
                       "lx", 0.001, reading(run, 0)});
    }
}

}  // namespace

Cases mirror_and_reveal_cases() {
    Cases all;
    sun_by_mirrors(all);
    reveals(all);
    return all;
}

}  // namespace rushlight::validation
