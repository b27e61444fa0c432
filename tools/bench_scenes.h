// The fixed scenes of the benchmark: one room of 6 x 4 x 2.7 m with two heads, lit in five ways that each are
// hard for another reason. Built in code, so that a benchmark measures tracing and nothing else.
#pragma once

#include "paths/measure.h"
#include "scene/room.h"
#include "scene/scene.h"

#include <cmath>
#include <string>
#include <vector>

namespace rushlight::bench {

inline Finish matt(double reflectance) {
    Finish f;
    f.reflectance = Spectrum{static_cast<float>(reflectance)};
    return f;
}

inline void add(Scene& s, Mesh mesh, const Finish& finish) {
    mesh.finish = finish;
    add_part(s, mesh, PartKind::room, "");
}

inline void add_lamp(Scene& s, LampShape shape, Vec3 at, Vec3 to, double size, Lamp::Output unit, double amount) {
    Lamp l;
    l.name = "lamp " + std::to_string(s.lights.count() + 1);
    l.shape = shape;
    l.at = at;
    l.aim = (to - at).normalized();
    l.width = l.height = size;
    l.beam = 20;
    l.field = 1.7 * l.beam;
    l.output = unit;
    l.intensity_or_flux = equal_energy() * static_cast<float>(amount);
    rushlight::add_lamp(s, l);
}

/// A ball of about `triangles` triangles, in rings.
inline Mesh ball(Vec3 centre, float radius, std::uint32_t triangles) {
    const auto rings = static_cast<std::uint32_t>(std::max(8.0, std::sqrt(triangles / 4.0)));
    const std::uint32_t spokes = 2 * rings;
    Mesh m;
    for (std::uint32_t i = 0; i <= rings; ++i)
        for (std::uint32_t j = 0; j < spokes; ++j) {
            const double t = pi * i / rings, p = 2 * pi * j / spokes;
            m.positions.push_back(centre + Vec3(static_cast<float>(std::sin(t) * std::cos(p)),
                                                static_cast<float>(std::sin(t) * std::sin(p)),
                                                static_cast<float>(std::cos(t))) *
                                               radius);
        }
    for (std::uint32_t i = 0; i < rings; ++i)
        for (std::uint32_t j = 0; j < spokes; ++j) {
            const std::uint32_t a = i * spokes + j, b = i * spokes + (j + 1) % spokes;
            if (i > 0) m.triangles.push_back({a, b, a + spokes});
            if (i + 1 < rings) m.triangles.push_back({b, b + spokes, a + spokes});
        }
    return m;
}

inline constexpr Vec3 heads[2]{Vec3(3.0F, 2.0F, 1.2F), Vec3(4.5F, 2.0F, 1.2F)};

inline Mesh panel(Vec3 at, Vec3 facing, double width, double height) {
    return rectangle_mesh(facing_rectangle(at, facing.normalized(), 0, width, height), Finish{});
}

struct Choice {
    char letter;
    const char* what;
};
inline constexpr Choice choices[]{{'a', "soft box on the faces"},
                                  {'b', "hard spot on a board only"},
                                  {'c', "hard spot through a cloth"},
                                  {'d', "sun and sky through a window"},
                                  {'e', "eight lamps of very unequal power"}};

inline Scene make(char letter, std::uint32_t triangles_a_head = 20000, int lamps = 8) {
    Scene s;
    Room room;
    room.width = 6;
    room.depth = 4;
    room.height = 2.7;
    room.wall_thickness = 0.3;
    room.finish.fill(matt(0.5));
    room.finish[static_cast<std::size_t>(Wall::floor)] = matt(0.2);
    room.finish[static_cast<std::size_t>(Wall::ceiling)] = matt(0.7);
    if (letter == 'd') {
        Opening window;
        window.from = 2.0;
        window.to = 3.5;
        window.sill = 0.9;
        window.head = 2.3;
        room.openings.push_back(window);
    }
    for (std::size_t w = 0; w < 6; ++w) {
        const Mesh wall = wall_mesh(room, static_cast<Wall>(w));
        add(s, wall, wall.finish);
    }
    for (const Vec3& h : heads) add(s, ball(h, 0.12F, triangles_a_head), matt(0.3));

    const auto candela = Lamp::Output::candela;
    const auto lumen = Lamp::Output::lumen;
    if (letter == 'a') add_lamp(s, LampShape::box, {1, 1, 1.8F}, {3, 2, 1.2F}, 0.9, lumen, 9000);
    if (letter == 'b') {
        add(s, panel({1, 3, 1.6F}, Vec3(1, -0.5F, 0), 1.2, 1.2), matt(0.85));
        add_lamp(s, LampShape::hard, {2.2F, 1.5F, 2}, {1, 3, 1.6F}, 0.03, candela, 20000);
    }
    if (letter == 'c') {
        Finish cloth = matt(0.45);
        cloth.through = Spectrum{0.35F};
        add(s, panel({1.2F, 1.2F, 1.6F}, Vec3(1, 0.5F, 0), 1.2, 1.2), cloth);
        add_lamp(s, LampShape::hard, {0.3F, 0.7F, 1.8F}, {1.2F, 1.2F, 1.6F}, 0.03, candela, 40000);
    }
    if (letter == 'd') {
        auto openings = std::make_shared<Openings>();
        openings->lower = Vec3(-0.29F, -0.29F, -0.29F);
        openings->upper = Vec3(6.29F, 4.29F, 2.99F);
        openings->closed = true;
        const Opening& window = room.openings.front();
        const Mesh reveal = reveal_mesh(room, window);
        add(s, reveal, reveal.finish);
        const Rectangle hole = opening_rectangle(room, window);
        const Mesh glass = rectangle_mesh(hole, *glass_of(true, 0.8, 0, 0));
        add(s, glass, glass.finish);
        openings->rectangles.push_back(hole);
        Place place;
        place.latitude = 50;
        place.longitude = 0;
        place.near_wall_faces = 160;
        place.has_room = true;
        Day day;
        day.month = 10;
        day.day = 14;
        day.clock_hours = 11;
        day.sky.cie_type = 12;
        const Daylight daylight = daylight_at(place, day);
        s.lights.add("sun", SunLight(daylight, openings));
        s.lights.add("sky", SkyLight(daylight, openings));
        s.openings = openings;
    }
    if (letter == 'e')
        for (int i = 0; i < lamps; ++i)
            add_lamp(s, i % 2 == 0 ? LampShape::ball : LampShape::box,
                     {0.7F + 4.6F * static_cast<float>(i) / static_cast<float>(lamps),
                      static_cast<float>(i % 3) * 1.2F + 0.6F, 1.5F + 0.1F * static_cast<float>(i % 4)},
                     {3.2F, 2.2F, 0.5F}, 0.1 + 0.1 * (i % 4), lumen, 20 * std::pow(3.0, i % 5));
    s.lights.settle();
    s.rays.commit();
    return s;
}

/// Twelve flat meters: six round each head, level or nearly so.
inline std::vector<MeterPoint> twelve_meters() {
    std::vector<MeterPoint> meters;
    for (const Vec3& h : heads)
        for (Vec3 d : {Vec3(1, 0, 0), Vec3(-1, 0, 0), Vec3(0, 1, 0), Vec3(0, -1, 0), Vec3(0.7F, 0.7F, 0.1F),
                       Vec3(-0.7F, 0.7F, 0.1F)}) {
            d.normalize();
            meters.push_back({MeterKind::flat, h + d * 0.125F, d});
        }
    return meters;
}

}  // namespace rushlight::bench
