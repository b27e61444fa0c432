// The view of a meter at a point: luminance over the directions that it weighs, in Lambert's azimuthal equal-area
// projection about the way it faces. Equal areas of the disc are equal solid angles.
#pragma once

#include "results/light/kept_light.h"
#include "scene/scene.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct Sphere {
    int side = 0;        // pixels across; the disc fills the square
    bool whole = false;  // all round (a dome), else the half that a flat receptor sees
    Vec3 at{0, 0, 0}, facing{0, 0, 1}, right{1, 0, 0}, up{0, 1, 0};
    std::vector<float> luminance;      // cd/m2, row by row from the top; NaN outside the disc
    std::vector<float> calm;           // the same without its noise, for colours; empty where there is no network
    std::vector<float> distance;       // m to what is seen first; infinity where nothing is
    std::vector<std::uint32_t> group;  // of the last surface there
    std::vector<float> weight;         // lux that a luminance of one gives from here: response times solid angle
    double noise = 0, seconds = 0;

    std::size_t pixels() const { return luminance.size(); }
    /// Direction at x, y in pixels from the upper left corner; nothing outside the disc.
    std::optional<Vec3> direction(double x, double y) const;
    /// Where a direction falls, in pixels; false where it is not on the disc.
    bool project(const Vec3& toward, double& x, double& y) const;
    /// Sum of weight times luminance, lux: what the meter reads but for what is too small to be met by chance.
    double lux() const;
};

/// Traced until a pixel's noise is the wanted one, as a mean.
Sphere look_around(const Scene& scene, const MeterPoint& meter, const LastSurfaces& surfaces, int side,
                   const Effort& effort, KeptLight& light);

}  // namespace rushlight
