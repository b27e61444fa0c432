#include "setup/text/typed_values.h"
#include "setup/text/words.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

// 1 ft = 0.3048 m, 1 in = 25.4 mm exactly (NIST SP 811).
TEST(Measures, Lengths) {
    EXPECT_DOUBLE_EQ(length_from("6ft 2in").value(), 74 * 0.0254);
    EXPECT_DOUBLE_EQ(length_from("6 FT 2 IN").value(), 74 * 0.0254);
    EXPECT_DOUBLE_EQ(length_from("6' 2\"").value(), 74 * 0.0254);
    EXPECT_DOUBLE_EQ(length_from("4ft").value(), 1.2192);
    EXPECT_DOUBLE_EQ(length_from("0.9 m").value(), 0.9);
    EXPECT_DOUBLE_EQ(length_from("90 cm").value(), 0.9);
    EXPECT_DOUBLE_EQ(length_from("900mm").value(), 0.9);
    EXPECT_DOUBLE_EQ(length_from("1 m 20 cm").value(), 1.2);
    EXPECT_DOUBLE_EQ(length_from("-3ft 6in").value(), -1.0668);
    for (const char* nonsense :
         {"", "6", "ft", "6ft 2", "6ft -2in", "0,9 m", "1e400 m", "nan m", "6 parsecs", "1 m 2 m 3 m"})
        EXPECT_FALSE(length_from(nonsense)) << nonsense;
}

// One stop is a factor of two.
TEST(Measures, Levels) {
    EXPECT_DOUBLE_EQ(level_from("50%").value(), 0.5);
    EXPECT_DOUBLE_EQ(level_from("-1 stop").value(), 0.5);
    EXPECT_DOUBLE_EQ(level_from("-2.5 stops").value(), 0.17677669529663687);
    for (const char* nonsense : {"", "0.5", "half", "50 percent", "-1 stopped"})
        EXPECT_FALSE(level_from(nonsense)) << nonsense;
}

// 1 fc = 10.76391 lx (NIST SP 811).
TEST(Measures, Outputs) {
    const TypedOutput lumen = output_from("9000 lm").value();
    EXPECT_EQ(lumen.unit, TypedOutput::Unit::lumen);
    EXPECT_DOUBLE_EQ(lumen.amount, 9000);
    const TypedOutput lux = output_from("5200 lx at 3 m").value();
    EXPECT_EQ(lux.unit, TypedOutput::Unit::lux);
    EXPECT_DOUBLE_EQ(lux.distance, 3);
    const TypedOutput fc = output_from("480 fc at 10ft").value();
    EXPECT_NEAR(fc.amount, 480 * 10.76391, 0.01);
    EXPECT_DOUBLE_EQ(fc.distance, 3.048);
    EXPECT_EQ(output_from("20000 cd").value().unit, TypedOutput::Unit::candela);
    for (const char* text : {"800 cd/m2", "800 cd/m²"}) {
        EXPECT_EQ(output_from(text).value().unit, TypedOutput::Unit::luminance) << text;
        EXPECT_DOUBLE_EQ(output_from(text).value().amount, 800);
    }
    EXPECT_FALSE(output_from("800 cd/m"));
    for (const char* nonsense :
         {"", "9000", "5200 lx", "5200 lx at", "5200 lx at 3", "lm", "9,000 lm", "9000 lm at 3 m"})
        EXPECT_FALSE(output_from(nonsense)) << nonsense;
}

// Leap years by the Gregorian rule: 2000 was one, 1900 and 2100 are not.
TEST(Measures, DatesAndTimes) {
    EXPECT_EQ(date_from("2026-10-14").value(), (std::array{2026, 10, 14}));
    EXPECT_TRUE(date_from("2028-02-29"));
    EXPECT_TRUE(date_from("2000-02-29"));
    for (const char* nonsense :
         {"2026-02-29", "2100-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "14.10.2026", "2026-10-14x"})
        EXPECT_FALSE(date_from(nonsense)) << nonsense;
    EXPECT_DOUBLE_EQ(clock_from("09:30").value(), 9.5);
    EXPECT_DOUBLE_EQ(clock_from("9:30:36").value(), 9.51);
    for (const char* nonsense : {"24:00", "9:60", "9", "9:3", "noon", "09:30 pm"})
        EXPECT_FALSE(clock_from(nonsense)) << nonsense;
    EXPECT_DOUBLE_EQ(utc_offset_from("UTC").value(), 0);
    EXPECT_DOUBLE_EQ(utc_offset_from("UTC+1").value(), 1);
    EXPECT_DOUBLE_EQ(utc_offset_from("utc-03:30").value(), -3.5);
    for (const char* nonsense : {"UTC+15", "UTC+", "GMT+1", "UTC+1:99"})
        EXPECT_FALSE(utc_offset_from(nonsense)) << nonsense;
}

// The textbook pair: "kitten" to "sitting" takes three edits (Levenshtein); a swap counts one (Damerau).
TEST(Words, Distance) {
    EXPECT_EQ(word_distance("kitten", "sitting"), 3U);
    EXPECT_EQ(word_distance("widht", "width"), 1U);
    EXPECT_EQ(word_distance("", "abc"), 3U);
    EXPECT_EQ(word_distance("same", "same"), 0U);
}

TEST(Words, Hints) {
    EXPECT_EQ(hint("widht", {"width", "depth"}), "; did you mean 'width'?");
    EXPECT_EQ(hint("colour", {"width", "depth"}), "; expected one of: width, depth");
    EXPECT_EQ(hint("C", {"A", "B"}), "; expected one of: A, B");
    EXPECT_EQ(hint("x", {}), "; there are none here");
    EXPECT_EQ(in_quotes("a\nb"), "'a?b'");
    EXPECT_EQ(in_quotes(std::string(100, 'x')), "'" + std::string(60, 'x') + "...'");
    EXPECT_EQ(tidy("  Dark   OAK "), "dark oak");
}

}  // namespace
}  // namespace rushlight
