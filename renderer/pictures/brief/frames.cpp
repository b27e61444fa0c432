#include "pictures/brief/frames.h"

#include "pictures/frames/frame_picture.h"
#include "quantity/exposure.h"
#include "results/frame/lens_filters.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr int widest = 320, least = 120;

std::vector<Tristimulus> filtered(const std::vector<Vec3>& layer, const BriefFrame& f) {
    std::vector<Tristimulus> light(layer.size());
    for (std::size_t p = 0; p < layer.size(); ++p)
        light[p] = {static_cast<double>(layer[p].x), static_cast<double>(layer[p].y), static_cast<double>(layer[p].z)};
    through_filters(light, f.width, f.height, f.camera);
    return light;
}

/// Means over the pixels that fall into each of the smaller picture's.
std::vector<Tristimulus> shrunk(const std::vector<Tristimulus>& light, int width, int height, int to_width,
                                int to_height) {
    std::vector<Tristimulus> small;
    for (int y = 0; y < to_height; ++y)
        for (int x = 0; x < to_width; ++x) {
            const int x0 = x * width / to_width, x1 = std::max(x0 + 1, (x + 1) * width / to_width);
            const int y0 = y * height / to_height, y1 = std::max(y0 + 1, (y + 1) * height / to_height);
            Tristimulus sum;
            for (int v = y0; v < y1; ++v)
                for (int u = x0; u < x1; ++u) {
                    const Tristimulus& t = light[static_cast<std::size_t>(v) * static_cast<std::size_t>(width) +
                                                 static_cast<std::size_t>(u)];
                    sum.x += t.x, sum.y += t.y, sum.z += t.z;
                }
            const double n = static_cast<double>(x1 - x0) * (y1 - y0);
            small.push_back({sum.x / n, sum.y / n, sum.z / n});
        }
    return small;
}

/// The value of an ordered pattern of four by four, between minus and plus half a step.
float pattern(int x, int y) {
    constexpr int order[4][4] = {{0, 8, 2, 10}, {12, 4, 14, 6}, {3, 11, 1, 9}, {15, 7, 13, 5}};
    return (static_cast<float>(order[y & 3][x & 3]) + 0.5F) / 16 - 0.5F;
}

}  // namespace

Image picture_of(const BriefFrame& f) {
    std::vector<Tristimulus> sum(static_cast<std::size_t>(f.width) * static_cast<std::size_t>(f.height));
    for (const auto& layer : f.layers)
        for (std::size_t p = 0; p < sum.size(); ++p) {
            sum[p].x += static_cast<double>(layer[p].x);
            sum[p].y += static_cast<double>(layer[p].y);
            sum[p].z += static_cast<double>(layer[p].z);
        }
    through_filters(sum, f.width, f.height, f.camera);
    Image picture = developed(sum, f.width, f.height, f.camera);
    if (const Guides guides = guides_for({}, f.camera); guides.any()) draw_guides(picture, guides);
    return picture;
}

FaderFrame fader_frame(const BriefFrame& f, int width) {
    FaderFrame small;
    small.width = std::min(width, f.width);
    small.height = std::max(1, static_cast<int>(std::lround(static_cast<double>(f.height) * small.width / f.width)));
    const double to_grey = grey_reflectance / grey_luminance(f.camera.exposure).value;
    const WhiteBalance balanced{Kelvin{f.camera.white_balance}, f.camera.tint};
    // Past the headroom all is white; four stops more let a fader bring something back.
    const auto ceiling = static_cast<float>(grey_reflectance * std::exp2(f.camera.headroom + 4));
    for (std::size_t s = 0; s < f.layers.size(); ++s) {
        const auto light = shrunk(filtered(f.layers[s], f), f.width, f.height, small.width, small.height);
        Image linear(small.width, small.height);
        float most = 0;
        for (std::size_t p = 0; p < light.size(); ++p) {
            const LinearRgb c = balanced(light[p]);
            const float rgb[3] = {c.r, c.g, c.b};
            for (std::size_t i = 0; i < 3; ++i) {
                const float v = std::clamp(rgb[i] * static_cast<float>(to_grey), 0.0F, ceiling);
                linear.rgb[3 * p + i] = v;
                most = std::max(most, v);
            }
        }
        if (!(most > 0)) continue;
        Image coded(small.width, small.height);
        for (int y = 0; y < small.height; ++y)
            for (int x = 0; x < small.width; ++x)
                for (std::size_t i = 0; i < 3; ++i) {
                    const float v = linear.rgb[linear.at(x, y) + i];
                    coded.rgb[coded.at(x, y) + i] =
                        v > 0 ? std::clamp(std::cbrt(v / most) + pattern(x, y) / 255, 0.0F, 1.0F) : 0.0F;
                }
        small.layers.push_back({f.sources[s], static_cast<double>(most), png(coded)});
    }
    return small;
}

int fader_width(const Brief& brief, double most_bytes) {
    // Three noisy bytes a pixel hardly get smaller; as letters in a page they take a third more.
    constexpr double bytes_a_pixel = 3.2;
    double bytes = 0;
    for (const BriefSetup& s : brief.setups)
        for (const BriefOption& o : s.options)
            if (o.frame.there())
                bytes += bytes_a_pixel * static_cast<double>(o.frame.layers.size()) * widest * widest * o.frame.height /
                         o.frame.width;
    const int width = static_cast<int>(widest * std::min(1.0, std::sqrt(most_bytes / std::max(bytes, 1.0))));
    return width < least ? 0 : width;
}

}  // namespace rushlight
