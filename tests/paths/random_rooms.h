// Random rooms with a bit of everything, told alike to the renderer and to a plain tracer of another make.
#pragma once

#include "outside_by_hand.h"
#include "paths/plain_tracer.h"
#include "paths/small_scenes.h"

#include <random>

namespace rushlight::random_rooms {

using namespace small;
using plain::Stuff;
using plain::V;

inline V as_v(const Vec3& p) {
    return {static_cast<double>(p.x), static_cast<double>(p.y), static_cast<double>(p.z)};
}

/// One thing, told to both.
class Both {
public:
    Scene scene;
    plain::Place place;

    void rectangle(const Rectangle& r, const Stuff& stuff) {
        add(scene, rectangle_mesh(r, finish_of(stuff)));
        face(r, stuff);
    }
    void box(const Vec3& centre, const Vec3& size, double turn, const Stuff& stuff) {
        Box b;
        b.centre = centre;
        b.size = size;
        b.turn = degrees(turn).value;
        b.finish = finish_of(stuff);
        add(scene, box_mesh(b));
        place.box(as_v(centre - size * 0.5F), as_v(centre + size * 0.5F), turn, stuff);
    }
    void box_lamp(const Vec3& at, const Vec3& aim, double width, double height, double luminance) {
        add_lamp(scene, lamp(LampShape::box, at, aim, width, height, pi * luminance * width * height));
        Stuff glowing;
        glowing.kind = Stuff::lamp;
        glowing.glow = luminance;
        face(facing_rectangle(at, aim, 0, width, height), glowing);
    }
    void ball_lamp(const Vec3& at, double diameter, double luminance) {
        add_lamp(scene,
                 lamp(LampShape::ball, at, {0, 0, -1}, diameter, diameter, pi * pi * diameter * diameter * luminance));
        place.balls.push_back({as_v(at), diameter / 2, luminance});
    }

private:
    static Finish finish_of(const Stuff& s) {
        Finish f = matt(s.kind == Stuff::mirror ? 0 : s.back);
        if (s.kind == Stuff::mirror) {
            f.metal = Spectrum{static_cast<float>(s.back)};
            f.roughness = 0;
        }
        f.through = Spectrum{static_cast<float>(s.through)};
        f.pane = s.kind == Stuff::glass;
        f.pane_index = static_cast<float>(s.index);
        f.pane_transmittance = static_cast<float>(s.clear);
        return f;
    }
    void face(const Rectangle& r, const Stuff& stuff) {
        const V across = as_v(r.across) * (2.0 * static_cast<double>(r.half_width));
        const V up = as_v(r.up) * (2.0 * static_cast<double>(r.half_height));
        place.faces.push_back({as_v(r.centre) - across * 0.5 - up * 0.5, across, up, stuff});
    }
};

inline Stuff matt_stuff(double share) {
    Stuff s;
    s.back = share;
    return s;
}
inline Stuff mirror_stuff(double share) {
    Stuff s = matt_stuff(share);
    s.kind = Stuff::mirror;
    return s;
}

/// A room of random size with a window in the near wall, boxes, mirrors, a cloth, glass, two lamps and an even sky.
struct RandomRoom : Both {
    std::vector<MeterPoint> meters;

    explicit RandomRoom(unsigned seed, std::size_t count = 3) {
        std::mt19937_64 r(seed);
        const auto in = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(r); };
        const auto at = [&](double x, double y, double z) {
            return Vec3(static_cast<float>(x), static_cast<float>(y), static_cast<float>(z));
        };
        const auto direction = [&] {
            Vec3 d;
            do d = at(in(-1, 1), in(-1, 1), in(-1, 1));
            while (d.length2() > 1 || d.length2() < 0.01F);
            return d.normalized();
        };
        const double w = in(3, 5), d = in(3, 5), h = in(2.3, 3);
        const double from = in(0.4, 0.8), to = from + in(0.8, 1.4), sill = in(0.6, 1.0), head = sill + in(0.8, 1.2);
        const auto wall = [&](V low, V a, V b, double share) {
            Rectangle s;
            const V middle = low + a * 0.5 + b * 0.5;
            const double la = std::sqrt(dot(a, a)), lb = std::sqrt(dot(b, b));
            s.centre = at(middle.x, middle.y, middle.z);
            s.across = at(a.x / la, a.y / la, a.z / la);
            s.up = at(b.x / lb, b.y / lb, b.z / lb);
            s.normal = s.across.cross(s.up);
            s.half_width = static_cast<float>(la / 2);
            s.half_height = static_cast<float>(lb / 2);
            rectangle(s, matt_stuff(share));
            return s;
        };
        const double o = 0.01;  // past the corners
        wall({-o, -o, 0}, {w + 2 * o, 0, 0}, {0, d + 2 * o, 0}, in(0.1, 0.6));
        wall({-o, -o, h}, {w + 2 * o, 0, 0}, {0, d + 2 * o, 0}, in(0.4, 0.8));
        wall({-o, d, -o}, {w + 2 * o, 0, 0}, {0, 0, h + 2 * o}, in(0.2, 0.7));
        wall({0, -o, -o}, {0, d + 2 * o, 0}, {0, 0, h + 2 * o}, in(0.2, 0.7));
        wall({w, -o, -o}, {0, d + 2 * o, 0}, {0, 0, h + 2 * o}, in(0.2, 0.7));
        const double near = in(0.2, 0.7);
        wall({-o, 0, -o}, {from + o, 0, 0}, {0, 0, h + 2 * o}, near);
        wall({to, 0, -o}, {w + o - to, 0, 0}, {0, 0, h + 2 * o}, near);
        wall({from, 0, -o}, {to - from, 0, 0}, {0, 0, sill + o}, near);
        wall({from, 0, head}, {to - from, 0, 0}, {0, 0, h + o - head}, near);
        const auto openings = std::make_shared<Openings>();
        Rectangle hole =
            facing_rectangle(at((from + to) / 2, 0, (sill + head) / 2), {0, 1, 0}, 0, to - from, head - sill);
        openings->rectangles.push_back(hole);
        openings->upper = at(w, d, h);
        openings->closed = true;
        if (in(0, 1) < 0.6) {
            Stuff glass;
            glass.kind = Stuff::glass;
            glass.index = in(1.2, 1.6);
            glass.clear = in(0.7, 1);
            rectangle(hole, glass);
        }
        for (int i = 0; i < 2; ++i)
            box(at(in(0.8, w - 0.8), in(1.2, d - 0.8), 0.35), at(in(0.3, 0.7), in(0.3, 0.7), 0.69), in(0, 3),
                in(0, 1) < 0.4 ? mirror_stuff(in(0.5, 0.9)) : matt_stuff(in(0.1, 0.8)));
        for (int i = 0; i < 2; ++i)
            rectangle(facing_rectangle(at(in(0.6, w - 0.6), in(0.8, d - 0.6), in(1.2, 1.8)), direction(), 0, in(0.4, 1),
                                       in(0.4, 1)),
                      mirror_stuff(in(0.5, 0.95)));
        Stuff cloth = matt_stuff(in(0.2, 0.5));
        cloth.kind = Stuff::cloth;
        cloth.through = in(0.2, 0.45);
        rectangle(facing_rectangle(at(in(0.8, w - 0.8), in(1, d - 0.8), in(1.2, 2)), direction(), 0, in(0.6, 1.2), 0.8),
                  cloth);
        box_lamp(at(in(0.6, w - 0.6), d - 0.3, in(1.4, 2)), Vec3(0, -1, 0) + direction() * 0.3F, in(0.4, 0.8),
                 in(0.4, 0.8), in(1000, 4000));
        ball_lamp(at(in(0.5, w - 0.5), in(0.8, d - 0.8), h - 0.3), in(0.25, 0.4), in(1000, 4000));
        place.sky = in(1000, 5000);
        place.ground = in(100, 1000);
        scene.lights.add("sky", SkyLight(by_hand::outside(place.sky, place.ground), openings));
        scene.openings = scene.holes = openings;
        scene.lights.settle(scene.mirrors);
        scene.rays.commit();
        while (meters.size() < count) {
            const Vec3 p = at(in(0.3, w - 0.3), in(0.3, d - 0.3), in(0.8, 1.6));
            meters.push_back({MeterKind::flat, p, direction()});
        }
    }
};

}  // namespace rushlight::random_rooms
