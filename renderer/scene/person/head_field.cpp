#include "scene/person/head_field.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

constexpr std::uint32_t nobody = std::numeric_limits<std::uint32_t>::max();

/// Far from every corner its own plane says little; near it, it is the surface.
float signed_distance(const Vec3& off, const Vec3& normal) {
    const float plane = off.dot(normal), length = off.length();
    const float sideways = std::sqrt(std::max(0.0F, length * length - plane * plane));
    const float trusted = std::clamp(1.5F - sideways / 5, 0.0F, 1.0F);  // mm: about half an edge of the surface
    return plane * trusted + std::copysign(length, plane) * (1 - trusted);
}

}  // namespace

/// Each node takes the nearest corner of its neighbours' (Danielsson, Computer Graphics and Image Processing 14, 1980),
/// swept forth and back.
DistanceGrid::DistanceGrid(const Vec3& low, const Vec3& high, float step, const Surroundings& of)
    : low_(low), step_(step) {
    for (int i = 0; i < 3; ++i) n_.at(static_cast<std::size_t>(i)) = 2 + static_cast<int>((high[i] - low[i]) / step);
    const std::size_t count =
        static_cast<std::size_t>(n_[0]) * static_cast<std::size_t>(n_[1]) * static_cast<std::size_t>(n_[2]);
    std::vector<std::uint32_t> nearest(count, nobody);
    std::vector<float> reach(count, std::numeric_limits<float>::max());
    const auto node = [&](int x, int y, int z) {
        return low_ + Vec3(static_cast<float>(x), static_cast<float>(y), static_cast<float>(z)) * step_;
    };
    const auto offer = [&](int x, int y, int z, std::uint32_t corner) {
        if (corner == nobody) return;
        const std::size_t i = index(x, y, z);
        if (nearest[i] == corner) return;
        const float d = (node(x, y, z) - of.points[corner]).length2();
        if (d >= reach[i]) return;
        reach[i] = d;
        nearest[i] = corner;
    };
    for (std::uint32_t c = 0; c < of.points.size(); ++c) {
        const Vec3 at = (of.points[c] - low_) / step_;
        std::array<int, 3> cell{};
        bool within = true;
        for (int i = 0; i < 3; ++i) {
            cell.at(static_cast<std::size_t>(i)) = static_cast<int>(std::floor(at[i]));
            within = within && at[i] >= 0 && at[i] < static_cast<float>(n_.at(static_cast<std::size_t>(i)) - 1);
        }
        if (!within) continue;
        for (int k = 0; k < 8; ++k) offer(cell[0] + (k & 1), cell[1] + (k >> 1 & 1), cell[2] + (k >> 2), c);
    }
    const auto sweep = [&](int way) {
        const auto in_turn = [&](int i, int n) { return way > 0 ? i : n - 1 - i; };
        for (int k = 0; k < n_[2]; ++k)
            for (int j = 0; j < n_[1]; ++j)
                for (int i = 0; i < n_[0]; ++i) {
                    const int x = in_turn(i, n_[0]), y = in_turn(j, n_[1]), z = in_turn(k, n_[2]);
                    for (const auto& [a, b, c] : {std::array{way, 0, 0},
                                                  {0, way, 0},
                                                  {0, 0, way},
                                                  {way, way, 0},
                                                  {way, 0, way},
                                                  {0, way, way},
                                                  {-way, way, 0},
                                                  {-way, 0, way},
                                                  {0, -way, way}}) {
                        const int u = x - a, v = y - b, w = z - c;
                        if (u < 0 || v < 0 || w < 0 || u >= n_[0] || v >= n_[1] || w >= n_[2]) continue;
                        offer(x, y, z, nearest[index(u, v, w)]);
                    }
                }
    };
    for (const int way : {1, -1, 1}) sweep(way);
    distance_.resize(count);
    for (int z = 0; z < n_[2]; ++z)
        for (int y = 0; y < n_[1]; ++y)
            for (int x = 0; x < n_[0]; ++x) {
                const std::size_t i = index(x, y, z);
                distance_[i] = nearest[i] == nobody
                                   ? 1e3F
                                   : signed_distance(node(x, y, z) - of.points[nearest[i]], of.normals[nearest[i]]);
            }
}

bool DistanceGrid::holds(const Vec3& p) const {
    for (int i = 0; i < 3; ++i) {
        const float at = (p[i] - low_[i]) / step_;
        if (!(at >= 0 && at < static_cast<float>(n_.at(static_cast<std::size_t>(i)) - 1))) return false;
    }
    return true;
}

float DistanceGrid::operator()(const Vec3& p) const {
    std::array<int, 3> cell{};
    Vec3 part;
    for (int i = 0; i < 3; ++i) {
        const int most = n_.at(static_cast<std::size_t>(i)) - 2;
        const float at = std::clamp((p[i] - low_[i]) / step_, 0.0F, static_cast<float>(most) + 0.999F);
        cell.at(static_cast<std::size_t>(i)) = std::min(static_cast<int>(at), most);
        part[i] = at - static_cast<float>(cell.at(static_cast<std::size_t>(i)));
    }
    const auto row = [&](int y, int z) {
        const std::size_t i = index(cell[0], cell[1] + y, cell[2] + z);
        return distance_[i] + (distance_[i + 1] - distance_[i]) * part.x;
    };
    const float low = row(0, 0) + (row(1, 0) - row(0, 0)) * part.y, high = row(0, 1) + (row(1, 1) - row(0, 1)) * part.y;
    return low + (high - low) * part.z;
}

HeadField::HeadField(const Surroundings& bald_head, const Surroundings& all)
    : bare_({-150, -110, -190}, {140, 110, 150}, 4.5F, bald_head),
      near_({-150, -110, -190}, {140, 110, 150}, 4.5F, all),
      around_({-230, -270, -560}, {190, 270, 160}, 10, all) {}

}  // namespace rushlight
