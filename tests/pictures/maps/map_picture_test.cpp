#include "pictures/maps/map_picture.h"

#include "pictures/draw/false_colour.h"
#include "pictures/draw/perceived.h"
#include "pictures/maps/map_parts.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {
namespace {

using namespace map_parts;

LightMap even_map(int width, int height, double lux) {
    LightMap map;
    map.width = width, map.height = height;
    map.setup = "2 Over-shoulder", map.option = "as found";
    map.lux.assign(static_cast<std::size_t>(width * height), static_cast<float>(lux));
    map.error.assign(map.lux.size(), static_cast<float>(0.02 * lux));
    map.metered_lux = 100;
    return map;
}

// Share of the pixels of a picture that have exactly this colour.
double share_of(const Image& image, const Colour& colour) {
    std::size_t n = 0;
    for (int y = 0; y < image.height; ++y)
        for (int x = 0; x < image.width; ++x) n += image.pixel(x, y) == colour ? 1 : 0;
    return static_cast<double>(n) / (static_cast<double>(image.width) * image.height);
}

TEST(MapPicture, ColourIsThatOfTheBand) {
    const LightMap map = even_map(960, 540, 100 * std::exp2(1.5));
    const Image picture = map_picture(map, MapUnit::stops);
    EXPECT_GT(share_of(picture, band_colour(colour_band(1.5))), 0.6);
    // Shade that is even changes nothing: what counts is the number, and the colour is that of the legend.
    LightMap shaded = map;
    shaded.shade.assign(shaded.lux.size(), 0.3F);
    EXPECT_GT(share_of(map_picture(shaded, MapUnit::stops), band_colour(colour_band(1.5))), 0.6);
}

// The scale is notched where a target wants the key, at its place and nowhere else on the bar.
TEST(MapPicture, PlannedKeysNotchTheScale) {
    LightMap map = even_map(960, 540, 100);
    const Reference reference = reference_of(map);
    map.keys = {{"A", 100 * std::exp2(1.5)}};
    const auto notches = notches_of(map, reference);
    ASSERT_EQ(notches.size(), 1U);
    EXPECT_NEAR(notches[0].stops, 1.5, 1e-9);
    EXPECT_EQ(notch_text(notches), " · notch: planned key, A +1.5");
    const Page page = page_for(540);
    const StopsMap field = stops_over(map, reference.lux);
    const auto drawn = [&](const std::vector<Notch>& with) {
        Image image(legend_width(page), 540, page.paper);
        draw_legend(image, page, 0, 0, 540, field, reference, MapUnit::stops, {"lux", -100, 100, with});
        return image;
    };
    const Image plain = drawn({}), notched = drawn(notches);
    int first = 540, last = 0, changed = 0;
    for (int y = 0; y < 540; ++y)
        for (int x = 0; x < plain.width; ++x)
            if (plain.pixel(x, y) != notched.pixel(x, y))
                first = std::min(first, y), last = std::max(last, y), ++changed;
    EXPECT_GT(changed, 40);
    EXPECT_LE(last - first, 2 * page.letters);
    // By the same linear law as the bar's: 14 stops from the top, which is at +8.
    const double from = page.letters * 1.9, to = 540 - page.letters * 2.4;
    EXPECT_NEAR((first + last) / 2.0, to + (1.5 + 6) / 14 * (from - to), 3);
}

TEST(MapPicture, ReliefLeavesTheBandRecognisable) {
    LightMap map = even_map(480, 270, 100 * std::exp2(-1.5));
    map.shade.assign(map.lux.size(), 0.9F);
    for (int y = 0; y < map.height; ++y)
        for (int x = 240; x < map.width; ++x) map.shade[map.at(x, y)] = 0.2F;
    const Image picture = map_picture(map, MapUnit::stops);
    const Lab wanted = lab_of_display(band_colour(colour_band(-1.5)));
    int far = 0, at_the_edge = 0;
    for (int y = 80; y < 120; ++y)
        for (int x = 100; x < 900; ++x) {
            const double off = difference(lab_of_display(picture.pixel(x, y)), wanted);
            far += off > 8 ? 1 : 0;
            at_the_edge += off > 0.5 ? 1 : 0;
        }
    EXPECT_EQ(far, 0);
    EXPECT_GT(at_the_edge, 40) << "the fold must be seen";
}

TEST(MapPicture, WithoutACameraAllIsOverARoundNumber) {
    LightMap map = even_map(40, 30, 430);
    map.metered_lux = 0;
    const Reference reference = reference_of(map);
    EXPECT_FALSE(reference.metered);
    EXPECT_DOUBLE_EQ(reference.lux, 500);
    EXPECT_NO_THROW(map_picture(map, MapUnit::stops));
}

TEST(MapPicture, RoundLuxRunsOneTwoFive) {
    EXPECT_DOUBLE_EQ(round_lux(0.9), 1);
    EXPECT_NEAR(round_lux(0.021), 0.02, 1e-12);
    EXPECT_DOUBLE_EQ(round_lux(1290), 1000);
    double lux = 0.1;
    for (double wanted : {0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0}) {
        lux = next_round_lux(lux);
        EXPECT_NEAR(lux, wanted, 1e-9 * wanted);
    }
}

TEST(MapPicture, SmallEmptyAndOddMapsAreDrawn) {
    LightMap map = even_map(1, 1, 50);
    EXPECT_GE(map_picture(map, MapUnit::lux).width, 720);
    map = even_map(16, 9, 0);
    EXPECT_NO_THROW(map_picture(map, MapUnit::stops));
    std::fill(map.lux.begin(), map.lux.end(), std::numeric_limits<float>::quiet_NaN());
    map.metered_lux = 0;
    for (bool plane : {false, true}) {
        map.plane = plane;
        map.metres_per_pixel = 0.25;
        for (MapUnit unit : {MapUnit::lux, MapUnit::stops}) EXPECT_NO_THROW(map_picture(map, unit));
    }
    map.lux.assign(map.lux.size(), std::numeric_limits<float>::infinity());
    EXPECT_NO_THROW(map_picture(map, MapUnit::lux));
}

TEST(MapPicture, RefusesWhatCannotBeDrawn) {
    LightMap map = even_map(10, 10, 50);
    map.lux.pop_back();
    EXPECT_THROW(map_picture(map, MapUnit::lux), OutputError);
    EXPECT_THROW(map_picture(LightMap{}, MapUnit::lux), OutputError);
    map = even_map(10, 10, 50);
    map.plane = true;
    EXPECT_THROW(map_picture(map, MapUnit::lux), OutputError) << "no scale";
}

TEST(Smoothed, KeepsEvenFieldsAndHoles) {
    LightMap map = even_map(30, 20, 400);
    map.lux[map.at(10, 10)] = std::numeric_limits<float>::quiet_NaN();
    const StopsMap calm = smoothed(enlarged(stops_over(map, 100), 3), 4);
    for (int y = 0; y < calm.height; ++y)
        for (int x = 0; x < calm.width; ++x) {
            const float v = calm.value[calm.at(x, y)];
            if (x / 3 == 10 && y / 3 == 10)
                EXPECT_TRUE(std::isnan(v));
            else
                EXPECT_NEAR(v, 2, 1e-5);
        }
}

TEST(Smoothed, KeepsAnEvenRiseUpToTheEdge) {
    LightMap map = even_map(24, 12, 0);
    for (int y = 0; y < 12; ++y)
        for (int x = 0; x < 24; ++x) map.lux[map.at(x, y)] = static_cast<float>(100 * std::exp2(0.25 * x - 0.125 * y));
    const StopsMap calm = smoothed(enlarged(stops_over(map, 100), 5), 4);
    for (int y = 0; y < calm.height; ++y)
        for (int x = 0; x < calm.width; ++x)
            EXPECT_NEAR(calm.value[calm.at(x, y)], 0.25 * ((x + 0.5) / 5 - 0.5) - 0.125 * ((y + 0.5) / 5 - 0.5), 1e-4);
}

TEST(MapPicture, RoundNumbersHaveNoZerosBehindThePoint) {
    EXPECT_EQ(round_lux_text(0.5), "0.5");
    EXPECT_EQ(round_lux_text(5), "5");
    EXPECT_EQ(round_lux_text(200), "200");
    EXPECT_EQ(round_lux_text(20000), "20 000");
    EXPECT_EQ(round_lux_text(0.05), "0.05");
}

TEST(Contours, LieWhereTheLightIsWhatTheySay) {
    // Light that falls evenly in stops from left to right: the 0 line stands where the map crosses 100 lx.
    LightMap map = even_map(200, 50, 0);
    for (int y = 0; y < 50; ++y)
        for (int x = 0; x < 200; ++x) map.lux[map.at(x, y)] = static_cast<float>(100 * std::exp2((x - 80) / 25.0));
    const StopsMap stops = stops_over(map, 100);
    Image image(200, 50, {1, 1, 1});
    draw_contour(image, stops, 0, 1.2, {0, 0, 0}, 1);
    for (int x = 0; x < 200; ++x) {
        if (std::abs(x - 80) < 1) {
            EXPECT_LT(image.pixel(x, 25)[0], 0.2F) << x;
        }
        if (std::abs(x - 80) > 2) {
            EXPECT_EQ(image.pixel(x, 25)[0], 1) << x;
        }
    }
    const auto lines = contours_of(stops, {100, true}, MapUnit::lux);
    ASSERT_FALSE(lines.empty());
    for (const Contour& line : lines)
        if (!line.strong) {
            EXPECT_NEAR(std::log2(std::stod(line.label) / 100), line.stops, 1e-6) << line.label;
        }
    EXPECT_TRUE(std::any_of(lines.begin(), lines.end(), [](const Contour& c) { return c.label == "grey 100"; }));
}

// The plan is to scale: two marks three metres apart stand 3 m of the scale apart on the picture.
TEST(PlaneMap, SignsAreToScaleAndInPlace) {
    LightMap map = even_map(90, 60, 400);
    map.plane = true, map.plane_height = 1.2, map.metres_per_pixel = 0.1, map.origin_x = -2, map.origin_y = 1;
    Image image(900, 600, {0.4F, 0.4F, 0.4F});
    map.signs = {{"", 0, 2, LightMap::SignKind::mark, 90, 0}, {"", 3, 2, LightMap::SignKind::mark, -90, 0}};
    std::vector<PixelBox> taken;
    draw_signs(image, map, {0, 600}, 100, 14, taken);
    const auto changed = [&](int x, int y) { return image.pixel(x, y) != Colour{0.4F, 0.4F, 0.4F}; };
    EXPECT_TRUE(changed(200, 500));  // (0 + 2) m and (2 - 1) m at 100 pixels a metre
    EXPECT_TRUE(changed(500, 500));
    EXPECT_TRUE(changed(200 + 21, 500)) << "shoulders 0.45 m wide across the facing";
    EXPECT_FALSE(changed(200 + 26, 500));
    EXPECT_FALSE(changed(350, 500));
    EXPECT_TRUE(changed(200, 500 - 16)) << "the nose points up the picture";
    EXPECT_TRUE(changed(500, 500 + 15)) << "the other one's points down";
    EXPECT_FALSE(changed(500, 500 - 16));
}

}  // namespace
}  // namespace rushlight
