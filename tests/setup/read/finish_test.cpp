#include "setup/plain/finish.h"
#include "quantity/colour.h"
#include "setup/plain/catalogues.h"

#include <gtest/gtest.h>

#include <array>
#include <set>

namespace rushlight {
namespace {

double luminous(const Spectrum& s) {
    return luminous_share(s, equal_energy());
}

TEST(Hue, HasTheReflectanceThatWasAskedFor) {
    for (const std::string& hue : hue_names())
        for (double wanted : {0.02, 0.08, 0.15}) {
            const Spectrum s = reflectance_of(hue, wanted).value();
            EXPECT_NEAR(luminous(s), wanted, 1e-5) << hue;
        }
    EXPECT_FALSE(reflectance_of("crem", 0.5));
}

TEST(Hue, NeverSendsBackMoreThanArrives) {
    for (const std::string& hue : hue_names()) {
        const Spectrum s = reflectance_of(hue, 1.0).value();
        EXPECT_LE(s.largest(), 1.0F) << hue;
        EXPECT_GT(s.largest(), 0.999F) << hue;
    }
    EXPECT_NEAR(luminous(reflectance_of("neutral", 1.0).value()), 1.0, 1e-6);
    EXPECT_LT(luminous(reflectance_of("blue", 1.0).value()), 0.5);
}

TEST(Hue, LooksAsItIsCalled) {
    const auto share = [](const char* hue, int low, int high) {
        const Spectrum s = reflectance_of(hue, 0.1).value();
        float sum = 0;
        for (int b = low; b < high; ++b) sum += s[b];
        return sum / static_cast<float>(high - low);
    };
    EXPECT_GT(share("red", 11, 16), 3 * share("red", 0, 9));
    EXPECT_GT(share("blue", 0, 4), 3 * share("blue", 8, 16));
    EXPECT_GT(share("green", 5, 9), 2 * share("green", 11, 16));
    EXPECT_GT(share("oak", 11, 16), share("oak", 0, 5));
}

// Energy: the shares of what arrives never sum to more than one.
TEST(Catalogue, SendsOnNoMoreThanArrives) {
    std::set<std::string> names;
    for (const NamedFinish& n : finish_catalogue()) {
        const Finish& f = n.finish;
        const Spectrum sum = f.reflectance + f.through + f.straight + f.metal;
        EXPECT_LE(sum.largest(), 1.0F) << f.name;
        EXPECT_FALSE(n.source.empty()) << f.name;
        EXPECT_FALSE(n.what.empty()) << f.name;
        EXPECT_TRUE(names.insert(f.name).second) << f.name << " twice";
        EXPECT_EQ(named_finish(f.name)->name, f.name);
    }
    EXPECT_GE(names.size(), 30U);
    EXPECT_FALSE(named_finish("unobtainium"));
    EXPECT_TRUE(named_finish(" Dark  Oak "));
}

// Handbook ranges, from memory.
TEST(Catalogue, FitsHandbookRanges) {
    const std::array ranges{std::tuple{"white matt paint", 0.75, 0.85}, std::tuple{"red brick", 0.1, 0.3},
                            std::tuple{"concrete", 0.2, 0.4},           std::tuple{"black velvet", 0.003, 0.01},
                            std::tuple{"black cloth", 0.02, 0.05},      std::tuple{"white foam board", 0.8, 0.9},
                            std::tuple{"bleached muslin", 0.65, 0.75},  std::tuple{"dark oak", 0.1, 0.25}};
    for (const auto& [name, low, high] : ranges) {
        const double r = luminous(named_finish(name)->reflectance);
        EXPECT_GE(r, low) << name;
        EXPECT_LE(r, high) << name;
    }
}

// Stops as cloth is sold by (common practice, no source); energy: the shares come to no more than one.
TEST(Catalogue, ClothsAndNets) {
    for (const ClothKind& k : cloth_kinds()) {
        const Finish f = cloth_finish(k);
        EXPECT_NEAR(luminous(f.straight + f.through), std::exp2(-k.stops), 1e-5) << k.name;
        EXPECT_LT((f.straight + f.through + f.reflectance).largest(), 1.0F) << k.name;
        EXPECT_GT(luminous(f.reflectance), 0.05) << k.name;
    }
    EXPECT_NEAR(luminous(net_finish(1.0).straight), 0.5, 1e-6);
    EXPECT_LT(luminous(net_finish(1.0).reflectance), 0.02);
}

LinearRgb under_d65(const Spectrum& reflectance) {
    const Spectrum d65 = daylight(Kelvin{6504});
    const Tristimulus t = tristimulus(reflectance * d65), w = tristimulus(d65);
    // IEC 61966-2-1 with the white brought exactly to D65 (0.9505, 1, 1.0891).
    const double x = t.x / w.x * 0.9505, y = t.y / w.y, z = t.z / w.z * 1.0891;
    return {static_cast<float>(3.2406 * x - 1.5372 * y - 0.4986 * z),
            static_cast<float>(-0.9689 * x + 1.8758 * y + 0.0415 * z),
            static_cast<float>(0.0557 * x - 0.2040 * y + 1.0570 * z)};
}

// A round trip through the CIE 1931 observer under D65 gives the colour back; what is left is the search's rest.
TEST(Rgb, ComesBackUnderDaylight) {
    for (const auto& [r, g, b] : {std::tuple{0.5F, 0.5F, 0.5F},
                                  {0.8F, 0.2F, 0.1F},
                                  {0.1F, 0.6F, 0.2F},
                                  {0.1F, 0.2F, 0.7F},
                                  {0.7F, 0.6F, 0.4F},
                                  {1.0F, 1.0F, 1.0F},
                                  {0.0F, 0.0F, 0.0F},
                                  {1.0F, 0.0F, 0.0F}}) {
        const Spectrum s = reflectance_from_rgb(r, g, b);
        const LinearRgb back = under_d65(s);
        EXPECT_NEAR(back.r, r, 0.03);
        EXPECT_NEAR(back.g, g, 0.03);
        EXPECT_NEAR(back.b, b, 0.03);
        EXPECT_LE(s.largest(), 1.0F);
    }
}

TEST(Rgb, GreyIsFlatAndNonsenseIsHarmless) {
    const Spectrum grey = reflectance_from_rgb(0.18F, 0.18F, 0.18F);
    for (float band : grey.band) EXPECT_NEAR(band, 0.18F, 1e-6);
    const Spectrum odd = reflectance_from_rgb(NAN, -3.0F, 7.0F);
    for (float band : odd.band) {
        EXPECT_GE(band, 0.0F);
        EXPECT_LE(band, 1.0F);
    }
}

}  // namespace
}  // namespace rushlight
