#include "pictures/frames/frame_picture.h"

#include "pictures/draw/display_curve.h"
#include "pictures/draw/drawing.h"
#include "pictures/draw/lettering.h"
#include "pictures/words/numbers.h"
#include "quantity/colour.h"
#include "results/frame/lens_filters.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

const Colour strip{0.11F, 0.11F, 0.115F}, bright{0.88F, 0.88F, 0.87F}, dim{0.62F, 0.62F, 0.62F};

std::string joined(std::initializer_list<std::string> parts) {
    std::string all;
    for (const std::string& part : parts)
        if (!part.empty()) all += (all.empty() ? "" : " · ") + part;
    return all;
}

// 35 and not 35.0; 18.5 stays.
std::string shortest(double value) {
    return fixed(value, std::abs(value - std::round(value)) < 0.05 ? 0 : 1);
}

std::string camera_text(const Camera& camera) {
    const Exposure& e = camera.exposure;
    return joined({camera.name, shortest(camera.lens) + " mm", t_stop_text(e.t_stop), "ISO " + fixed(e.iso, 0),
                   shortest(e.shutter_angle) + "° at " + shortest(e.frames_per_second) + " fps",
                   e.nd_density > 0 ? "ND " + fixed(e.nd_density, 1) : "",
                   camera.graduated.density > 0 ? "graduated " + fixed(camera.graduated.density, 1) : "",
                   camera.mist.share > 0 ? "mist " + percent_text(camera.mist.share) : "",
                   camera.polarizer ? "polarizer at " + shortest(*camera.polarizer) + "°" : "",
                   fixed(camera.white_balance, 0) + " K"});
}

std::string light_text(const LayeredFrame& frame, const FrameLook& look) {
    std::string text = look.light;
    for (std::size_t s = 0; look.light.empty() && s < frame.sources.size(); ++s) {
        const bool dimmed = s < look.levels.size() && !(look.levels[s] > 0);
        const bool off = dimmed || std::all_of(frame.layers[s].begin(), frame.layers[s].end(),
                                               [](const Spectrum& light) { return light.dark(); });
        if (!off) text += (text.empty() ? "" : ", ") + frame.sources[s];
    }
    return text.empty() ? "no light" : text;
}

// The strip under the frame: whose frame it is and how sure; then camera and light.
Image with_caption(const Image& picture, const LayeredFrame& frame, const FrameLook& look) {
    const int letters = std::clamp(picture.width / 64, 10, 32), margin = letters;
    Image all(picture.width, picture.height + letters * 5 - letters / 2, strip);
    paste(all, picture, 0, 0);
    Lettering heading{letters, true, Align::left, bright, {}};
    Lettering plain{letters, false, Align::left, dim, {}};
    Lettering side{letters, false, Align::right, dim, {}};

    const std::string sure = frame_standing(frame, !look.correction.empty());
    const int first = picture.height + letters * 17 / 10, second = first + letters * 19 / 10;
    const int sure_width = sure.empty() ? 0 : text_width(sure, side) + 2 * letters;
    const std::string title = joined({frame.setup, frame.option});
    write_text(all, margin, first,
               fitted(title.empty() ? "Frame" : title, all.width - 2 * margin - sure_width, heading), heading);
    write_text(all, all.width - margin, first, sure, side);

    const std::string light = "light: " + light_text(frame, look);
    const std::string camera = fitted(camera_text(frame.camera), all.width - 2 * margin, plain);
    write_text(all, margin, second, camera, plain);
    const int room = all.width - 2 * margin - text_width(camera, plain) - 2 * letters;
    if (room > 6 * letters) write_text(all, all.width - margin, second, fitted(light, room, side), side);
    return all;
}

}  // namespace

Image developed(std::span<const Tristimulus> light, int width, int height, const Camera& camera) {
    Image linear(width, height);
    if (light.size() * 3 != linear.rgb.size())
        throw OutputError("cannot show a frame whose light has not the size of the frame");
    const double grey = grey_luminance(camera.exposure).value;
    if (!(grey > 0) || !std::isfinite(grey)) throw OutputError("cannot show a frame without a camera exposure");
    const WhiteBalance balanced{Kelvin{camera.white_balance}, camera.tint};
    const DisplayCurve curve(camera.headroom, camera.footroom);
    const auto scale = static_cast<float>(grey_reflectance / grey);
    for (std::size_t i = 0; i < light.size(); ++i) {
        const LinearRgb seen = balanced(light[i]);
        const LinearRgb shown = displayed({seen.r * scale, seen.g * scale, seen.b * scale}, curve);
        linear.rgb[3 * i] = shown.r, linear.rgb[3 * i + 1] = shown.g, linear.rgb[3 * i + 2] = shown.b;
    }
    return encoded(linear);
}

std::vector<Tristimulus> light_on_sensor(const LayeredFrame& frame, const FrameLook& look, bool bare) {
    const auto pixels =
        static_cast<std::size_t>(std::max(frame.width, 0)) * static_cast<std::size_t>(std::max(frame.height, 0));
    std::vector<Spectrum> sum(pixels);
    for (std::size_t s = 0; s < frame.layers.size(); ++s) {
        if (frame.layers[s].size() != pixels) throw OutputError("cannot show a frame whose layers differ in size");
        const auto level = static_cast<float>(s < look.levels.size() ? look.levels[s] : 1.0);
        for (std::size_t i = 0; i < pixels; ++i) sum[i] += frame.layers[s][i] * level;
    }
    std::vector<Tristimulus> light(pixels);
    for (std::size_t i = 0; i < pixels; ++i) {
        light[i] = tristimulus(sum[i]);
        if (look.correction.size() != pixels) continue;
        const Vec3& c = look.correction[i];
        light[i] = {light[i].x + static_cast<double>(c.x), light[i].y + static_cast<double>(c.y),
                    light[i].z + static_cast<double>(c.z)};
    }
    if (!bare) through_filters(light, frame.width, frame.height, frame.camera);
    return light;
}

Guides guides_for(Guides asked, const Camera& camera) {
    if (asked.aspects.empty() && camera.delivery > 0) asked.aspects = {camera.delivery};
    return asked;
}

Image frame_picture(const LayeredFrame& frame, const FrameLook& look) {
    Image picture = developed(light_on_sensor(frame, look), frame.width, frame.height, frame.camera);
    if (const Guides guides = guides_for(look.guides, frame.camera); guides.any()) draw_guides(picture, guides);
    return look.caption ? with_caption(picture, frame, look) : picture;
}

std::string frame_standing(const LayeredFrame& frame, bool smoothed) {
    const double noise = frame.noise > 0 ? frame.noise : frame_noise(frame);
    if (!(noise > 0)) return "";
    // Noise of a pixel as traced: under this the smoothing has nothing left to guess, and over that it guesses much.
    constexpr double sure = 0.1, rough = 0.8;
    if (!smoothed) return noise < 0.02 ? "final" : "noise left in";
    return noise <= sure ? "final" : std::isfinite(noise) && noise <= rough ? "preview" : "rough preview";
}

double frame_noise(const LayeredFrame& frame) {
    const double least = grey_luminance(frame.camera.exposure).value / 64;
    std::vector<double> relative;
    for (std::size_t i = 0; i < frame.error.size(); ++i) {
        double luminance = 0;
        for (const auto& layer : frame.layers)
            if (i < layer.size()) luminance += static_cast<double>(photometric(layer[i]));
        if (luminance > least && std::isfinite(frame.error[i]))
            relative.push_back(static_cast<double>(frame.error[i]) / luminance);
    }
    if (relative.empty()) return 0;
    const auto middle = relative.begin() + static_cast<std::ptrdiff_t>(relative.size() / 2);
    std::nth_element(relative.begin(), middle, relative.end());
    return *middle;
}

}  // namespace rushlight
