// Other levels, origins, comparisons and targets, as a person asks for them.
#include "command/program.h"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace rushlight::testing_command {
namespace {

using nlohmann::json;

json parsed(const Answer& a) {
    json j = json::parse(a.out, nullptr, false);
    EXPECT_FALSE(j.is_discarded()) << a;
    return j;
}

const std::string set_up = dark + room + lamp + meter + camera + R"(
[[option]]
name = "black floor"
[[option.add.flag]]
name = "black"
at = [2.5, 2, 0.01]
facing = [2.5, 2, 2]
size = [4, 3]
)";

TEST(WhatIf, IsAnsweredFromWhatWasKept) {
    const Scratch here;
    here.with("f.toml", set_up);
    const std::string cache = (here / "cache").string();
    const auto read = [&](std::vector<std::string> more) {
        std::vector<std::string> words{"read", "f.toml", "--json", "--error", "2%"};
        words.insert(words.end(), more.begin(), more.end());
        const Answer a = rushlight(here, words, 0, cache);
        EXPECT_EQ(a.status, 0) << a;
        return parsed(a);
    };
    const auto lux = [](const json& sheet) { return sheet["readings"][0]["lux"].get<double>(); };
    const auto at_once = [](const json& sheet) {
        return sheet["remarks"].dump().find("kept of an earlier run") != std::string::npos;
    };
    const json first = read({});
    EXPECT_FALSE(at_once(first));
    const json again = read({});
    EXPECT_TRUE(at_once(again));
    EXPECT_EQ(first["readings"], again["readings"]);
    const json half = read({"--level", "key=-1 stop"});
    EXPECT_TRUE(at_once(half));
    EXPECT_NEAR(lux(half), lux(first) / 2, 1e-4 * lux(first));
    // A gel of 0.4 stops and 78 mired (common practice, no source).
    const json warm = read({"--gel", "key=half orange"});
    EXPECT_TRUE(at_once(warm));
    EXPECT_NEAR(std::log2(lux(first) / lux(warm)), 0.4, 0.03);
    EXPECT_NEAR(1e6 / warm["readings"][0]["kelvin"].get<double>() - 1e6 / first["readings"][0]["kelvin"].get<double>(),
                78, 8);
    // ISO moves the stop by half its stops, and no light.
    const json fast = read({"--iso", "3200"});
    EXPECT_EQ(lux(fast), lux(first));
    EXPECT_NEAR(fast["readings"][0]["stop"].get<double>(), 2 * first["readings"][0]["stop"].get<double>(), 1e-6);
    EXPECT_FALSE(at_once(read({"--fresh"})));
    // A change of the file is found out.
    here.with("f.toml", set_up + "[place.surfaces2]\n");
    EXPECT_EQ(rushlight(here, {"read", "f.toml"}, 0, cache).status, 2);
    std::string other = set_up;
    other.replace(other.find("walls = 0.5"), 11, "walls = 0.6");
    here.with("f.toml", other);
    EXPECT_FALSE(at_once(read({})));
}

TEST(WhatIf, WithoutAHomeNothingIsKept) {
    const Scratch here;
    here.with("f.toml", set_up);
    const Answer a = rushlight(here, {"read", "f.toml", "--error", "5%"});
    EXPECT_EQ(a.status, 0) << a;
    EXPECT_EQ(here.files(), std::vector<std::string>{"f.toml"});
}

TEST(WhatIf, FramesAndMapsToo) {
    const Scratch here;
    here.with("f.toml", set_up);
    const std::string cache = (here / "cache").string();
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"frame", "f.toml", "--width", "64", "--error", "30%", "-o", "p.png"},
          {"map", "f.toml", "--width", "64", "--error", "30%", "-o", "p.png"},
          {"map", "f.toml", "--plane", "1", "--width", "64", "--error", "30%", "-o", "p.png"}}) {
        ASSERT_EQ(rushlight(here, words, 0, cache).status, 0);
        std::vector<std::string> other = words;
        other.insert(other.end(), {"--level", "key=25%"});
        const Answer a = rushlight(here, other, 0, cache);
        EXPECT_EQ(a.status, 0) << a;
        EXPECT_TRUE(a.says("kept of an earlier run")) << a;
    }
}

TEST(WhatIf, WrongWordsGetOneLine) {
    const Scratch here;
    here.with("f.toml", set_up);
    const std::pair<std::vector<std::string>, const char*> wrong[] = {
        {{"read", "f.toml", "--level", "kye=50%"}, "did you mean 'key'"},
        {{"read", "f.toml", "--level", "key=200%"}, "between off and full"},
        {{"read", "f.toml", "--gel", "key=half ornge"}, "did you mean 'half orange'"},
        {{"frame", "f.toml", "--level", "sky=1"}, "no dimmer"},
        {{"day", "f.toml", "--level", "kye=50%"}, "did you mean 'key'"},
        {{"balance", "f.toml", "--gel", "kye=none"}, "did you mean 'key'"},
        {{"brief", "f.toml", "-o", "pages", "--level", "kye=50%"}, "did you mean 'key'"},
        {{"origins", "f.toml", "tabel"}, "did you mean 'table'"},
        {{"origins", "f.toml", "table", "--black", "wide"}, "not a width"},
        {{"origins", "f.toml", "table", "--black", "1x2", "--reach", "-1"}, "not a reach"},
        {{"compare", "f.toml", "--options", "black flor"}, "did you mean 'black floor'"},
        {{"balance", "f.toml", "--place", "hiar", "A"}, "did you mean 'hair'"},
        {{"balance", "f.toml", "--place", "key", "A"}, "no mark 'A'"},
        {{"balance", "f.toml"}, "[[target]]"}};
    for (const auto& [words, says] : wrong) {
        const Answer a = rushlight(here, words);
        EXPECT_EQ(a.status, 2) << a;
        EXPECT_EQ(a.error_lines(), 1U) << a;
        EXPECT_TRUE(a.says(says)) << a;
    }
    EXPECT_EQ(here.files(), std::vector<std::string>{"f.toml"});
}

TEST(OriginsCommand, PartsSumAndThePictureIsThere) {
    const Scratch here;
    here.with("f.toml", set_up);
    const Answer a =
        rushlight(here, {"origins", "f.toml", "table", "--error", "2%", "--black", "0.6x0.6", "--json", "-o", "o.png"});
    ASSERT_EQ(a.status, 0) << a;
    const json o = parsed(a);
    double surfaces = 0, sources = 0;
    for (const json& s : o["surfaces"]) surfaces += s["lux"].get<double>();
    for (const json& s : o["by_source"]) sources += s["lux"].get<double>();
    EXPECT_NEAR(surfaces, o["lux"].get<double>(), 1e-3 * surfaces);
    EXPECT_NEAR(sources, o["lux"].get<double>(), 1e-3 * sources);
    EXPECT_EQ(o["surfaces"][0]["name"], "key (the lamp itself)");
    ASSERT_EQ(o["places"].size(), 1U);
    EXPECT_GE(o["places"][0]["stops"].get<double>(), o["places"][0]["even_bound_stops"].get<double>() - 0.1);
    EXPECT_TRUE(fs::exists(here / "o.png"));
}

TEST(CompareCommand, SaysWhatIsRealAndWhatIsNoise) {
    const Scratch here;
    here.with("f.toml", set_up + "[[option]]\nname = \"same again\"\nnotes = \"nothing differs\"\n");
    const Answer a =
        rushlight(here, {"compare", "f.toml", "--width", "240", "--frame-time", "200ms", "--json", "-o", "c.png"});
    ASSERT_EQ(a.status, 0) << a;
    const json c = parsed(a);
    ASSERT_EQ(c["options"].size(), 3U);
    EXPECT_EQ(c["against"], "as found");
    EXPECT_EQ(c["options"][2]["numbers"][0]["beyond_noise"], false);
    // The floor is what a meter on the table does not see; the bounce by walls and ceiling is.
    const json& black = c["options"][1]["numbers"][0];
    EXPECT_LT(black["difference"].get<double>(), 0);
    EXPECT_EQ(black["beyond_noise"],
              std::abs(black["difference"].get<double>()) > 3 * black["error_difference"].get<double>());
    EXPECT_TRUE(fs::exists(here / "c.png"));
}

TEST(BalanceCommand, ReachesATargetAndSaysSo) {
    const Scratch here;
    here.with("f.toml", set_up + "[[target]]\nreading = \"table\"\nwant = \"300 lx within 0.1\"\n");
    const Answer a = rushlight(here, {"balance", "f.toml", "--json"});
    ASSERT_EQ(a.status, 0) << a;
    const json b = parsed(a);
    EXPECT_EQ(b["all_reached"], true);
    EXPECT_NEAR(b["targets"][0]["after"].get<double>(), std::log2(300), 0.15);
    EXPECT_LT(b["lamps"][0]["after"].get<double>(), 1);
    here.with("g.toml", set_up + "[[target]]\nreading = \"table\"\nwant = \"90000 lx\"\n");
    const Answer no = rushlight(here, {"balance", "g.toml"});
    EXPECT_EQ(no.status, 0) << no;
    EXPECT_TRUE(no.says("Not all targets can be reached")) << no;
    EXPECT_TRUE(no.says("'key' is at full")) << no;
    // What it found is an option that the file takes, and that reads so.
    const std::string lines = b["lines"].get<std::string>();
    EXPECT_NE(lines.find("change.lamp.key = { level = \""), std::string::npos) << lines;
    const Answer kept = rushlight(here, {"balance", "f.toml", "--append", "as planned", "-o", "found.txt"});
    ASSERT_EQ(kept.status, 0) << kept;
    ASSERT_EQ(rushlight(here, {"check", "f.toml"}).status, 0);
    const json read = parsed(rushlight(here, {"read", "f.toml", "--option", "as planned", "--json", "--error", "1%"}));
    EXPECT_NEAR(std::log2(read["readings"][0]["lux"].get<double>()), b["targets"][0]["after"].get<double>(), 0.05);
    const Answer twice = rushlight(here, {"balance", "f.toml", "--append", "as planned"});
    EXPECT_EQ(twice.status, 2) << twice;
    EXPECT_TRUE(twice.says("an option 'as planned' already")) << twice;
    const Answer other = rushlight(here, {"balance", "f.toml", "--option", "black floor", "--append", "x"});
    EXPECT_EQ(other.status, 2) << other;
    EXPECT_TRUE(other.says("as found")) << other;
    here.with("h.toml", set_up + "[[target]]\nreading = \"table\"\nwant = \"a bit brighter\"\n");
    const Answer wrong = rushlight(here, {"balance", "h.toml"});
    EXPECT_EQ(wrong.status, 2) << wrong;
    EXPECT_TRUE(wrong.says("h.toml:")) << wrong;
}

}  // namespace
}  // namespace rushlight::testing_command
