#include "scene/light/sky_patches.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

SkyPatches::SkyPatches(int rings) {
    first_.push_back(0);
    for (int i = 0; i < rings; ++i) {
        const double altitude = pi / 2 * (i + 0.5) / rings;
        first_.push_back(first_.back() + static_cast<std::size_t>(std::lround(4.0 * rings * std::cos(altitude))));
    }
}

std::size_t SkyPatches::of(const Vec3& toward) const {
    const std::size_t rings = first_.size() - 1;
    const double height = std::asin(std::clamp(static_cast<double>(toward.z), 0.0, 1.0)) / (pi / 2);
    const auto ring = std::min(static_cast<std::size_t>(height * static_cast<double>(rings)), rings - 1);
    const std::size_t sectors = first_[ring + 1] - first_[ring];
    const double turn = std::atan2(static_cast<double>(toward.y), static_cast<double>(toward.x)) / (2 * pi) + 0.5;
    return first_[ring] + std::min(static_cast<std::size_t>(turn * static_cast<double>(sectors)), sectors - 1);
}

std::vector<float> SkyPatches::relative_luminance(const Daylight& outside) const {
    constexpr int places = 5;
    const std::size_t rings = first_.size() - 1;
    std::vector<float> means;
    means.reserve(count());
    for (std::size_t ring = 0; ring < rings; ++ring) {
        const double low = std::sin(pi / 2 * static_cast<double>(ring) / static_cast<double>(rings));
        const double high = std::sin(pi / 2 * static_cast<double>(ring + 1) / static_cast<double>(rings));
        const std::size_t sectors = first_[ring + 1] - first_[ring];
        for (std::size_t sector = 0; sector < sectors; ++sector) {
            double sum = 0;
            for (int i = 0; i < places; ++i)
                for (int j = 0; j < places; ++j) {
                    // Equal steps of the sine of the altitude are equal steps of solid angle.
                    const double up = low + (high - low) * (i + 0.5) / places;
                    const double across = std::sqrt(1 - up * up);
                    const double turn =
                        (static_cast<double>(sector) + (j + 0.5) / places) / static_cast<double>(sectors) * 2 * pi - pi;
                    sum += outside.sky.relative_luminance({static_cast<float>(across * std::cos(turn)),
                                                           static_cast<float>(across * std::sin(turn)),
                                                           static_cast<float>(up)});
                }
            means.push_back(static_cast<float>(sum / (places * places)));
        }
    }
    return means;
}

}  // namespace rushlight
