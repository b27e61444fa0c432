// Readings beside a meter's. A stop is a factor of two and mired are a million over kelvin; the mean and its standard
// deviation are worked out by hand beside each check.
#include "results/compare/against_meter.h"

#include "setup/text/where.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

Sheet sheet() {
    Sheet s;
    for (const auto& [name, lux] : {std::pair{"A near cheek", 100.0}, {"table", 400.0}, {"wall", 50.0}}) {
        Reading r;
        r.name = name;
        r.lux = {lux, 0.01 * lux};
        r.kelvin = 5000;
        s.readings.push_back(r);
    }
    return s;
}
AgainstMeter against(const std::string& table) {
    return against_meter(sheet(), metered_table_from_text(table, "scout.csv"));
}

TEST(AgainstMeter, StopsAndMired) {
    const AgainstMeter a = against("what,lux,kelvin\nTable,200,4000\nwall,,5000\n");
    ASSERT_EQ(a.lines.size(), 2U);
    EXPECT_EQ(a.lines[0].what, "table");
    EXPECT_NEAR(a.lines[0].stops.value, 1, 1e-9);
    EXPECT_NEAR(a.lines[0].stops.error, 0.01 / std::log(2.0), 1e-9);
    EXPECT_NEAR(a.lines[0].mired, 200 - 250, 1e-9);
    EXPECT_NEAR(a.lines[1].mired, 0, 1e-9);
}

TEST(AgainstMeter, SaysWhatTheDifferencesMean) {
    // +1, +1, +1: mean 1, none apart.
    AgainstMeter a = against("what,lux\nA near cheek,50\ntable,200\nwall,25\n");
    EXPECT_NEAR(a.offset.value, 1, 1e-9);
    EXPECT_NEAR(a.spread, 0, 1e-9);
    EXPECT_NE(a.remarks.back().find("about the same"), std::string::npos);
    // 0, +2: mean 1, standard deviation the root of 2.
    a = against("what,lux\nA near cheek,100\ntable,100\n");
    EXPECT_NEAR(a.offset.value, 1, 1e-9);
    EXPECT_NEAR(a.spread, std::sqrt(2.0), 1e-9);
    EXPECT_NE(a.remarks.back().find("different amounts"), std::string::npos);
    a = against("what,lux\nA near cheek,110\ntable,390\n");
    EXPECT_NE(a.remarks.back().find("as good as meters"), std::string::npos);
}

TEST(AgainstMeter, AnUnknownNameIsAnswered) {
    try {
        against("what,lux\ntabel,200\n");
        ADD_FAILURE() << "taken";
    } catch (const InputError& e) {
        EXPECT_EQ(std::string(e.what()),
                  "scout.csv:2:1: found 'tabel', expected a reading of this set-up; did you mean 'table'?");
    }
}

}  // namespace
}  // namespace rushlight
