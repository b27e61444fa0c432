#include "pictures/frames/exposure_picture.h"
#include "pictures/draw/guides.h"
#include "quantity/exposure.h"
#include "results/frame/lens_filters.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

constexpr int width = 320, height = 180;

std::vector<Tristimulus> even(double y) {
    return std::vector<Tristimulus>(width * height, Tristimulus{y, y, y});
}
std::size_t at(int x, int y) {
    return static_cast<std::size_t>(y * width + x);
}
double sum(const std::vector<Tristimulus>& light) {
    double s = 0;
    for (const Tristimulus& t : light) s += t.y;
    return s;
}

// A scattering filter without absorption sends on all that it gets.
TEST(Mist, LosesNoLight) {
    auto light = even(2);
    light[at(3, 5)] = {900, 1000, 800};
    light[at(200, 170)] = {90, 100, 80};
    const auto before = light;
    spread(light, width, height, {0.09, 1.5, 12}, 900);
    EXPECT_NEAR(sum(light), sum(before), 1e-9 * sum(before));
    // An even wall stays even.
    auto wall = even(3);
    spread(wall, width, height, {0.09, 1.5, 12}, 900);
    for (const Tristimulus& t : wall) EXPECT_NEAR(t.y, 3, 1e-9);
}

// Each bell has half its height at half its width: a bell curve of full width w is exp(-4 ln 2 (r / w)^2), and
// integrates to pi w^2 / (4 ln 2). Six boxes differ from it by their kurtosis of -.2: at most 5 % within two sigmas
// (Edgeworth's series to its first term).
TEST(Mist, HalosAreAsWideAsTheyAreSaidToBe) {
    constexpr double per_tangent = 900;
    auto light = even(0);
    light[at(160, 90)] = {1e6, 1e6, 1e6};
    constexpr double share = 0.1, core = 1.2, skirt = 5;
    spread(light, width, height, {share, core, skirt}, per_tangent);
    EXPECT_GT(light[at(160, 90)].y, (1 - share) * 1e6);
    const auto bell = [&](double degrees, double r) {
        const double w = 2 * std::tan(degrees / 2 * 3.14159265358979 / 180) * per_tangent;
        return std::exp(-4 * std::log(2.0) * r * r / (w * w)) * 4 * std::log(2.0) / (3.14159265358979 * w * w);
    };
    for (const int r : {3, 9, 13, 30, 45}) {
        const double expected = 1e6 * share * (bell(core, r) + bell(skirt, r)) / 2;
        EXPECT_NEAR(light[at(160 + r, 90)].y, expected, 0.06 * expected) << r;
        EXPECT_NEAR(light[at(160, 90 - r)].y, light[at(160 + r, 90)].y, 0.01 * expected) << r;
    }
}

// Blacks rise by about the spread share of the picture's mean luminance where the halo is wide against the picture.
TEST(Mist, LiftsBlacksByItsShareOfTheMean) {
    auto light = even(0);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width / 4; ++x) light[at(x, y)] = {400, 400, 400};
    const auto before = light;
    const Mist mist{0.06, 30, 30};
    spread(light, width, height, mist, 900);
    const MistEffect e = mist_effect(before, light, mist);
    EXPECT_NEAR(e.mean, 100, 1e-9);
    // Beside the bright quarter more, at the far side less, in the mean over the black part as energy has it.
    double lift = 0;
    for (int y = 0; y < height; ++y)
        for (int x = width / 4; x < width; ++x) lift += light[at(x, y)].y / (0.75 * width * height);
    EXPECT_NEAR(lift, 0.06 * 100, 0.35 * 6);
    EXPECT_GT(e.lift, 0.5);
}

// ND 0.6 is two stops (optical density, ISO 5).
TEST(Graduated, TakesItsDensityAboveAndNothingBelow) {
    const Graduated g{0.6, 0.6, 0.2, 0};
    EXPECT_NEAR(graduated_share(g, width, height, 10, 2), std::pow(10, -0.6), 1e-12);
    EXPECT_EQ(graduated_share(g, width, height, 10, 178), 1);
    EXPECT_NEAR(graduated_share(g, width, height, 300, 0.4 * height), std::pow(10, -0.3), 1e-9);
    const Graduated left{0.6, 0.6, 0.2, 90};
    EXPECT_NEAR(graduated_share(left, width, height, 2, 90), std::pow(10, -0.6), 1e-12);
    EXPECT_EQ(graduated_share(left, width, height, 318, 90), 1);
}

// Filters are linear: two layers, each filtered by itself band by band, sum to the filtered whole.
TEST(Filters, LayersSumToTheWhole) {
    Camera camera;
    camera.mist = {0.12, 1.5, 10};
    camera.graduated = {0.6, 0.55, 0.3, 20};
    std::vector<Spectrum> warm(width * height, blackbody(Kelvin{2900}) * 0.1F), blue(width * height);
    warm[at(100, 60)] = blackbody(Kelvin{2900}) * 5000.0F;
    for (int x = 0; x < width; ++x) blue[at(x, 20)] = blackbody(Kelvin{9000}) * 40.0F;
    std::vector<Tristimulus> whole;
    for (std::size_t i = 0; i < warm.size(); ++i) whole.push_back(tristimulus(warm[i] + blue[i]));
    through_filters(whole, width, height, camera);
    through_filters(warm, width, height, camera);
    through_filters(blue, width, height, camera);
    for (std::size_t i = 0; i < whole.size(); ++i) {
        const Tristimulus t = tristimulus(warm[i] + blue[i]);
        EXPECT_NEAR(t.y, whole[i].y, 1e-5 * whole[i].y);
        EXPECT_NEAR(t.z, whole[i].z, 1e-5 * whole[i].z);
    }
}

TEST(Guides, AreRead) {
    Guides g;
    std::string wrong;
    ASSERT_TRUE(guides_from("2.39, thirds,16:9", g, wrong));
    EXPECT_TRUE(g.thirds);
    ASSERT_EQ(g.aspects.size(), 2U);
    EXPECT_NEAR(g.aspects[1], 16.0 / 9, 1e-12);
    for (const char* bad : {"2.39,thrids", "0", "", "99", "16:0", "2.39,"}) {
        Guides none;
        EXPECT_FALSE(guides_from(bad, none, wrong)) << bad;
    }
}

// A 2.39 mask on a picture 1920 x 1080 leaves 803 lines, by division.
TEST(Guides, MaskIsAsHighAsItsAspect) {
    const Window w = window_of(2.39, 1920, 1080);
    EXPECT_NEAR(w.y1 - w.y0, 1920 / 2.39, 1e-9);
    EXPECT_EQ(w.x0, 0);
    Image picture(960, 540, {0.5F, 0.5F, 0.5F});
    Guides g;
    g.aspects = {2.39};
    g.thirds = true;
    draw_guides(picture, g);
    EXPECT_LT(picture.pixel(480, 20)[0], 0.3F);    // outside is dimmed
    EXPECT_EQ(picture.pixel(480, 200)[0], 0.5F);   // inside it is left alone
    EXPECT_GT(picture.pixel(320, 200)[0], 0.53F);  // but for the lines
}

TEST(ExposurePicture, CountsWhatTheCameraCannotHold) {
    LayeredFrame frame;
    frame.width = 80;
    frame.height = 40;
    frame.sources = {"sky"};
    const double grey = grey_luminance(frame.camera.exposure).value;
    frame.layers.assign(1, std::vector<Spectrum>(80 * 40));
    for (int y = 0; y < 40; ++y)
        for (int x = 0; x < 80; ++x) {
            const double stops = x < 20 ? 6.1 : x < 40 ? -5.1 : 0.5;
            frame.layers[0][frame.at(x, y)] = scaled_to(white_light(Kelvin{5600}), grey * std::exp2(stops));
        }
    const RangeShares shares = beyond_range(light_on_sensor(frame, {}), frame.camera);
    EXPECT_NEAR(shares.clipped, 0.25, 1e-9);
    EXPECT_NEAR(shares.lost, 0.25, 1e-9);
    const Image picture = exposure_picture(frame, {}, {{"cheek", 60, 20, 3}});
    EXPECT_GT(picture.width, 720);
}

}  // namespace
}  // namespace rushlight
