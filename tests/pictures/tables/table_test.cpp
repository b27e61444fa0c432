#include "pictures/tables/table.h"
#include "pictures/tables/day_table.h"
#include "pictures/tables/json.h"
#include "pictures/words/json_value.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

namespace rushlight {
namespace {

// Made up for this test: no measured place, no real people.
Sheet made_up_sheet() {
    Sheet sheet;
    sheet.title = "The second signature";
    sheet.setup = "2 Over-shoulder to A";
    sheet.option = "free sky";
    sheet.sources = {"sky", "key box", "lampe à pétrole"};
    sheet.readings = {
        {"A window cheek", "A", "flat", "key", {1290, 12.4}, 7.1, 5880, 0.0031, {{1200, 12}, {88, 2}, {2, 0.1}}},
        {"A far cheek", "A", "flat", "fill", {125.6, 2.1}, 2.2, 4310, -0.0012, {{100, 2}, {0, 0}, {25.6, 0.5}}},
        {"closed drawer", "", "dome", "", {0, 0}, 0, 0, 0, {{0, 0}, {0, 0}, {0, 0}}}};
    sheet.ratios = {{"A cheeks", 10.27, {3.36, 0.03}}, {"drawer", INFINITY, {INFINITY, 0}}};
    sheet.separations = {{"A hair", {-0.84, 0.06}, 0.2}};
    sheet.against = "as found";
    sheet.changes = {{"A far cheek", {-1.23, 0.04}}, {"A window cheek", {0.02, 0.03}}};
    sheet.remarks = {"The sky was taken as overcast, because the file names no weather."};
    sheet.seconds = 12.34;
    sheet.wanted_error = 0.02;
    return sheet;
}

TEST(Table, ReadsAsItShould) {
    EXPECT_EQ(table(made_up_sheet()), R"(The second signature · 2 Over-shoulder to A · free sky
Meter: incident light, flat receptor, C = 250 lx s; the T-stop is for the camera's ISO and shutter.
± is one standard error.

  Readings        side  receptor       lux   ±  T-stop  kelvin     Duv
  A window cheek  key   flat          1290  12    T7.1    5880  +0.003
  A far cheek     fill  flat           126   2    T2.2    4310  −0.001
  closed drawer         dome      no light           -       -       -

  Share by source   sky  key box  lampe à pétrole
  A window cheek   93 %      7 %             <1 %
  A far cheek      80 %        -             20 %
  closed drawer       -        -                -

  Ratios, brighter:darker  ratio                        stops
  A cheeks                  10:1                   3.4 ± 0.03
  drawer                       -  no light on the darker side
  Ratios are (brighter cheek):(darker cheek), each with all the light that falls on it.

  Hair over background        stops  minimum along the edge
  A hair                −0.8 ± 0.06                     0.2
  + is an outline brighter than what is behind it.

  Change from "as found"        stops
  A far cheek             −1.2 ± 0.04
  A window cheek           0.0 ± 0.03  within the noise

  Note: The sky was taken as overcast, because the file names no weather.
  Traced in 12 s; wanted error 2.0 %.
)");
}

TEST(Table, NeverPassesAHundredColumnsNorPrintsInfinities) {
    Sheet sheet = made_up_sheet();
    for (int i = 0; i < 30; ++i) sheet.sources.push_back("a lamp with a rather long name, number " + std::to_string(i));
    for (Reading& r : sheet.readings) r.by_source.resize(sheet.sources.size(), {1.0, NAN});
    sheet.readings[0].name = std::string(300, 'W');
    sheet.readings[1].name = "灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯灯\nnew line";
    sheet.readings[1].lux = {NAN, INFINITY};
    sheet.ratios[0] = {std::string(300, 'r'), NAN, {-INFINITY, NAN}};
    sheet.separations[0] = {"\xFF\xFE", {INFINITY, INFINITY}, NAN};
    sheet.remarks = {std::string(500, 'x'), "many words " + std::string(20, ' ') + std::string(150, 'y')};
    sheet.title = std::string(200, 't');
    std::istringstream lines(table(sheet));
    for (std::string line; std::getline(lines, line);) {
        EXPECT_LE(columns(line), 100) << line;
        if (line.find("Note") != std::string::npos) continue;
        for (const char* word : {"inf", "nan", "-nan"}) EXPECT_EQ(line.find(word), std::string::npos) << line;
    }
}

TEST(Table, EmptySheetSaysSo) {
    EXPECT_NE(table(Sheet{}).find("No readings"), std::string::npos);
}

TEST(CommaSeparated, HasOneRowForEachAndQuotesWhatNeedsIt) {
    Sheet sheet = made_up_sheet();
    sheet.readings[0].name = "A, the \"key\" side";
    const std::string text = comma_separated(sheet);
    std::istringstream lines(text);
    std::vector<std::string> rows;
    for (std::string line; std::getline(lines, line);) rows.push_back(line);
    ASSERT_EQ(rows.size(), 1U + 3 + 2 + 1 + 2);
    EXPECT_EQ(rows[0],
              "row,name,mark,receptor,lux,error_lux,t_stop,kelvin,duv,ratio,stops,error_stops,least_stops,"
              "sky lux,key box lux,lampe à pétrole lux\r");
    EXPECT_EQ(rows[1],
              "reading,\"A, the \"\"key\"\" side\",A,flat,1290.0000,12.4000,7.100,5880,0.00310,,,,,"
              "1200.0000,88.0000,2.0000\r");
    EXPECT_EQ(rows[3], "reading,closed drawer,,dome,0.0000,0.0000,,,,,,,,0.0000,0.0000,0.0000\r");
    EXPECT_EQ(rows[5], "ratio,drawer,,,,,,,,,,0.0000,,,,\r");
    EXPECT_EQ(rows[6], "separation,A hair,,,,,,,,,-0.8400,0.0600,0.2000,,,\r");
}

TEST(Json, ParsesBackToTheSheet) {
    const Sheet sheet = made_up_sheet();
    const auto parsed = nlohmann::json::parse(json(sheet));
    EXPECT_EQ(parsed["setup"], sheet.setup);
    EXPECT_EQ(parsed["option"], "free sky");
    ASSERT_EQ(parsed["readings"].size(), 3U);
    const auto& cheek = parsed["readings"][0];
    EXPECT_EQ(cheek["name"], "A window cheek");
    EXPECT_EQ(cheek["mark"], "A");
    EXPECT_EQ(parsed["schema"], json_schema);
    EXPECT_EQ(cheek["receptor"], "flat");
    EXPECT_EQ(cheek["kind"], "flat");  // as it was called before
    EXPECT_DOUBLE_EQ(cheek["t_stop"].get<double>(), 7.1);
    EXPECT_DOUBLE_EQ(cheek["lux"].get<double>(), 1290);
    EXPECT_DOUBLE_EQ(cheek["error_lux"].get<double>(), 12.4);
    EXPECT_DOUBLE_EQ(cheek["stop"].get<double>(), 7.1);
    EXPECT_DOUBLE_EQ(cheek["by_source"]["lampe à pétrole"].get<double>(), 2);
    EXPECT_TRUE(parsed["readings"][2]["stop"].is_null());
    EXPECT_DOUBLE_EQ(parsed["ratios"][0]["ratio"].get<double>(), 10.27);
    EXPECT_TRUE(parsed["ratios"][1]["ratio"].is_null());
    EXPECT_TRUE(parsed["ratios"][1]["stops"].is_null());
    EXPECT_DOUBLE_EQ(parsed["separations"][0]["stops"].get<double>(), -0.84);
    EXPECT_DOUBLE_EQ(parsed["separations"][0]["least"].get<double>(), 0.2);
    EXPECT_DOUBLE_EQ(parsed["seconds"].get<double>(), 12.34);
}

TEST(Json, StaysValidWhateverTheNamesAndNumbersAre) {
    Sheet sheet = made_up_sheet();
    sheet.setup = "\xFF\xC3 broken \"quoted\" \\ \x01";
    sheet.sources[0] = "\xE2\x82";
    sheet.readings[0].lux = {NAN, -INFINITY};
    sheet.readings[0].t_stop = INFINITY;
    sheet.readings[0].by_source = {{INFINITY, 0}};
    sheet.seconds = NAN;
    const std::string text = json(sheet);
    EXPECT_TRUE(nlohmann::json::accept(text));
    for (const char* word : {"inf", "nan", "NaN", "Infinity"}) EXPECT_EQ(text.find(word), std::string::npos) << word;
    EXPECT_TRUE(nlohmann::json::parse(text)["readings"][0]["lux"].is_null());
}

// A sheet on the glass of the window that is the key takes as much off the face as off the view: no remedy.
TEST(DayTable, OffersNdOnlyWhereItHelps) {
    DayCourse day;
    day.clock = {12};
    day.sun.resize(1);
    ViewHold hold;
    hold.needed = true;
    hold.opening = "window", hold.mark = "A";
    hold.over_face = 5.7, hold.headroom = 5.5, hold.nd_density = 0.15, hold.over_face_with_nd = 5.9,
    hold.more_lux = 300;
    const auto said = [&] {
        day.view_holds = {hold};
        const std::string text = table(day);
        // As one line, whatever is wrapped.
        std::string line;
        for (const char c : text)
            if (c != '\n' && (c != ' ' || line.empty() || line.back() != ' '))
                line += c;
            else if (!line.empty() && line.back() != ' ')
                line += ' ';
        return line;
    };
    EXPECT_NE(said().find("ND on that glass takes as much off the face. It needs 300 lx more"), std::string::npos)
        << said();
    hold.over_face_with_nd = 5.2;
    EXPECT_NE(said().find("ND 0.15 (0.5 stops) on that glass: +5.2"), std::string::npos) << said();
    hold.nd_density = 0;
    EXPECT_EQ(said().find("ND"), std::string::npos) << said();
}

TEST(Numbers, AreSaidForPeople) {
    EXPECT_EQ(lux_text(0), "no light");
    EXPECT_EQ(lux_text(-INFINITY), "no light");
    EXPECT_EQ(lux_text(0.0001), "<0.01");
    EXPECT_EQ(lux_text(0.43), "0.43");
    EXPECT_EQ(lux_text(4.26), "4.3");
    EXPECT_EQ(lux_text(9.96), "10");
    EXPECT_EQ(lux_text(1290.4), "1290");
    EXPECT_EQ(lux_text(104321), "104 321");
    EXPECT_EQ(short_lux_text(12345), "12 300");
    EXPECT_EQ(short_lux_text(1234), "1230");
    EXPECT_EQ(stops_text(1.26), "+1.3");
    EXPECT_EQ(stops_text(-0.44), "−0.4");
    EXPECT_EQ(stops_text(-0.04), "0.0");
    EXPECT_EQ(stops_text(-INFINITY), "-");
    EXPECT_EQ(t_stop_text(0), "-");
    EXPECT_EQ(t_stop_text(5.6), "T5.6");
    EXPECT_EQ(ratio_text(3.96), "4.0:1");
    EXPECT_EQ(ratio_text(25340), "25 340:1");
    EXPECT_EQ(percent_text(0.001), "<1 %");
    EXPECT_EQ(percent_text(0), "-");
    EXPECT_EQ(fixed(1e300, 0).size(), 301U);
    EXPECT_EQ(fixed(-0.0001, 2), "0.00");
}

}  // namespace
}  // namespace rushlight
