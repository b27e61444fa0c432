// The values of a photometric file as they stand in it, and how its symmetry unfolds them into a whole table.
#pragma once

#include "setup/luminaire/intensity_table.h"

#include <cstddef>
#include <string>
#include <vector>

namespace rushlight {

struct PhotometricGrid {
    std::vector<double> vertical, horizontal;  // degrees, rising
    std::vector<double> candela;               // for each horizontal angle one value a vertical angle

    double& at(std::size_t v, std::size_t h) { return candela[h * vertical.size() + v]; }
    double at(std::size_t v, std::size_t h) const { return candela[h * vertical.size() + v]; }
};

inline constexpr std::size_t most_angles = 2000;          // in one list
inline constexpr std::size_t most_intensities = 500'000;  // in one file
/// Two angles of a file that differ by no more than this are the same.
inline constexpr double same_angle = 0.02;  // degrees

/// How the C planes of a file stand for those that it leaves out.
enum class PlaneSymmetry { rotation, quadrants, about_0_180, about_90_270, none };

/// Type C. Mirrors the planes, and closes the turn from the last plane to the first where the file does not;
/// says so in `remarks`. The planes must span what the symmetry asks for.
IntensityTable unfolded_planes(const PhotometricGrid& grid, PlaneSymmetry symmetry, std::vector<std::string>& remarks);

/// Types A and B, mirrored where a list starts at 0. Vertical is the angle up, horizontal to the right.
IntensityTable unfolded_floodlight(const PhotometricGrid& grid, PhotometricType type);

/// Where a list of angles begins off 0 or 90 by a small step, its first value is taken to hold up to there; a list
/// that ends short of 90 or 180 is dark beyond. Both are said in `remarks`.
void settle_vertical_ends(PhotometricGrid& grid, std::vector<std::string>& remarks);

}  // namespace rushlight
