// Tables as people's spreadsheets write them: RFC 4180, and its cousins with semicolons, tabs and decimal commas. One
// footcandle is a lumen a square foot, 10.7639 lx.
#include "setup/text/metered_table.h"

#include "setup/text/where.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

MeteredTable read(const std::string& text) {
    return metered_table_from_text(text, "scout.csv");
}
std::string refusal(const std::string& text) {
    try {
        read(text);
    } catch (const InputError& e) {
        return e.what();
    }
    return "was read without complaint";
}

TEST(MeteredTable, CommasQuotesAndTwoReadings) {
    const MeteredTable t = read(
        "what,lux,kelvin,note\r\n\"table, far end\",410,5600,\"said \"\"about\"\"\"\r\nA near cheek,,4800\r\n\r\n");
    ASSERT_EQ(t.lines.size(), 2U);
    EXPECT_EQ(t.lines[0].what, "table, far end");
    EXPECT_EQ(t.lines[0].lux, 410);
    EXPECT_EQ(t.lines[0].kelvin, 5600);
    EXPECT_FALSE(t.lines[1].lux);
    EXPECT_EQ(t.lines[1].line, 3);
    ASSERT_EQ(t.remarks.size(), 1U);
    EXPECT_EQ(t.remarks[0], "column 'note' is not used");
}

TEST(MeteredTable, SemicolonsWithDecimalCommasTabsWithFootcandles) {
    EXPECT_EQ(read("\xEF\xBB\xBFWhat;Lux\nbench;37,5\n").lines[0].lux, 37.5);
    EXPECT_NEAR(read("what\tfc\nbench\t10\n").lines[0].lux.value_or(0), 107.639, 1e-3);
}

TEST(MeteredTable, WrongOnesSayWhere) {
    EXPECT_EQ(refusal("what,lux\nbench,bright\n"),
              "scout.csv:2:7: found lux 'bright', expected a number from 0.01 to 200000, or nothing");
    // A comma that parts columns is no decimal point: a thousand and two hundred may be meant.
    EXPECT_EQ(refusal("what,lux\nbench,\"1,200\"\n"),
              "scout.csv:2:7: found lux '1,200', expected a number from 0.01 to 200000, or nothing");
    EXPECT_EQ(refusal("what,lux\n,400\n"), "scout.csv:2:1: found no name, expected that of a reading");
    EXPECT_EQ(refusal("where,lux\nbench,400\n"),
              "scout.csv:1: found no column 'what', expected heads such as what, lux, kelvin");
    EXPECT_EQ(refusal("what,lux,fc\nbench,400,37\n"), "scout.csv:1: found lux and fc, expected one of the two");
    EXPECT_EQ(refusal("what,lux\n\"bench,400\n"), "scout.csv:2:1: found a quote that is never closed");
    EXPECT_EQ(refusal(""), "scout.csv: found nothing, expected a line of heads: what, lux, kelvin");
    EXPECT_EQ(refusal("what,lux\nbench,1e9\n").substr(0, 14), "scout.csv:2:7:");
    EXPECT_EQ(refusal("what,lux\n"), "scout.csv:1: found heads and no readings under them");
}

}  // namespace
}  // namespace rushlight
