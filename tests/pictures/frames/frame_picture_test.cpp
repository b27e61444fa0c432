#include "pictures/frames/frame_picture.h"

#include "pictures/draw/display_curve.h"
#include "pictures/draw/perceived.h"
#include "quantity/colour.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {
namespace {

TEST(DisplayCurve, GreyIsShownAsItself) {
    for (double headroom : {2.0, 4.5, 6.0, 9.0})
        for (double footroom : {2.0, 5.0, 8.0}) {
            const DisplayCurve curve(headroom, footroom);
            EXPECT_NEAR(curve.light(0.18), 0.18, 1e-5);
            // IEC 61966-2-1: 0.18 is 117.6 of 255.
            EXPECT_EQ(std::lround(255 * curve.value(0)), 118);
        }
}

TEST(DisplayCurve, ClipsAtHeadroomAndAtFootroom) {
    const DisplayCurve curve(6, 5);
    EXPECT_EQ(curve.value(6), 1);
    EXPECT_EQ(curve.value(11), 1);
    EXPECT_LT(curve.value(5.9), 1);
    EXPECT_EQ(curve.value(-5), 0);
    EXPECT_EQ(curve.value(-20), 0);
    EXPECT_GT(curve.value(-4.9), 0);
    EXPECT_EQ(curve.light(0), 0);
    EXPECT_EQ(curve.light(-1), 0);
    EXPECT_EQ(curve.light(std::numeric_limits<double>::infinity()), 1);
}

TEST(DisplayCurve, NeverFallsAndNeverBreaks) {
    for (double headroom : {1.0, 3.0, 6.0, 12.0}) {
        const DisplayCurve curve(headroom, 5);
        double before = curve.value(-6);
        for (double s = -6; s < headroom + 1; s += 0.01) {
            const double now = curve.value(s);
            EXPECT_GE(now, before) << s;
            EXPECT_LT(now - before, 0.02) << "a jump at " << s << " stops, headroom " << headroom;
            before = now;
        }
    }
}

TEST(DisplayCurve, HasTheContrastOfTheEncodingAtGrey) {
    // Derivative of IEC 61966-2-1 at 0.18, display values a stop: ln 2 * 1.055 / 2.4 * 0.18^(1/2.4).
    const double encoding = std::log(2.0) * 1.055 / 2.4 * std::pow(0.18, 1 / 2.4);
    EXPECT_NEAR(encoding, 0.149, 0.001);
    const DisplayCurve curve(6, 5);
    const double upper = (curve.value(1e-4) - curve.value(0)) / 1e-4;
    const double lower = (curve.value(0) - curve.value(-1e-4)) / 1e-4;
    EXPECT_NEAR(upper, lower, 0.001) << "no corner at grey";
    EXPECT_NEAR(upper, encoding, 0.003);
}

TEST(Displayed, LuminanceFollowsTheCurveAndColourFadesEvenly) {
    const DisplayCurve curve(6, 5);
    const LinearRgb orange{1.7F, 0.9F, 0.2F};
    const double y = 0.2126 * orange.r + 0.7152 * orange.g + 0.0722 * orange.b;
    double strength_before = 2;
    for (double stops = -4; stops <= 6; stops += 0.25) {
        const auto k = static_cast<float>(0.18 * std::exp2(stops) / y);
        const LinearRgb shown = displayed({orange.r * k, orange.g * k, orange.b * k}, curve);
        const double shown_y = 0.2126 * shown.r + 0.7152 * shown.g + 0.0722 * shown.b;
        EXPECT_NEAR(shown_y, curve.light(0.18 * std::exp2(stops)), 2e-4) << stops;
        // The order of the channels, and how the middle one is between the others, is the hue.
        const double span = shown.r - shown.b;
        if (stops < 5.5) {
            EXPECT_NEAR((shown.g - shown.b) / span, 0.7 / 1.5, 2e-3) << stops;
        }
        const double strength = span / shown_y;
        EXPECT_LT(strength, strength_before + 1e-4) << stops;
        strength_before = strength;
        EXPECT_LE(shown.r, 1);
        EXPECT_GE(shown.b, 0);
    }
    EXPECT_NEAR(strength_before, 0, 1e-6) << "white at the clip";
}

TEST(Displayed, ColoursOutsideTheDisplayAndBadNumbersAreHeld) {
    const DisplayCurve curve(6, 5);
    for (const LinearRgb& c : {LinearRgb{1, -0.4F, 0.1F}, LinearRgb{-0.2F, 1, -0.3F}, LinearRgb{0, 0.02F, 5}}) {
        const LinearRgb shown = displayed(c, curve);
        for (float v : {shown.r, shown.g, shown.b}) {
            EXPECT_GE(v, 0);
            EXPECT_LE(v, 1);
        }
    }
    const float nan = std::numeric_limits<float>::quiet_NaN();
    EXPECT_EQ(displayed({nan, 1, 1}, curve).g, 0);
}

// A frame that is all grey card, lit by white of the camera's balance.
LayeredFrame grey_card(double stops) {
    LayeredFrame frame;
    frame.width = 160, frame.height = 90;
    frame.setup = "1 Wide", frame.option = "as found";
    frame.sources = {"sky", "lamp"};
    frame.camera.name = "A camera";
    const double half = grey_luminance(frame.camera.exposure).value * std::exp2(stops) / 2;
    const Spectrum light = scaled_to(white_light(Kelvin{frame.camera.white_balance}), half);
    frame.layers.assign(2, std::vector<Spectrum>(160 * 90, light));
    frame.error.assign(160 * 90, static_cast<float>(0.04 * half));
    return frame;
}

TEST(FramePicture, GreyCardIs118) {
    const Image picture = frame_picture(grey_card(0), {{}, false, "", {}});
    EXPECT_EQ(picture.width, 160);
    EXPECT_EQ(picture.height, 90);
    for (float v : picture.pixel(80, 45)) EXPECT_NEAR(255 * v, 117.6, 0.8);
}

TEST(FramePicture, WhatIsNotDeliveredIsDimmed) {
    LayeredFrame frame = grey_card(0);
    frame.camera.delivery = 2.4;  // of 160 x 90: rows 12 to 78
    const Image picture = frame_picture(frame, {{}, false, "", {}});
    for (int y = 0; y < 90; ++y) {
        if (std::abs(y - 12) < 3 || std::abs(y - 78) < 3) continue;  // the lines themselves
        const float grey = picture.pixel(80, y)[0] * 255;
        if (y > 12 && y < 78)
            EXPECT_NEAR(grey, 117.6F, 0.8F) << y;
        else
            EXPECT_LT(grey, 60) << y;
    }
    // Guides that are asked for come first.
    const Image asked = frame_picture(frame, {{}, false, "", {}, {{1.0}}});
    EXPECT_NEAR(asked.pixel(80, 5)[0] * 255, 117.6F, 0.8F);
    EXPECT_LT(asked.pixel(5, 45)[0] * 255, 60);
}

TEST(FramePicture, LevelsMixTheSources) {
    // One of two equal sources off is one stop less.
    const Image one = frame_picture(grey_card(0), {{1.0, 0.0}, false, "", {}});
    const Image half = frame_picture(grey_card(-1), {{}, false, "", {}});
    for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(one.pixel(9, 9)[i], half.pixel(9, 9)[i], 1e-4);
}

TEST(FramePicture, CaptionStandsUnderTheFrameAndLeavesItAlone) {
    const LayeredFrame frame = grey_card(1);
    const Image bare = frame_picture(frame, {{}, false, "", {}});
    const Image with = frame_picture(frame, {{}, true, "overcast, 10:30", {Vec3(0, 0, 0)}});
    EXPECT_EQ(with.width, bare.width);
    EXPECT_GT(with.height, bare.height + 20);
    EXPECT_TRUE(std::equal(bare.rgb.begin(), bare.rgb.end(), with.rgb.begin()));
}

TEST(FramePicture, NoiseIsTheMedianOfWhatCanBeSeen) {
    LayeredFrame frame = grey_card(0);
    EXPECT_NEAR(frame_noise(frame), 0.02, 1e-4);
    frame.error.clear();
    EXPECT_EQ(frame_noise(frame), 0);
}

TEST(FramePicture, RefusesLayersThatDoNotFit) {
    LayeredFrame frame = grey_card(0);
    frame.layers[1].pop_back();
    EXPECT_THROW(frame_picture(frame), OutputError);
    EXPECT_THROW(frame_picture(LayeredFrame{}), OutputError);
}

}  // namespace
}  // namespace rushlight
