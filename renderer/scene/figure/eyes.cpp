#include "scene/figure/eyes.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// Part of a ball round the x axis, from `inner` to `outer` off its pole, where `has` names the spokes to be kept.
template <class Has>
Mesh band_of_ball(const char* name, float forward, float radius, float inner, float outer, int rings, const Has& has) {
    constexpr int spokes = 72;
    Mesh m;
    m.name = name;
    for (int r = 0; r <= rings; ++r)
        for (int s = 0; s < spokes; ++s) {
            const float off = inner + (outer - inner) * static_cast<float>(r) / static_cast<float>(rings);
            const float turn = static_cast<float>(2 * pi) * static_cast<float>(s) / spokes;
            const Vec3 n(std::cos(off), std::sin(off) * std::cos(turn), std::sin(off) * std::sin(turn));
            m.positions.push_back(Vec3(forward, 0, 0) + n * radius);
            m.normals.push_back(n);
        }
    const auto at = [](int r, int s) { return static_cast<std::uint32_t>(r * spokes + s % spokes); };
    for (int s = 0; s < spokes; ++s)
        for (int r = 0; r < rings; ++r) {
            if (!has(s, r)) continue;
            m.triangles.push_back({at(r, s), at(r + 1, s), at(r + 1, s + 1)});
            if (inner > 0 || r > 0) m.triangles.push_back({at(r, s), at(r + 1, s + 1), at(r, s + 1)});
        }
    return m;
}

/// Threads run from the pupil outwards, each a spoke or two wide, and thin out to the rim.
bool thread(int spoke, int ring, int rings) {
    const auto hash = static_cast<std::uint32_t>(spoke / 2 + 7) * 2654435761U;
    const int from = static_cast<int>(hash >> 30U), to = rings - 2 + static_cast<int>(hash >> 27U & 1U);
    return (hash >> 20U & 3U) != 0 && ring >= from && ring < to && (spoke % 2 == 0 || (hash >> 16U & 1U) != 0);
}

}  // namespace

/// An iris 11.8 mm wide under a cornea of 7.8 mm, a pupil of 4 mm (ophthalmology texts, from memory).
std::shared_ptr<const EyeMeshes> eye_meshes() {
    constexpr float pupil = 0.26F, iris = 0.74F, limbus = 0.88F;
    constexpr int rings = 8;
    static const auto eye = [] {
        const auto whole = [](int, int) { return true; };
        EyeMeshes e;
        e.white = band_of_ball("white of the eye", 0, 1, 0.38F, static_cast<float>(0.62 * pi), 14, whole);
        e.limbus = band_of_ball("rim of the iris", 0, cornea_radius, iris, limbus, 4, whole);
        e.iris = band_of_ball("iris", 0, cornea_radius, pupil, iris, rings,
                              [](int s, int r) { return !thread(s, r, rings); });
        e.fibres = band_of_ball("threads of the iris", 0, cornea_radius, pupil, iris, rings,
                                [](int s, int r) { return thread(s, r, rings); });
        e.pupil = band_of_ball("pupil", 0, cornea_radius, 0, pupil, 6, whole);
        return std::make_shared<const EyeMeshes>(std::move(e));
    }();
    return eye;
}

/// Eyes turn some 35 degrees to the side and 25 up and down before the head follows (ophthalmology texts, from memory).
Vec3 look_from(const Vec3& eye, const std::optional<Vec3>& target) {
    if (!target) return {1, 0, 0};
    constexpr float aside = 0.61F, upward = 0.44F;
    const Vec3 way = *target - eye;
    const float turn = std::clamp(std::atan2(way.y, way.x), -aside, aside);
    const float lift = std::clamp(std::atan2(way.z, std::hypot(way.x, way.y)), -upward, upward);
    return {std::cos(lift) * std::cos(turn), std::cos(lift) * std::sin(turn), std::sin(lift)};
}

}  // namespace rushlight
