#include "scene/surface/forward_lobe.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {
constexpr float one_over_pi = static_cast<float>(1.0 / pi);
}  // namespace

ForwardLobe::ForwardLobe(double spread) {
    const double half = radians(Degree{std::clamp(spread, 1.0, as_good_as_lambert)}) / 2;
    const double m = std::log(0.5) / std::log(std::cos(half)) - 1;
    power_ = static_cast<float>(m);
    // The bare lobe's hemispherical share at each incidence: over rings about the straight way, of which the part in
    // front of the cloth is taken with its cosine.
    constexpr int rings = 96, around = 64;
    double lost = 0, weights = 0;
    for (int i = 0; i <= steps; ++i) {
        const double c = static_cast<double>(i) / steps, s = std::sqrt(1 - c * c);
        double sum = 0;
        for (int r = 0; r < rings; ++r) {
            // Even steps of cos^(m + 1) fill the lobe evenly: cos^m sin d(bend) = d(cos^(m+1)) / (m + 1).
            const double bend = std::pow((r + 0.5) / rings, 1 / (m + 1)), across = std::sqrt(1 - bend * bend);
            for (int k = 0; k < around; ++k)
                sum += std::max(0.0, c * bend + s * across * std::cos(2 * pi * (k + 0.5) / around));
        }
        const double share = std::min(1.0, (m + 2) / (m + 1) * sum / (rings * around));
        kept_[static_cast<std::size_t>(i)] = static_cast<float>(share);
        const double weight = c * (i == 0 || i == steps ? 0.5 : 1);
        lost += weight * (1 - share);
        weights += weight;
    }
    lost_on_average_ = static_cast<float>(lost / weights);
}

float ForwardLobe::kept(float cosine) const {
    const float at = std::clamp(std::abs(cosine), 0.0F, 1.0F) * steps;
    const int i = std::min(static_cast<int>(at), steps - 1);
    const float t = at - static_cast<float>(i);
    const auto k = static_cast<std::size_t>(i);
    return kept_[k] + t * (kept_[k + 1] - kept_[k]);
}

float ForwardLobe::scattered(float cos_in, float cos_out, float cos_bend) const {
    float f = cos_bend > 0 ? (power_ + 2) * (0.5F / pi_f) * std::pow(cos_bend, power_) : 0.0F;
    if (lost_on_average_ > 1e-6F) f += (1 - kept(cos_in)) * (1 - kept(cos_out)) * one_over_pi / lost_on_average_;
    return f;
}

float ForwardLobe::lobe_density(float cos_bend) const {
    return cos_bend > 0 ? (power_ + 1) * (0.5F / pi_f) * std::pow(cos_bend, power_) : 0.0F;
}

float ForwardLobe::drawn_bend(float u) const {
    return std::pow(std::max(u, 1e-12F), 1 / (power_ + 1));
}

}  // namespace rushlight
