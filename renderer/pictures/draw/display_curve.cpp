#include "pictures/draw/display_curve.h"

#include "quantity/colour.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

constexpr double contrast = 0.15;  // display values a stop at grey
constexpr double least_power = 1.25;

double luminance(const LinearRgb& c) {  // ITU-R BT.709
    return 0.2126 * static_cast<double>(c.r) + 0.7152 * static_cast<double>(c.g) + 0.0722 * static_cast<double>(c.b);
}

// Share of a reach that is kept, so that reach * share never passes 1: near 1 for short reaches, near
// 1 / reach for long ones. The higher the power, the later it bends.
double bent(double reach, double power) {
    return reach > 0 ? 1 / std::pow(1 + std::pow(reach, power), 1 / power) : 1.0;
}

}  // namespace

DisplayCurve::DisplayCurve(double headroom, double footroom)
    : headroom_(std::max(headroom, 0.1)),
      footroom_(std::max(footroom, 0.1)),
      grey_(srgb_encoded(static_cast<float>(grey_reflectance))) {
    const double slope = std::max({contrast, least_power * (1 - grey_) / headroom_, least_power * grey_ / footroom_});
    upper_power_ = slope * headroom_ / (1 - grey_);
    lower_power_ = slope * footroom_ / grey_;
}

double DisplayCurve::value(double stops) const {
    if (!(stops > -footroom_)) return 0;
    if (stops >= headroom_) return 1;
    if (stops < 0) return grey_ * std::pow(1 + stops / footroom_, lower_power_);
    return grey_ + (1 - grey_) * (1 - std::pow(1 - stops / headroom_, upper_power_));
}

double DisplayCurve::light(double scene) const {
    if (!(scene > 0)) return 0;
    return srgb_decoded(static_cast<float>(value(std::log2(scene / grey_reflectance))));
}

LinearRgb displayed(const LinearRgb& scene, const DisplayCurve& curve) {
    const double y = luminance(scene);
    if (!(y > 0) || !std::isfinite(y)) return {};
    const double shown = curve.light(y);
    if (shown <= 0) return {};
    if (shown >= 1) return {1, 1, 1};
    const double c[3] = {scene.r / y * shown, scene.g / y * shown, scene.b / y * shown};

    // How far the strongest channel reaches towards the top of the display's range, and the weakest towards
    // the bottom: 1 is just reached. The top bends early, as highlights fade; the bottom late, so that deep
    // colours stay deep.
    const double over = (*std::max_element(c, c + 3) - shown) / (1 - shown);
    const double under = (shown - *std::min_element(c, c + 3)) / shown;
    const double kept = bent(over, 3) * bent(under, 8);
    const auto channel = [&](double v) { return static_cast<float>(std::clamp(shown + kept * (v - shown), 0.0, 1.0)); };
    return {channel(c[0]), channel(c[1]), channel(c[2])};
}

}  // namespace rushlight
