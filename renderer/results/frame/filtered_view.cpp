#include "results/frame/filtered_view.h"

#include "results/frame/frames.h"
#include "results/frame/lens_filters.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rushlight {

namespace {

// Coarse enough to be quick, fine enough for the core of a mist: under half a degree a pixel at any usual lens.
constexpr int wide = 192;
// Noise of a pixel: a bell takes the mean of hundreds of them. Surer spots need a surer veil.
constexpr double noise = 0.3, least_noise = 0.02, over_a_spot = 30;

/// Variance of the mean that a bell of `width_at_half` degrees takes over independent pixels with these variances: the
/// squares of a bell's weights are a bell sqrt 2 narrower, whose sum is 1 / (4 pi sigma^2).
std::vector<double> variance_under(double width_at_half, const std::vector<float>& error, int width, int height,
                                   double pixels_per_tangent) {
    std::vector<Tristimulus> squares(error.size());
    for (std::size_t i = 0; i < error.size(); ++i) {
        const double e = static_cast<double>(error[i]);
        squares[i].y = std::isfinite(e) ? e * e : 0;
    }
    const double narrow = width_at_half / std::numbers::sqrt2;
    spread(squares, width, height, {1, narrow, narrow}, pixels_per_tangent);
    const double sigma = bell_sigma(width_at_half, pixels_per_tangent);
    const double together = std::max(1.0, 4 * std::numbers::pi * sigma * sigma);
    std::vector<double> variance(error.size());
    for (std::size_t i = 0; i < error.size(); ++i) variance[i] = squares[i].y / together;
    return variance;
}

}  // namespace

FilteredView::FilteredView(const Camera& camera, int width, int height, std::vector<Tristimulus> light,
                           const std::vector<float>& error)
    : camera_(camera), view_(camera, width, height), width_(width), height_(height) {
    const double per_tangent = static_cast<double>(view_.pixels_per_tangent());
    Camera veiling = camera;
    veiling.mist.share = camera.mist.share > 0 ? 1 : 0;  // nothing is left but what is spread
    through_filters(light, width, height, veiling);
    veil_.assign(light.size(), 0);
    veil_error_.assign(light.size(), 0);
    if (!(camera.mist.share > 0)) return;
    const auto core = variance_under(camera.mist.core, error, width, height, per_tangent);
    const auto skirt = variance_under(camera.mist.skirt, error, width, height, per_tangent);
    for (std::size_t i = 0; i < light.size(); ++i) {
        veil_[i] = camera.mist.share * light[i].y;
        // As if the two bells went wrong together.
        veil_error_[i] = camera.mist.share * (std::sqrt(core[i]) + std::sqrt(skirt[i])) / 2;
    }
}

Measured FilteredView::on_sensor(const MeterPoint& spot, const Measured& luminance) const {
    float px = 0, py = 0;
    if (!view_.project(spot.at + spot.facing, px, py) || !view_.in_picture(px, py)) return luminance;
    const double x = static_cast<double>(px), y = static_cast<double>(py);
    const double kept =
        (1 - camera_.mist.share) *
        (camera_.graduated.density > 0 ? graduated_share(camera_.graduated, width_, height_, x, y) : 1.0);
    // Between the middles of four pixels.
    const double u = std::clamp(x - 0.5, 0.0, width_ - 1.0), v = std::clamp(y - 0.5, 0.0, height_ - 1.0);
    const int x0 = std::min(static_cast<int>(u), std::max(0, width_ - 2));
    const int y0 = std::min(static_cast<int>(v), std::max(0, height_ - 2));
    const auto at = [&](const std::vector<double>& of) {
        const auto value = [&](int i, int j) {
            return of[static_cast<std::size_t>(std::min(y0 + j, height_ - 1)) * static_cast<std::size_t>(width_) +
                      static_cast<std::size_t>(std::min(x0 + i, width_ - 1))];
        };
        const double s = u - x0, t = v - y0;
        return (value(0, 0) * (1 - s) + value(1, 0) * s) * (1 - t) + (value(0, 1) * (1 - s) + value(1, 1) * s) * t;
    };
    return {kept * luminance.value + at(veil_), std::hypot(kept * luminance.error, at(veil_error_))};
}

double FilteredView::mean_veil() const {
    double sum = 0;
    for (const double v : veil_) sum += v;
    return veil_.empty() ? 0 : sum / static_cast<double>(veil_.size());
}

std::optional<FilteredView> look_through_filters(const Setup& setup, const Scene& scene, const Effort& effort,
                                                 KeptLight& light) {
    const Camera* camera = setup.its_camera();
    if (camera == nullptr || scene.lights.count() == 0) return std::nullopt;
    if (!(camera->mist.share > 0) && !(camera->graduated.density > 0)) return std::nullopt;
    const int high = std::max(1, static_cast<int>(std::lround(wide * camera->sensor_height / camera->sensor_width)));
    Effort own = effort;
    own.tell = nullptr;
    if (!(effort.seconds > 0)) own.relative_error = std::clamp(over_a_spot * effort.relative_error, least_noise, noise);
    const LayeredFrame frame = trace_frame(setup, scene, wide, high, own, light);
    std::vector<Tristimulus> on_filters(frame.error.size());
    for (std::size_t i = 0; i < on_filters.size(); ++i) {
        Spectrum sum;
        for (const auto& layer : frame.layers) sum += layer[i];
        on_filters[i] = tristimulus(sum);
    }
    return FilteredView(*camera, wide, high, std::move(on_filters), frame.error);
}

}  // namespace rushlight
