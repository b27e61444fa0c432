// Names are typed by people, and some of them by people who mean harm: on the screen and in tables they are words.
#include "pictures/words/printable.h"
#include "pictures/words/json_value.h"
#include "pictures/words/numbers.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

TEST(Printable, NothingSteersTheScreen) {
    // Both sets of control characters of ISO/IEC 6429; the overrides and isolates of Unicode annex 9.
    EXPECT_EQ(printable("a\x1B[31mb"), "a?[31mb");
    EXPECT_EQ(printable(std::string_view("a\0b\x7F\r", 5)), "a?b??");
    EXPECT_EQ(printable("a\xC2\x80"
                        "b\xC2\x9B"
                        "c\xC2\x9F"),
              "a?b?c?");
    EXPECT_EQ(printable("\xE2\x80\xAA|\xE2\x80\xAE|\xE2\x81\xA6|\xE2\x81\xA9|\xE2\x80\xA8"), "?|?|?|?|?");
    EXPECT_EQ(printable("a\x9B"
                        "31m"),
              "a?31m")
        << "a byte by itself, on a screen of one byte a letter";
    EXPECT_EQ(on_one_line("a\nb\tc\x1B"), "a b c?");
}

TEST(Printable, WordsStayAsTheyAre) {
    // Among them letters whose later bytes are those of control characters elsewhere.
    for (const char* words :
         {"plain\n\twords", "Küche 厨房 🎬", "ÛÀ’“…–", "e\xCC\x81", "\xC2\xA0", "latin-\xE9", "\xE2\x80", "\xF0\x9F"})
        EXPECT_EQ(printable(words), words);
}

TEST(Printable, JsonKeepsEveryNameAndEscapesIt) {
    const std::string name =
        "a\xE2\x80\xAE"
        "b\xE2\x81\xA6 and \xE2\x80\xA6";
    JsonValue value;
    value["name"] = json_text(name);
    const std::string text = written_out(value);
    EXPECT_NE(text.find("a\\u202Eb\\u2066 and \xE2\x80\xA6"), std::string::npos) << text;
    EXPECT_EQ(JsonValue::parse(text)["name"], name);
    EXPECT_EQ(printable(text), text);
}

TEST(CommaSeparated, NoCellIsAFormula) {
    for (const char* formula : {"=HYPERLINK(1)", "+A1", "-A1", "@SUM(A1)", "-1 stop", "= 1"}) {
        const std::string cell = csv_cell(formula);
        EXPECT_EQ(cell[cell[0] == '"' ? 1 : 0], '\'') << cell;
    }
    // A tab or a line end before it would be skipped.
    EXPECT_EQ(csv_cell("\t=1+1"), "' =1+1");
    EXPECT_EQ(csv_cell("\r@x"), "' @x");
    EXPECT_EQ(csv_cell("=1,2"), "\"'=1,2\"");
    for (const char* number : {"-0.5", "+3", "-1e-3", "12"}) EXPECT_EQ(csv_cell(number), number);
    EXPECT_EQ(csv_cell("key - fill"), "key - fill");
}

}  // namespace
}  // namespace rushlight
