#include "results/frame/lens_filters.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace rushlight {
namespace {

using Plane = std::vector<double>;

/// A box of 2 m + 1 pixels and two half-counted ones at its ends, so that its variance is as wished.
struct Box {
    int whole = 0;
    double ends = 0;
    double width() const { return 2 * whole + 1 + 2 * ends; }
};
Box box_of(double variance) {
    Box b;
    b.whole = static_cast<int>(std::floor((std::sqrt(1 + 12 * variance) - 1) / 2));
    const double m = b.whole;
    const double squares = m * (m + 1) * (2 * m + 1) / 3;
    b.ends = (variance * (2 * m + 1) - squares) / (2 * ((m + 1) * (m + 1) - variance));
    return b;
}

/// Index into a line that goes on as its own mirror image, for ever.
std::size_t mirrored(int i, int count) {
    const int period = 2 * count;
    i = ((i % period) + period) % period;
    return static_cast<std::size_t>(i < count ? i : period - 1 - i);
}

void blur_line(double* line, int count, std::size_t step, const Box& box, Plane& wide, Plane& sum) {
    const int reach = box.whole + 1;
    const auto n = static_cast<std::size_t>(count + 2 * reach);
    wide.resize(n);
    sum.resize(n + 1);
    for (int i = 0; i < count; ++i)
        wide[static_cast<std::size_t>(i + reach)] = line[step * static_cast<std::size_t>(i)];
    for (int beyond = 0; beyond < reach; ++beyond)
        for (const int i : {beyond - reach, count + beyond})
            wide[static_cast<std::size_t>(i + reach)] = line[step * mirrored(i, count)];
    for (std::size_t i = 0; i < n; ++i) sum[i + 1] = sum[i] + wide[i];
    for (int i = 0; i < count; ++i) {
        const auto first = static_cast<std::size_t>(i), last = static_cast<std::size_t>(i + 2 * reach);
        const double whole = sum[last] - sum[first + 1];
        line[static_cast<std::size_t>(i) * step] = (whole + box.ends * (wide[first] + wide[last])) / box.width();
    }
}

/// A bell curve of `sigma` pixels each way, to some 5 % of its height: six boxes whose variances add up to its own.
void blur(Plane& plane, int width, int height, double sigma) {
    constexpr int boxes = 6;
    const Box box = box_of(sigma * sigma / boxes);
    Plane wide, sum{0.0};
    for (int pass = 0; pass < boxes; ++pass) {
        for (int y = 0; y < height; ++y)
            blur_line(&plane[static_cast<std::size_t>(y) * static_cast<std::size_t>(width)], width, 1, box, wide, sum);
        for (int x = 0; x < width; ++x)
            blur_line(&plane[static_cast<std::size_t>(x)], height, static_cast<std::size_t>(width), box, wide, sum);
    }
}

/// Spreads the value that `part_of` gives for each pixel.
template <class Light, class PartOf>
void spread_part(std::vector<Light>& light, const PartOf& part_of, int width, int height, const Mist& mist,
                 double pixels_per_tangent) {
    if (!(mist.share > 0) || light.empty()) return;
    Plane core(light.size());
    for (std::size_t i = 0; i < light.size(); ++i) core[i] = static_cast<double>(part_of(light[i]));
    Plane skirt = core;
    blur(core, width, height, bell_sigma(mist.core, pixels_per_tangent));
    blur(skirt, width, height, bell_sigma(mist.skirt, pixels_per_tangent));
    for (std::size_t i = 0; i < light.size(); ++i) {
        auto& part = part_of(light[i]);
        part = static_cast<std::remove_reference_t<decltype(part)>>((1 - mist.share) * static_cast<double>(part) +
                                                                    mist.share * (core[i] + skirt[i]) / 2);
    }
}

/// Hands each pixel's number to `scale`, with what a graduated filter lets through there.
template <class Scale>
void through_graduated(int width, int height, const Camera& camera, const Scale& scale) {
    if (!(camera.graduated.density > 0)) return;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            scale(static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x),
                  graduated_share(camera.graduated, width, height, x + 0.5, y + 0.5));
}

double pixels_per_tangent_of(const Camera& camera, int width) {
    return width * camera.thin_lens().image_distance() / camera.sensor_width;
}

}  // namespace

double bell_sigma(double width_at_half, double pixels_per_tangent) {
    const double at_half = std::tan(radians(Degree{width_at_half / 2})) * pixels_per_tangent;
    return at_half / std::sqrt(2 * std::log(2.0));
}

void spread(std::vector<Tristimulus>& light, int width, int height, const Mist& mist, double pixels_per_tangent) {
    for (double Tristimulus::*part : {&Tristimulus::x, &Tristimulus::y, &Tristimulus::z})
        spread_part(
            light, [part](Tristimulus& t) -> double& { return t.*part; }, width, height, mist, pixels_per_tangent);
}

double graduated_share(const Graduated& filter, int width, int height, double x, double y) {
    const double turn = radians(Degree{filter.turn});
    const double right = (x - width / 2.0) / height, up = (height / 2.0 - y) / height;
    const double along = up * std::cos(turn) - right * std::sin(turn) + 0.5;
    const double blend = std::max(filter.blend, 1e-6);
    const double t = std::clamp((along - filter.edge) / blend + 0.5, 0.0, 1.0);
    return std::pow(10.0, -filter.density * t * t * (3 - 2 * t));
}

void through_filters(std::vector<Tristimulus>& light, int width, int height, const Camera& camera) {
    through_graduated(width, height, camera, [&](std::size_t i, double share) {
        light[i] = {light[i].x * share, light[i].y * share, light[i].z * share};
    });
    spread(light, width, height, camera.mist, pixels_per_tangent_of(camera, width));
}

void through_filters(std::vector<Spectrum>& light, int width, int height, const Camera& camera) {
    through_graduated(width, height, camera,
                      [&](std::size_t i, double share) { light[i] *= static_cast<float>(share); });
    for (int b = 0; b < bands; ++b)
        spread_part(
            light, [b](Spectrum& s) -> float& { return s[b]; }, width, height, camera.mist,
            pixels_per_tangent_of(camera, width));
}

MistEffect mist_effect(const std::vector<Tristimulus>& before, const std::vector<Tristimulus>& after,
                       const Mist& mist) {
    MistEffect e;
    if (before.empty()) return e;
    std::vector<std::size_t> order(before.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto dark = static_cast<std::ptrdiff_t>((order.size() + 19) / 20);
    std::nth_element(order.begin(), order.begin() + dark - 1, order.end(),
                     [&](std::size_t a, std::size_t b) { return before[a].y < before[b].y; });
    for (const Tristimulus& t : before) e.mean += t.y / static_cast<double>(before.size());
    for (std::ptrdiff_t i = 0; i < dark; ++i) {
        const std::size_t p = order[static_cast<std::size_t>(i)];
        e.lift += (after[p].y - before[p].y) / static_cast<double>(dark);
    }
    // Half of a bell lies within its half width at half; the core lies almost wholly inside the skirt's.
    const auto inside = [&](double radius) {
        const double core = 1 - std::exp2(-4 * radius * radius / (mist.core * mist.core));
        const double skirt = 1 - std::exp2(-4 * radius * radius / (mist.skirt * mist.skirt));
        return (core + skirt) / 2;
    };
    double low = 0, high = mist.skirt;
    for (int i = 0; i < 50; ++i) (inside((low + high) / 2) < 0.5 ? low : high) = (low + high) / 2;
    e.halo = low;
    return e;
}

}  // namespace rushlight
