// What stands in front of the windows.
#include "scene/surface/chance.h"
#include "quantity/units.h"
#include "scene/furniture/joinery.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

Finish glossy(std::string name, double reflectance, float gloss, float roughness) {
    Finish f;
    f.name = std::move(name);
    f.reflectance = reflectance_of("neutral", reflectance).value();
    f.gloss = gloss;
    f.roughness = roughness;
    return f;
}

/// A room behind glass by day: what comes out again, and the sky in the pane.
const Finish& dark_window() {
    static const Finish f = glossy("dark window", 0.03, 0.08F, 0.08F);
    return f;
}

}  // namespace

/// A trunk, and leaves that hang every way in an egg, more of them towards its skin. Some 35 % of the sky shows through
/// its middle: common practice, no source.
void make_tree(Joinery& j) {
    static const Finish bark = [] {
        Finish f = glossy("bark", 0.12, 0, 0.5F);
        f.reflectance = reflectance_of("brown", 0.12).value();
        return f;
    }();
    const float crown = 0.72F * j.height, low = j.height - crown, r = std::min(j.width, j.depth) / 2;
    j.post(bark, {0, 0, 0}, low + 0.45F * crown, 0.035F * j.height * 0.8F, 0.012F * j.height);
    constexpr std::uint32_t leaves = 7000;
    const float half = 0.027F * std::cbrt(r * r * crown);
    for (std::uint32_t i = 0; i < leaves; ++i) {
        const float z = 2 * chance(i, 21) - 1, a = 2 * pi_f * chance(i, 22), across = std::sqrt(1 - z * z);
        const float out = std::pow(chance(i, 23), 0.4F) * (0.88F + 0.12F * std::sin(5 * a + 4 * z));
        const Vec3 at(out * across * std::cos(a) * (j.width / 2), out * across * std::sin(a) * (j.depth / 2),
                      low + crown * (0.5F + 0.5F * out * z));
        const float tilt = 2 * pi_f * chance(i, 24), turn = pi_f * chance(i, 25);
        const Frame f(Vec3(std::cos(tilt) * std::sin(turn), std::sin(tilt) * std::sin(turn), std::cos(turn)));
        const float size = half * (0.6F + 0.8F * chance(i, 26));
        const Vec3 u = f.x * size, v = f.y * (0.6F * size);
        j.leaf(j.own, at - u, at - v, at + u, at + v);
    }
}

void make_car(Joinery& j) {
    static const Finish tyre = glossy("tyre", 0.04, 0, 0.5F), trim = glossy("trim", 0.05, 0.04F, 0.2F);
    // Its length is the longer side; it drives along x.
    const float x = j.width / 2, y = j.depth / 2, waist = 0.6F * j.height, under = 0.17F * j.height;
    j.cushion(j.own, {-x, -y, under}, {x, y, waist}, 0.16F * j.height);
    const Vec3 least(-0.5F * x, -0.86F * y, waist - 0.16F * j.height), most(0.62F * x, 0.86F * y, j.height);
    j.cushion(dark_window(), least + Vec3(0.01F, -0.004F, 0), most + Vec3(-0.01F, 0.004F, -0.07F * j.height),
              0.2F * j.height);
    j.cushion(j.own, {least.x + 0.1F * x, least.y + 0.02F, j.height - 0.14F * j.height},
              {most.x - 0.08F * x, most.y - 0.02F, j.height}, 0.09F * j.height);
    const float wheel = 0.22F * j.height;
    for (const float sx : {-1.0F, 1.0F})
        for (const float sy : {-1.0F, 1.0F}) {
            const Vec3 at(sx * 0.62F * x, sy * 0.9F * y, wheel);
            const Vec3 half(wheel, 0.12F * y, wheel);
            j.cushion(tyre, {at.x - wheel, std::max(at.y - half.y, -y), 0},
                      {at.x + wheel, std::min(at.y + half.y, y), 2 * wheel}, wheel);
        }
    j.block(trim, {-x - 0.0F, -0.5F * y, under + 0.06F * j.height}, {-x + 0.02F, 0.5F * y, under + 0.12F * j.height});
}

/// A wall of storeys with windows in it, a quarter of it glass; a door below; a cornice.
void make_house_front(Joinery& j) {
    static const Finish frame = glossy("window frame", 0.6, 0, 0.5F), door = glossy("house door", 0.07, 0.04F, 0.15F);
    const float x = j.width / 2, y = j.depth / 2, recess = std::min(0.14F, 0.3F * j.depth), face = -y + 0.12F;
    const int storeys = std::max(1, static_cast<int>(std::lround(j.height / 3.2F)));
    const int bays = std::max(1, static_cast<int>(std::lround(j.width / 2.6F)));
    const float bay = j.width / static_cast<float>(bays), storey = (j.height - 0.4F) / static_cast<float>(storeys);
    const float w = 0.44F * bay, h = 0.56F * storey;
    // Behind the face stands the rest of the house.
    j.block({-x, face + recess, 0}, {x, y, j.height});
    for (int s = 0; s < storeys; ++s) {
        const float floor = storey * static_cast<float>(s), sill = floor + 0.26F * storey, head = sill + h;
        j.block({-x, face, head}, {x, face + recess, floor + storey});
        for (int b = 0; b < bays; ++b) {
            const float left = -x + bay * static_cast<float>(b), a = left + (bay - w) / 2, e = a + w;
            const bool is_door = s == 0 && b == bays / 2;
            const float bottom = is_door ? 0 : sill;
            j.block({left, face, floor}, {a, face + recess, head});
            j.block({e, face, floor}, {left + bay, face + recess, head});
            if (!is_door) j.block({a, face, floor}, {e, face + recess, sill});
            j.block(is_door ? door : dark_window(), {a, face + recess - 0.02F, bottom},
                    {e, face + recess - 0.01F, head});
            if (is_door) continue;
            j.block({a - 0.06F, face - 0.06F, sill - 0.07F}, {e + 0.06F, face, sill});
            constexpr float bar = 0.03F;
            const float front = face + recess - 0.05F, back = face + recess - 0.02F, mid = (a + e) / 2;
            j.block(frame, {a, front, sill}, {a + bar, back, head});
            j.block(frame, {e - bar, front, sill}, {e, back, head});
            j.block(frame, {mid - bar / 2, front, sill}, {mid + bar / 2, back, head});
            j.block(frame, {a, front, head - bar}, {e, back, head});
            j.block(frame, {a, front, sill}, {e, back, sill + bar});
            j.block(frame, {a, front, sill + h * 0.62F}, {e, back, sill + h * 0.62F + bar});
        }
    }
    j.block({-x, face, j.height - 0.4F}, {x, face + recess, j.height - 0.22F});
    j.block({-x, -y, j.height - 0.22F}, {x, face + recess, j.height});
}

}  // namespace rushlight
