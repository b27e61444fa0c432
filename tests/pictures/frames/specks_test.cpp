// What no walk lit is missing in a picture, not black.
#include "pictures/frames/frame_picture.h"
#include "results/frame/frames.h"
#include "results/frame/preview_filter.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {
namespace {

/// Share of pixels whose luminance on the display is off the median of the 5 x 5 around by .12, edges apart: places
/// where that median changes by as much over four pixels.
double share_of_specks(const Image& image) {
    const auto at = [&](int x, int y) {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(x);
    };
    std::vector<float> y(image.rgb.size() / 3);
    for (std::size_t p = 0; p < y.size(); ++p)
        y[p] = 0.2126F * image.rgb[3 * p] + 0.7152F * image.rgb[3 * p + 1] + 0.0722F * image.rgb[3 * p + 2];
    std::vector<float> middle = y;
    for (int j = 2; j < image.height - 2; ++j)
        for (int i = 2; i < image.width - 2; ++i) {
            std::array<float, 25> around{};
            for (int k = 0; k < 25; ++k) around[static_cast<std::size_t>(k)] = y[at(i + k % 5 - 2, j + k / 5 - 2)];
            std::nth_element(around.begin(), around.begin() + 12, around.end());
            middle[at(i, j)] = around[12];
        }
    std::size_t specks = 0;
    for (int j = 4; j < image.height - 4; ++j)
        for (int i = 4; i < image.width - 4; ++i) {
            const bool edge = std::abs(middle[at(i - 2, j)] - middle[at(i + 2, j)]) > 0.12F ||
                              std::abs(middle[at(i, j - 2)] - middle[at(i, j + 2)]) > 0.12F;
            specks += !edge && std::abs(y[at(i, j)] - middle[at(i, j)]) > 0.12F;
        }
    return static_cast<double>(specks) / static_cast<double>(y.size());
}

LayeredFrame frame_of(const std::string& file, const std::string& setup_name) {
    const Setup setup =
        SetupFile::read(std::string(RUSHLIGHT_SOURCE) + "/scenes/" + file).setup(setup_name, "as found");
    const Camera& camera = *setup.its_camera();
    Effort e;
    e.relative_error = 0;
    e.seconds = 0.6;  // at half the width as much for a pixel as a frame's usual effort
    constexpr int width = 480;
    return trace_frame(setup, build_scene(setup), width,
                       static_cast<int>(std::lround(width * camera.sensor_height / camera.sensor_width)), e);
}

TEST(Specks, NoneInTheDemosAtUsualEffort) {
    const std::pair<const char*, const char*> demos[] = {
        {"workshop.toml", "4 close A"},       {"workshop.toml", "1 wide"},    {"kitchen-night.toml", "2 cook"},
        {"last-borrower.toml", "1 wide"},     {"river-gauge.toml", "1 main"}, {"luminaire-file.toml", "1 wide"},
        {"workshop-rough.toml", "4 close A"}, {"quay-room.toml", "as found"}};
    for (const auto& [file, setup] : demos) {
        const LayeredFrame f = frame_of(file, setup);
        FrameLook look;
        look.caption = false;
        // As traced there are many: else the test would prove nothing.
        EXPECT_GT(share_of_specks(frame_picture(f, look)), 0.02) << file << ", " << setup;
        look.correction = preview_correction(f);
        EXPECT_LT(share_of_specks(frame_picture(f, look)), 0.001) << file << ", " << setup;
    }
}

}  // namespace
}  // namespace rushlight
