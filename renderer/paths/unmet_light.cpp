#include "paths/unmet_light.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

UnmetLight::UnmetLight(const Scene& scene, const std::vector<MeterPoint>& meters, const FirstWalks& first)
    : scene_(scene), sources_(scene.lights.layers()), thrown_(first.thrown.missed) {
    unhindered_.reserve(meters.size() * sources_);
    for (const MeterPoint& m : meters) {
        // A spot is a small circle, which its walks cover.
        spot_.push_back(m.kind == MeterKind::spot);
        const std::vector<float> lux =
            spot_.back() ? std::vector<float>(sources_) : unhindered(first.paths, m, sources_);
        unhindered_.insert(unhindered_.end(), lux.begin(), lux.end());
    }
}

double UnmetLight::walks_of(std::size_t source, const Walks& walks) const {
    // Patches of sky share the walks of the sky.
    const std::size_t light = source < scene_.lights.count() ? source : static_cast<std::size_t>(scene_.lights.sky());
    return std::max(1.0, walks.from_meter + walks.from_lights * static_cast<double>(scene_.lights.start_chance(light)));
}

float UnmetLight::in_a_pass(std::size_t meter, const Sharing& sharing) const {
    double lux = 0;
    for (std::size_t s = 0; s < sources_; ++s)
        lux += static_cast<double>(unhindered_[meter * sources_ + s]) /
               walks_of(s, {static_cast<double>(sharing.light_paths), static_cast<double>(sharing.camera_paths)});
    return static_cast<float>(lux);
}

std::vector<float> UnmetLight::errors(const MeterResults& results, const std::vector<Walks>& walks) const {
    std::vector<float> errors(unhindered_.size());
    for (std::size_t m = 0; m < spot_.size(); ++m)
        for (std::size_t s = 0; s < sources_; ++s) {
            const std::size_t i = m * sources_ + s;
            const float by_mirrors = spot_[m] || thrown_.empty() ? 0.0F : thrown_[s];
            const auto one_path = static_cast<float>(static_cast<double>(unhindered_[i]) / walks_of(s, walks[m]));
            // What reads less than one path may bring is as good as not met: such is what seeps through a seam.
            const bool met = photometric(results.light(m, s)) > one_path;
            errors[i] = std::hypot(by_mirrors, met ? 0.0F : one_path);
        }
    return errors;
}

}  // namespace rushlight
