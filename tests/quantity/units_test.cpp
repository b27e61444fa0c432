#include "quantity/units.h"

#include "quantity/measured.h"

#include <gtest/gtest.h>

#include <type_traits>
#include <vector>

namespace rushlight {
namespace {

template <class A, class B>
concept can_add = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept can_subtract = requires(A a, B b) {
    a - b;
};
template <class A, class B>
concept can_compare = requires(A a, B b) {
    a < b;
};

// What is of one kind adds up; what is not must not compile.
static_assert(can_add<Lux, Lux> && can_add<Stop, Stop> && can_add<Mired, Mired>);
static_assert(!can_add<Lux, Stop>);
static_assert(!can_add<Lux, Candela>);
static_assert(!can_add<Lux, Luminance>);
static_assert(!can_add<Metre, Degree>);
static_assert(!can_add<Kelvin, Mired>);
static_assert(!can_add<Kelvin, Kelvin> && !can_subtract<Kelvin, Kelvin>);
static_assert(can_compare<Kelvin, Kelvin> && !can_compare<Lux, Luminance>);
static_assert(!std::is_convertible_v<double, Lux> && !std::is_convertible_v<Lux, double>);
static_assert(!std::is_convertible_v<Candela, Lux> && !std::is_constructible_v<Lux, Candela>);

TEST(Units, InverseSquareAndCosine) {
    // I cos / d^2: Lambert's law, any photometry text (also CIE 171 case 5.2).
    EXPECT_NEAR(illuminance(Candela{1000}, Metre{2}, 1.0).value, 250.0, 1e-9);
    const double cos30 = std::cos(radians(Degree{30}));
    EXPECT_NEAR(illuminance(Candela{1000}, Metre{2 / cos30}, cos30).value, 162.38, 0.005);
    EXPECT_NEAR(illuminance(Candela{1000}, Metre{2.5}, 0.8).value, 128.0, 1e-9);
    // Radiance of a matt surface: 4,000 lx through a cloth that scatters half of it (definition).
    EXPECT_NEAR(luminance_of_matt(Lux{4000}, 0.5).value, 636.62, 0.005);
    EXPECT_NEAR(flux_all_round(Candela{1}).value, 12.566371, 1e-6);
}

TEST(Units, FootcandlesAndFeet) {
    // NIST SP 811: 1 fc = 10.76391 lx, 1 ft = 0.3048 m.
    EXPECT_NEAR(from_footcandles(1).value, 10.76391, 5e-6);
    EXPECT_NEAR(footcandles(Lux{117.6}), 10.93, 0.005);
    EXPECT_DOUBLE_EQ(footcandles(from_footcandles(37.5)), 37.5);
    EXPECT_DOUBLE_EQ(from_feet(10).value, 3.048);
}

TEST(Units, StopsAreLog2) {
    // Definition. Key and fill together over fill: (300 + 100) : 100 is 2 stops, 300 : 100 is 1.585.
    EXPECT_NEAR(stops_between(Lux{100}, Lux{400}).value, 2.0, 1e-12);
    EXPECT_NEAR(stops_between(Lux{100}, Lux{300}).value, 1.585, 5e-4);
    EXPECT_NEAR(stops_between(Luminance{8}, Luminance{2}).value, -2.0, 1e-12);
    EXPECT_NEAR(factor(Stop{-1.5}), 0.353553, 1e-6);
    EXPECT_EQ(stops_between(Lux{100}, Lux{0}).value, -INFINITY);
}

TEST(Units, MiredAddsWhereKelvinDoesNot) {
    // Definition: 10^6 / K.
    EXPECT_NEAR(mired(Kelvin{3200}).value, 312.50, 1e-9);
    EXPECT_NEAR(mired(Kelvin{5600}).value, 178.57, 0.005);
    EXPECT_NEAR((mired(Kelvin{5600}) - mired(Kelvin{3200})).value, -133.93, 0.005);
    EXPECT_NEAR(kelvin(mired(Kelvin{5500}) + Mired{131}).value, 3196.7, 0.05);
    EXPECT_NEAR(kelvin(mired(Kelvin{3200}) + Mired{-131}).value, 5509.6, 0.05);
    for (double k = 1000; k <= 20'000; k += 250) EXPECT_NEAR(kelvin(mired(Kelvin{k})).value, k, 1e-9);
}

TEST(Measured, MeanAndItsStandardError) {
    // Worked by hand: mean 5, sum of squares 32, n 8: s^2 = 32 / 7, error = s / sqrt 8.
    const std::vector<double> estimates{2, 4, 4, 4, 5, 5, 7, 9};
    const Measured m = mean_of(estimates);
    EXPECT_DOUBLE_EQ(m.value, 5.0);
    EXPECT_NEAR(m.error, 0.755929, 1e-6);
    EXPECT_NEAR(m.relative_error(), 0.151186, 1e-6);
}

TEST(Measured, OneEstimateKnowsNoError) {
    const std::vector<double> one{3.0}, none;
    EXPECT_EQ(mean_of(one).value, 3.0);
    EXPECT_EQ(mean_of(one).error, INFINITY);
    EXPECT_EQ(mean_of(none).error, INFINITY);
}

}  // namespace
}  // namespace rushlight
