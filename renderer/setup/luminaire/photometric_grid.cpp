#include "setup/luminaire/photometric_grid.h"

#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rushlight {

namespace {

std::vector<float> floats(const std::vector<double>& values) {
    return {values.begin(), values.end()};
}

/// A plane of the whole turn: where it lies and which plane of the file it shows.
struct Plane {
    double around;
    std::size_t of;
};

double once_round(double degrees) {
    return degrees - 360 * std::floor(degrees / 360);
}

std::vector<Plane> mirrored(const PhotometricGrid& grid, PlaneSymmetry symmetry) {
    std::vector<Plane> planes;
    const bool about_0 = symmetry == PlaneSymmetry::about_0_180 || symmetry == PlaneSymmetry::quadrants;
    const bool about_90 = symmetry == PlaneSymmetry::about_90_270 || symmetry == PlaneSymmetry::quadrants;
    for (std::size_t i = 0; i < grid.horizontal.size(); ++i) {
        const double a = grid.horizontal[i];
        planes.push_back({once_round(a), i});
        if (about_0) planes.push_back({once_round(-a), i});
        if (about_90) planes.push_back({once_round(180 - a), i});
        if (about_0 && about_90) planes.push_back({once_round(180 + a), i});
    }
    // A mirror image that falls on its original comes later in the list, and goes.
    std::stable_sort(planes.begin(), planes.end(), [](const Plane& a, const Plane& b) { return a.around < b.around; });
    std::vector<Plane> apart;
    for (const Plane& p : planes)
        if (apart.empty() || p.around - apart.back().around > same_angle) apart.push_back(p);
    if (apart.size() > 1 && apart.front().around + 360 - apart.back().around <= same_angle) apart.pop_back();
    return apart;
}

}  // namespace

IntensityTable unfolded_planes(const PhotometricGrid& grid, PlaneSymmetry symmetry, std::vector<std::string>& remarks) {
    const std::vector<float> polar = floats(grid.vertical);
    const std::size_t n = polar.size();
    if (symmetry == PlaneSymmetry::rotation || grid.horizontal.size() == 1) {
        std::vector<float> candela;
        for (std::size_t v = 0; v < n; ++v) candela.push_back(static_cast<float>(grid.at(v, 0)));
        return {PhotometricType::c, polar, {0.0F}, std::move(candela)};
    }
    std::vector<Plane> planes;
    const double first = grid.horizontal.front(), last = grid.horizontal.back();
    if (symmetry == PlaneSymmetry::none && std::abs(last - first - 360) <= same_angle) {
        // The file closes the turn itself; what it says of both ends is kept.
        for (std::size_t h = 0; h < grid.horizontal.size(); ++h) planes.push_back({grid.horizontal[h], h});
        planes.back().around = first + 360;
        double most = 0, apart = 0;
        for (std::size_t v = 0; v < n; ++v) {
            const double a = grid.at(v, 0), b = grid.at(v, grid.horizontal.size() - 1);
            most = std::max({most, a, b});
            apart = std::max(apart, std::abs(a - b));
        }
        if (apart > 0.01 * most)
            remarks.push_back("the planes at " + plain(first) + " and " + plain(last) +
                              " degrees are one, but differ by " + plain(std::round(100 * apart / most)) +
                              " %; each is used up to there");
    } else {
        planes = mirrored(grid, symmetry);
        planes.push_back({planes.front().around + 360, planes.front().of});
    }
    std::vector<float> around, candela;
    candela.reserve(planes.size() * n);
    for (const Plane& p : planes) {
        around.push_back(static_cast<float>(p.around));
        for (std::size_t v = 0; v < n; ++v) candela.push_back(static_cast<float>(grid.at(v, p.of)));
    }
    return {PhotometricType::c, polar, around, std::move(candela)};
}

namespace {

struct Mirrored {
    std::vector<double> angles;
    std::vector<std::size_t> of;
};
Mirrored both_sides(const std::vector<double>& angles) {
    Mirrored m;
    if (std::abs(angles.front()) <= same_angle)
        for (std::size_t i = angles.size(); i-- > 1;) {
            m.angles.push_back(-angles[i]);
            m.of.push_back(i);
        }
    for (std::size_t i = 0; i < angles.size(); ++i) {
        m.angles.push_back(angles[i]);
        m.of.push_back(i);
    }
    return m;
}

}  // namespace

IntensityTable unfolded_floodlight(const PhotometricGrid& grid, PhotometricType type) {
    const Mirrored up = both_sides(grid.vertical), right = both_sides(grid.horizontal);
    // The angle that counts from the poles: to the right for type B, up for type A.
    const bool b = type == PhotometricType::b;
    const Mirrored& tilt = b ? right : up;
    const Mirrored& turn = b ? up : right;
    std::vector<float> polar, around, candela;
    for (std::size_t i = tilt.angles.size(); i-- > 0;) polar.push_back(static_cast<float>(90 - tilt.angles[i]));
    for (std::size_t j = 0; j < turn.angles.size(); ++j) {
        around.push_back(static_cast<float>(turn.angles[j]));
        for (std::size_t i = tilt.angles.size(); i-- > 0;)
            candela.push_back(
                static_cast<float>(b ? grid.at(turn.of[j], tilt.of[i]) : grid.at(tilt.of[i], turn.of[j])));
    }
    return {type, polar, around, std::move(candela)};
}

void settle_vertical_ends(PhotometricGrid& grid, std::vector<std::string>& remarks) {
    constexpr double near_by = 10;  // degrees: a step that somebody left out, rather than a dark part
    double& first = grid.vertical.front();
    if (std::abs(first) <= same_angle) {
        first = 0;
    } else if (std::abs(first - 90) > same_angle) {
        const bool held = first < near_by;
        remarks.push_back("the vertical angles begin at " + plain(first) +
                          (held ? "; the first value is taken to hold from 0 on" : "; it is dark before that"));
        if (held) {
            const std::size_t planes = grid.horizontal.size(), n = grid.vertical.size();
            std::vector<double> candela;
            candela.reserve(planes * (n + 1));
            for (std::size_t h = 0; h < planes; ++h)
                for (std::size_t v = 0; v <= n; ++v) candela.push_back(grid.at(v == 0 ? 0 : v - 1, h));
            grid.candela = std::move(candela);
            grid.vertical.insert(grid.vertical.begin(), 0.0);
        }
    }
    double& end = grid.vertical.back();
    if (std::abs(end - 180) <= same_angle) {
        end = 180;
    } else if (std::abs(end - 90) > same_angle) {
        remarks.push_back("the vertical angles end at " + plain(end) + "; it is dark beyond");
    }
}

}  // namespace rushlight
