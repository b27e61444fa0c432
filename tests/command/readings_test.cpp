// What `read` says, as a program that reads it would take it in.
#include "command/program.h"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

namespace rushlight::testing_command {
namespace {

using nlohmann::json;

json parsed(const Answer& a) {
    json j = json::parse(a.out, nullptr, false);
    EXPECT_FALSE(j.is_discarded()) << a;
    return j;
}

/// All that a sheet must hold, whatever was asked.
void expect_sheet(const json& sheet) {
    for (const char* key : {"setup", "option", "readings", "ratios", "separations", "seconds"})
        ASSERT_TRUE(sheet.contains(key)) << key;
    ASSERT_FALSE(sheet["readings"].empty());
    for (const json& r : sheet["readings"]) {
        for (const char* key : {"name", "mark", "kind", "lux", "error_lux", "stop", "by_source"})
            ASSERT_TRUE(r.contains(key)) << key;
        double sum = 0;
        for (const auto& [source, lux] : r["by_source"].items()) sum += lux.get<double>();
        EXPECT_GT(r["lux"].get<double>(), 0) << r;
        EXPECT_GT(r["error_lux"].get<double>(), 0) << r;
        EXPECT_NEAR(sum, r["lux"].get<double>(), 4 * r["error_lux"].get<double>()) << r;
    }
    for (const json& r : sheet["ratios"])
        EXPECT_NEAR(std::log2(r["ratio"].get<double>()), r["stops"].get<double>(), 1e-6) << r;
    for (const json& s : sheet["separations"]) EXPECT_TRUE(s.contains("name") && s.contains("stops")) << s;
}

/// The one with this name, of a list of objects.
json named(const json& list, const std::string& name) {
    for (const json& j : list)
        if (j["name"] == name) return j;
    ADD_FAILURE() << "no " << name << " in " << list;
    return {};
}

const std::string two_setups = overcast + room + window + lamp + meter + camera + R"(
[[setup]]
name = "1"
[[setup]]
name = "2"
change.lamp.key.on = false
[[option]]
name = "half"
setups = ["1"]
change.lamp.key.level = "-1 stop"
)";

TEST(Json, OneSheet) {
    const Scratch here;
    const Answer a =
        rushlight(here, {"read", scene("kitchen-night.toml"), "--setup", "2 cook", "--time", "4s", "--json"});
    ASSERT_EQ(a.status, 0) << a;
    const json sheet = parsed(a);
    expect_sheet(sheet);
    EXPECT_EQ(sheet["setup"], "2 cook");
    EXPECT_EQ(sheet["option"], "as found");
    EXPECT_EQ(sheet["sources"], json({"pendant", "key", "moon"}));
    // Four meters on each of two faces, and one by hand; a ratio for each face; a separation for each head in shot.
    EXPECT_EQ(sheet["readings"].size(), 9U);
    EXPECT_EQ(sheet["ratios"].size(), 2U);
    EXPECT_GE(sheet["separations"].size(), 1U);
    EXPECT_EQ(named(sheet["readings"], "cook near cheek")["kind"], "flat");
    EXPECT_EQ(named(sheet["readings"], "cook dome to lens")["kind"], "dome");
    EXPECT_EQ(named(sheet["readings"], "cook front")["mark"], "cook");
}

TEST(Json, AllSetUpsWithAllOptionsInAList) {
    const Scratch here;
    here.with("f.toml", two_setups);
    const Answer a = rushlight(here, {"read", "f.toml", "--time", "100ms", "--json", "--all", "-o", "all.json"});
    ASSERT_EQ(a.status, 0) << a;
    EXPECT_EQ(a.out, "");
    const json list = json::parse(std::ifstream(here / "all.json"), nullptr, false);
    ASSERT_TRUE(list.is_array());
    ASSERT_EQ(list.size(), 3U);
    for (const json& sheet : list) expect_sheet(sheet);
    EXPECT_EQ(list[0]["setup"], "1");
    EXPECT_EQ(list[1]["option"], "half");
    EXPECT_EQ(list[2]["setup"], "2");
    // What is off gives nothing.
    EXPECT_EQ(list[2]["readings"][0]["by_source"]["key"], 0.0);
}

// A lamp a stop down gives half: what "-1 stop" means. The sky stays as it is.
TEST(Json, AStopDownIsHalf) {
    const Scratch here;
    here.with("f.toml", two_setups);
    const Answer a = rushlight(here, {"read", "f.toml", "--error", "0.5%", "--json", "--all"});
    ASSERT_EQ(a.status, 0) << a;
    const json list = parsed(a);
    const auto from = [&](std::size_t sheet, const char* source) {
        return list[sheet]["readings"][0]["by_source"][source].get<double>();
    };
    const double error =
        list[0]["readings"][0]["error_lux"].get<double>() + list[1]["readings"][0]["error_lux"].get<double>();
    EXPECT_NEAR(from(1, "key"), from(0, "key") / 2, 4 * error);
    EXPECT_NEAR(from(1, "sky"), from(0, "sky"), 4 * error);
    EXPECT_LT(error, 0.02 * from(0, "key"));
}

// All set-ups on one page: a row for each and for each option; a lamp that hangs before the lens is said to be in shot.
TEST(Overview, IsARowASetUp) {
    const Scratch here;
    here.with("f.toml", two_setups);
    const Answer a = rushlight(here, {"read", "f.toml", "--all", "--error", "5%"});
    ASSERT_EQ(a.status, 0) << a;
    EXPECT_LE(std::count(a.out.begin(), a.out.end(), '\n'), 20) << a;
    for (const char* row : {"\n  1 ", "\n    half ", "\n  2 "}) EXPECT_NE(a.out.find(row), std::string::npos) << a;
    EXPECT_EQ(a.out.find("Share by source"), std::string::npos) << a;
    const Answer one = rushlight(here, {"read", "f.toml", "--all", "--setup", "1", "--error", "5%"});
    EXPECT_NE(one.out.find("Share by source"), std::string::npos) << one;
    here.with("g.toml",
              dark + room + lamp + camera +
                  "[[lamp]]\nname = \"globe\"\nshape = \"ball\"\nat = [2.5, 2, 1.2]\nsize = 0.3\n"
                  "output = \"500 lm\"\n[[camera]]\nname = \"here\"\nat = [0.5, 2, 1.2]\nlook_at = [2.5, 2, 1.2]\n"
                  "[[setup]]\nname = \"at it\"\ncamera = \"here\"\n");
    const Answer shot = rushlight(here, {"read", "g.toml", "--json", "--error", "20%"});
    EXPECT_EQ(parsed(shot)["in_shot"], json({"globe"})) << shot;
    EXPECT_EQ(parsed(shot)["schema"], 2);
}

TEST(CommaSeparated, RowsAndChanges) {
    const Scratch here;
    here.with("f.toml", two_setups);
    const Answer a =
        rushlight(here, {"read", "f.toml", "--time", "200ms", "--csv", "--option", "half", "--against", "as found"});
    ASSERT_EQ(a.status, 0) << a;
    EXPECT_EQ(a.out.rfind("row,name,mark,receptor,lux,error_lux,t_stop,", 0), 0U) << a;
    EXPECT_NE(a.out.find("\r\nreading,table,,flat,"), std::string::npos) << a;
    EXPECT_NE(a.out.find("\r\nchange from as found,table,"), std::string::npos) << a;
    // As many cells in every row.
    std::istringstream rows(a.out);
    std::string first;
    std::getline(rows, first);
    for (std::string row; std::getline(rows, row);)
        EXPECT_EQ(std::count(row.begin(), row.end(), ','), std::count(first.begin(), first.end(), ',')) << row;
}

// What the cheek can lose to a black cloth is bounded by the share of its hemisphere that the cloth fills: under an
// even surround that is all, and the brick behind it is no brighter than floor and windows. Share of a rectangle seen
// square on over its middle, cosine weighed (configuration-factor catalogues): 1.2 x 2.4 m at 0.7 m, 0.604.
TEST(Against, ABlackClothTakesWhatItCovers) {
    const Scratch here;
    const Answer a = rushlight(here, {"read", scene("workshop.toml"), "--setup", "4 close A", "--option",
                                      "black on the room side", "--against", "as found", "--error", "3%", "--json"});
    ASSERT_EQ(a.status, 0) << a;
    const json sheet = parsed(a);
    expect_sheet(sheet);
    EXPECT_EQ(sheet["against"], "as found");

    const auto corner = [](double x, double y) {
        return (x / std::hypot(x, 1.0) * std::atan(y / std::hypot(x, 1.0)) +
                y / std::hypot(y, 1.0) * std::atan(x / std::hypot(y, 1.0))) /
               (2 * std::numbers::pi);
    };
    const double covered = 4 * corner(0.6 / 0.7, 1.2 / 0.7);
    EXPECT_NEAR(covered, 0.604, 0.001);
    const double most = -std::log2(1 - covered);  // stops

    // The lens is on the room side: the near cheek is the one in the shade.
    const json cheek = named(sheet["readings"], "A near cheek");
    EXPECT_EQ(cheek["side"], "fill");
    const json change = named(sheet["changes"], "A near cheek");
    const double fall = -change["stops"].get<double>(), error = change["error_stops"].get<double>();
    EXPECT_LT(error, 0.08);
    EXPECT_GT(fall, 3 * error + 0.3);
    EXPECT_LT(fall, most + 3 * error);
    // The window's side of the face does not see it.
    const json other = named(sheet["changes"], "A far cheek");
    EXPECT_LT(std::abs(other["stops"].get<double>()), 0.1 + 4 * other["error_stops"].get<double>());
}

// The same file and seed give the same bits, however many work on it.
TEST(Repeats, WhateverTheThreads) {
    const Scratch here;
    here.with("f.toml", overcast + room + window + lamp + meter + camera);
    std::vector<json> sheets;
    for (const char* threads : {"1", "2", "7"}) {
        const Answer a =
            rushlight(here, {"read", "f.toml", "--error", "1%", "--seed", "5", "--json", "--threads", threads});
        ASSERT_EQ(a.status, 0) << a;
        sheets.push_back(parsed(a));
        sheets.back().erase("seconds");
    }
    EXPECT_EQ(sheets[0], sheets[1]);
    EXPECT_EQ(sheets[0], sheets[2]);
    const json other = parsed(rushlight(here, {"read", "f.toml", "--error", "1%", "--seed", "6", "--json"}));
    EXPECT_NE(sheets[0]["readings"], other["readings"]);
}

// Dark hair before a bright window needs many walks: no clock may end them unseen.
TEST(Repeats, OutlinesToo) {
    const Scratch here;
    std::vector<json> sheets;
    for (const char* threads : {"1", "2"}) {
        const Answer a = rushlight(here, {"read", std::string(RUSHLIGHT_SOURCE) + "/scenes/workshop.toml", "--setup",
                                          "1 wide", "--error", "2.5%", "--json", "--threads", threads});
        ASSERT_EQ(a.status, 0) << a;
        sheets.push_back(parsed(a));
        sheets.back().erase("seconds");
    }
    EXPECT_EQ(sheets[0], sheets[1]);
    ASSERT_EQ(sheets[0]["separations"].size(), 2U);
    for (const json& s : sheets[0]["separations"]) {
        // Two means of 3 %, as a difference in stops: sqrt(2) * .03 / ln 2. Asked for less, since an error from 32
        // batches scatters by some 13 % about the true one.
        EXPECT_LE(s["error_stops"].get<double>(), 0.0612);
        EXPECT_GT(s["error_stops"].get<double>(), 0.0);
    }
}

TEST(Repeats, FramesToo) {
    const Scratch here;
    here.with("f.toml", dark + room + lamp + camera);
    std::vector<std::string> pictures;
    for (const char* threads : {"1", "2"}) {
        const Answer a = rushlight(
            here, {"frame", "f.toml", "--error", "30%", "--width", "48", "--threads", threads, "-o", "f.png"});
        ASSERT_EQ(a.status, 0) << a;
        std::ifstream in(here / "f.png", std::ios::binary);
        pictures.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    EXPECT_FALSE(pictures[0].empty());
    EXPECT_EQ(pictures[0], pictures[1]);
}

// A person before the camera, a lamp to the right of the lens and above it.
const std::string one_person = dark + room + R"([[mark]]
name = "A"
at = [2.5, 1.2]
facing = [2.5, 4]
[[lamp]]
name = "key"
shape = "box"
at = [3.7, 3.0, 2.2]
aim = "A"
size = 0.5
output = "4000 lm"
[[camera]]
name = "to A"
shot = "medium close-up"
of = "A"
off_eyeline = 10
lens = 50
[[camera]]
name = "from the side"
shot = "medium close-up"
of = "A"
off_eyeline = -60
lens = 50
[[setup]]
name = "1"
camera = "to A"
[[setup]]
name = "2"
camera = "from the side"
)";

TEST(Json, PeopleAndCamera) {
    const Scratch here;
    here.with("f.toml", one_person);
    const Answer a = rushlight(here, {"read", "f.toml", "--error", "3%", "--json"});
    ASSERT_EQ(a.status, 0) << a;
    const json sheet = parsed(a);
    ASSERT_EQ(sheet["people"].size(), 1U);
    const json& person = sheet["people"][0];
    EXPECT_EQ(person["in_picture"], true);
    EXPECT_EQ(person["key_source"], "key");
    const json key = named(person["spots"], person["key_side"].get<std::string>() + " cheek");
    // Skin of 20 % under the key's lux, seen by spot and by flat meter: L = rho E / pi (Lambert), and some gloss.
    const json flat = named(sheet["readings"], "A " + person["key_side"].get<std::string>() + " cheek");
    const double matt = 0.2 * flat["lux"].get<double>() / std::numbers::pi;
    EXPECT_NEAR(std::log2(key["cd_m2"].get<double>() / matt), 0, 0.4);
    // Over grey is counted from the luminance that the sheet itself gives as grey.
    EXPECT_NEAR(key["over_grey_stops"].get<double>(),
                std::log2(key["cd_m2"].get<double>() / sheet["camera"]["grey_cd_m2"].get<double>()), 1e-9);
    // (K+F):F is K:F + 1 (lighting texts).
    const json both = named(person["key_to_fill"], "(K+F):F, flat on the cheeks");
    EXPECT_NEAR(both["ratio"].get<double>() - 1,
                named(person["key_to_fill"], "K:F, key alone to fill")["ratio"].get<double>(), 1e-9);
    // The lamp shows in the eye, on its own side and above the middle: between twelve and three in the picture.
    ASSERT_FALSE(person["eye_lights"].empty());
    EXPECT_EQ(person["eye_lights"][0]["source"], "key");
    const double clock = person["eye_lights"][0]["clock"].get<double>();
    EXPECT_TRUE(clock > 9 || clock < 3) << clock;
    // Nobody wears glasses, and nothing is before the lens.
    EXPECT_TRUE(person["glasses"].is_null());
    EXPECT_TRUE(key["on_sensor_cd_m2"].is_null());
    // The lamp stands 65 degrees off the axis and lights the lens from the side: not in the picture, yet on the glass.
    const json& into = sheet["camera"]["into_lens"];
    ASSERT_EQ(into.size(), 1U) << sheet["camera"];
    EXPECT_EQ(into[0]["source"], "key");
    EXPECT_EQ(into[0]["in_picture"], false);
    EXPECT_LT(into[0]["direct_lux"].get<double>(), sheet["camera"]["lens_lux"]["lux"].get<double>());
}

TEST(Json, GlassesAndMist) {
    const Scratch here;
    std::string text = one_person;
    const auto into = [&](const std::string& after, const std::string& what) {
        const std::size_t at = text.find(after);
        ASSERT_NE(at, std::string::npos) << after;
        text.insert(at + after.size(), what);
    };
    into("lens = 50\n", "mist = \"half\"\n");
    into("name = \"A\"\n", "person = { glasses = \"dark\", shirt = 0.7, skin = 0.2 }\n");
    here.with("f.toml", text);
    const Answer a = rushlight(here, {"read", "f.toml", "--error", "5%", "--json"});
    ASSERT_EQ(a.status, 0) << a;
    const json sheet = parsed(a);
    const json& person = sheet["people"][0];
    EXPECT_TRUE(person["glasses"].is_array());
    EXPECT_GT(named(person["spots"], "shirt")["cd_m2"].get<double>(), 0);
    // No spot is left quite as it was, and the darkest rises most.
    for (const json& spot : person["spots"])
        EXPECT_NE(spot["on_sensor_cd_m2"].get<double>(), spot["cd_m2"].get<double>()) << spot;
    EXPECT_GT(sheet["camera"]["mist_lift"]["stops"].get<double>(), 0);
}

TEST(Match, IsAskedOfTwoSetUps) {
    const Scratch here;
    here.with("f.toml", one_person);
    const Answer same = rushlight(here, {"read", "f.toml", "--error", "5%", "--match", "1", "1", "--json"});
    ASSERT_EQ(same.status, 0) << same;
    const json list = parsed(same);
    ASSERT_EQ(list.size(), 3U);
    for (const json& row : list[2]["rows"]) EXPECT_EQ(row["matches"], true) << row;
    const Answer unknown = rushlight(here, {"read", "f.toml", "--match", "1", "3"});
    EXPECT_EQ(unknown.status, 2);
    EXPECT_EQ(unknown.error_lines(), 1U) << unknown;
    EXPECT_TRUE(unknown.says("no set-up '3'"));
}

TEST(Frame, GuidesAndExposure) {
    const Scratch here;
    here.with("f.toml", one_person);
    const Answer a = rushlight(here, {"frame", "f.toml", "--error", "50%", "--width", "120", "--exposure", "--guides",
                                      "2.39,thirds", "-o", "p"});
    ASSERT_EQ(a.status, 0) << a;
    EXPECT_TRUE(fs::exists(here / "p.png") && fs::exists(here / "p-exposure.png"));
    const Answer wrong = rushlight(here, {"frame", "f.toml", "--guides", "thrids", "-o", "q"});
    EXPECT_EQ(wrong.status, 2);
    EXPECT_EQ(wrong.error_lines(), 1U);
    EXPECT_TRUE(wrong.says("did you mean 'thirds'?")) << wrong;
    EXPECT_FALSE(fs::exists(here / "q.png"));
}

}  // namespace
}  // namespace rushlight::testing_command
