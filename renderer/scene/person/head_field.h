// How far points are from a head, and from the shoulders under it: what hair grows on, lies on and hangs over. Sampled
// on two grids, for a hundred thousand hairs ask many times each.
#pragma once

#include "quantity/space.h"

#include <array>
#include <cstdint>
#include <vector>

namespace rushlight {

/// Corners of a surface with the ways out of it.
struct Surroundings {
    std::vector<Vec3> points, normals;
};

/// Signed distances on an even grid, negative inside; from the nearest corner and the plane through it.
class DistanceGrid {
public:
    DistanceGrid(const Vec3& low, const Vec3& high, float step, const Surroundings& of);
    float operator()(const Vec3& p) const;
    bool holds(const Vec3& p) const;

private:
    std::size_t index(int x, int y, int z) const {
        return (static_cast<std::size_t>(z) * static_cast<std::size_t>(n_[1]) + static_cast<std::size_t>(y)) *
                   static_cast<std::size_t>(n_[0]) +
               static_cast<std::size_t>(x);
    }
    Vec3 low_;
    float step_;
    std::array<int, 3> n_{};
    std::vector<float> distance_;
};

/// In the head's millimetres.
class HeadField {
public:
    /// `bald_head`: the head without its ears; `all`: with them, neck, shoulders and what is worn there.
    HeadField(const Surroundings& bald_head, const Surroundings& all);
    float bare(const Vec3& p) const { return bare_.holds(p) ? bare_(p) : around_(p); }
    float all(const Vec3& p) const { return near_.holds(p) ? near_(p) : around_(p); }

private:
    DistanceGrid bare_, near_, around_;
};

}  // namespace rushlight
