// Rooms, rigs and models that are odd but can be answered: with a sentence on the way, and numbers at the end.
#include "command/program.h"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace rushlight::testing_command {
namespace {

using nlohmann::json;

/// Sound, and `sentence` is among the remarks on standard error.
void expect_remark(const Scratch& here, const std::string& sentence) {
    const Answer a = rushlight(here, {"check", "f.toml"});
    EXPECT_EQ(a.status, 0) << a;
    EXPECT_NE(a.err.find(sentence), std::string::npos) << a;
    for (std::istringstream lines(a.err); lines.good();) {
        std::string line;
        std::getline(lines, line);
        EXPECT_TRUE(line.empty() || line.rfind("note: ", 0) == 0) << line;
    }
}

/// Every reading is a number; the first of them is handed back, in lux.
double reading(const Scratch& here, const std::string& time = "1s") {
    const Answer a = rushlight(here, {"read", "f.toml", "--time", time, "--json"});
    EXPECT_EQ(a.status, 0) << a;
    const json sheet = json::parse(a.out, nullptr, false);
    if (sheet.is_discarded() || sheet["readings"].empty()) {
        ADD_FAILURE() << a;
        return NAN;
    }
    for (const json& r : sheet["readings"]) EXPECT_TRUE(r["lux"].is_number() && r["lux"] >= 0.0) << r;
    return sheet["readings"][0]["lux"];
}

/// Both pictures are made too.
void expect_pictures(const Scratch& here) {
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"frame"}, {"map"}, {"map", "--plane", "1"}}) {
        std::vector<std::string> all = words;
        for (const char* w : {"f.toml", "--time", "50ms", "--width", "48", "-o", "p.png"}) all.emplace_back(w);
        const Answer a = rushlight(here, all);
        EXPECT_EQ(a.status, 0) << a;
        EXPECT_TRUE(fs::remove(here / "p.png")) << a;
        EXPECT_FALSE(a.says(" nan") || a.says(" inf ")) << a;
    }
}

std::string with(const std::string& text, const std::string& from, const std::string& to) {
    std::string s = text;
    const std::size_t at = s.find(from);
    if (at == std::string::npos)
        ADD_FAILURE() << "no " << from;
    else
        s.replace(at, from.size(), to);
    return s;
}

TEST(OddRooms, FlagThroughAWall) {
    const Scratch here;
    here.with("f.toml",
              dark + room + lamp + meter + camera +
                  "[[flag]]\nname = \"cutter\"\nat = [2, 0.2, 1.5]\nfacing = [3, 0.2, 1.5]\nsize = [0.6, 0.9]\n");
    expect_remark(here, "flag 'cutter' touches or crosses a wall");
    EXPECT_GT(reading(here), 0);
}

TEST(OddRooms, LampInAWall) {
    const Scratch here;
    here.with("f.toml", dark + room + with(lamp, "at = [1, 1, 2]", "at = [0.3, -0.1, 2]") + window + meter + camera);
    expect_remark(here, "Lamp 'key' is inside a wall");
    expect_pictures(here);
}

TEST(OddRooms, NoLightAtAll) {
    const Scratch here;
    here.with("f.toml", dark + room + meter + camera);
    expect_remark(here, "no light at all");
    EXPECT_EQ(reading(here), 0);
    EXPECT_TRUE(rushlight(here, {"read", "f.toml"}).says("No light"));
    EXPECT_NE(rushlight(here, {"read", "f.toml", "--csv"}).err.find("No light"), std::string::npos);
    expect_pictures(here);
}

TEST(OddRooms, DayWithoutAnOpening) {
    const Scratch here;
    here.with("f.toml", overcast + room + meter + camera);
    expect_remark(here, "no lamp is on and the place has no opening");
    EXPECT_EQ(reading(here), 0);
    expect_pictures(here);
}

TEST(OddRooms, NoCamera) {
    const Scratch here;
    here.with("f.toml", dark + room + lamp + meter);
    for (const char* command : {"frame", "map"}) {
        const Answer a = rushlight(here, {command, "f.toml"});
        EXPECT_EQ(a.status, 2) << a;
        EXPECT_EQ(a.error_lines(), 1U) << a;
        EXPECT_NE(a.err.find("no camera: add a [[camera]]"), std::string::npos) << a;
    }
    EXPECT_GT(reading(here), 0);
    EXPECT_EQ(rushlight(here, {"map", "f.toml", "--plane", "0.8", "--time", "100ms", "-o", "p"}).status, 0);
    EXPECT_TRUE(fs::exists(here / "p.png"));
}

TEST(OddRooms, NoMarksAndNoMeters) {
    const Scratch here;
    here.with("f.toml", dark + room + lamp + camera);
    const Answer a = rushlight(here, {"read", "f.toml"});
    EXPECT_EQ(a.status, 0) << a;
    EXPECT_TRUE(a.says("No readings were asked for")) << a;
    expect_pictures(here);
}

TEST(OddRooms, MetersWhereNobodyCouldHoldThem) {
    const Scratch here;
    std::string meters;
    for (const char* at :
         {"[2.5, -0.1, 1]", "[2.5, 2, 0]", "[0, 0, 0]", "[1000, 1000, 1000]", "[2, 2, -1000]", "[1, 1, 2]"})
        meters += "[[meter]]\nname = \"" + std::string(at) + "\"\nat = " + at + "\n";
    here.with("f.toml", overcast + room + window + lamp + meters);
    reading(here);
}

TEST(OddRooms, CamerasThatLookAnywhere) {
    const Scratch here;
    for (const char* how :
         {"look_at = [2.5, 3.8, 9]", "look_at = [2.5, 3.8, 0]", "look_at = [2.5, 0, 1]\nlens = 2000\nsensor = [1, 1]",
          "look_at = [2.5, 0, 1]\nlens = 2\nsensor = [200, 200]", "look_at = [900, 900, 900]\nroll = 360",
          "look_at = [2.5, 0, 1]\nnd = 6\nt_stop = 64\niso = 25\nshutter = 1\nfps = 1000",
          "look_at = [2.5, 0, 1]\nt_stop = 0.5\niso = 409600\nheadroom = 1\nwhite_balance = 1000"}) {
        SCOPED_TRACE(how);
        here.with("f.toml", overcast + room + window + "[[camera]]\nname = \"c\"\nat = [2.5, 3.8, 1.3]\n" + how + "\n");
        expect_pictures(here);
    }
}

TEST(OddRooms, LampsOfEveryExtreme) {
    const Scratch here;
    for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
             {"size = 0.6", "size = 0.001"},
             {"size = 0.6", "size = 20"},
             {"size = 0.6", "size = [20, 0.001]"},
             {"size = 0.6", "size = 0.6\ngrid = 0.001"},
             {"size = 0.6", "size = 0.6\nlevel = \"-3000 stops\""},
             {"size = 0.6", "size = 0.6\nlevel = 0"},
             {"9000 lm", "1000000000 lm"},
             {"9000 lm", "0.001 lm"},
             {"9000 lm", "100 lx at 1000 m"},
             {"at = [1, 1, 2]", "at = [1000, -1000, 1000]"},
             {"at = [1, 1, 2]", "at = [2.5, 2, 0.8]"},  // in the meter
             {"shape = \"box\"", "shape = \"hard\"\nbeam = 1\nfield = 1.001"},
             {"shape = \"box\"", "shape = \"hard\"\nbeam = 170\nfield = 178"},
             {"shape = \"box\"\nat = [1, 1, 2]\naim = [3, 3, 1]\nsize = 0.6",
              "shape = \"tube\"\nat = [1, 1, 2]\nsize = [0.001, 20]"},
             {"shape = \"box\"\nat = [1, 1, 2]\naim = [3, 3, 1]\nsize = 0.6",
              "shape = \"ball\"\nat = [1, 1, 2]\nsize = 20"}}) {
        SCOPED_TRACE(to);
        here.with("f.toml", dark + room + with(lamp, from, to) + meter);
        reading(here, "1s");
    }
}

// Light that nothing takes away goes on for ever; a walk must not.
TEST(OddRooms, WallsThatLoseNothing) {
    const Scratch here;
    for (const char* finish : {"1", "{ metal = 1, roughness = 0.02 }", "{ through = 1 }", "{ straight = 1 }"}) {
        SCOPED_TRACE(finish);
        const std::string f = finish;
        here.with("f.toml", dark +
                                with(room, "walls = 0.5, floor = 0.2, ceiling = 0.7",
                                     "walls = " + f + ", floor = " + f + ", ceiling = " + f) +
                                lamp + meter + camera);
        EXPECT_GE(reading(here), 0);
        const Answer a = rushlight(here, {"frame", "f.toml", "--time", "50ms", "--width", "32"});
        EXPECT_EQ(a.status, 0) << a;
        EXPECT_LT(a.seconds, 30) << a;
    }
}

TEST(OddRooms, ManyOfAKind) {
    const Scratch here;
    std::string lamps, openings;
    for (int i = 0; i < 100; ++i)
        lamps += with(with(lamp, "\"key\"", "\"key " + std::to_string(i) + "\""), "[1, 1, 2]",
                      "[" + std::to_string(0.5 + 0.04 * i) + ", 1, 2]");
    for (int i = 0; i < 200; ++i)
        openings += "[[place.opening]]\nname = \"w" + std::to_string(i) +
                    "\"\nwall = \"near\"\nfrom = " + std::to_string(0.02 * i) +
                    "\nto = " + std::to_string(0.02 * i + 0.015) + "\nsill = 1\nhead = 2\n";
    here.with("f.toml", overcast + room + openings + lamps + meter + camera);
    EXPECT_GT(reading(here), 0);
    const Answer a = rushlight(here, {"frame", "f.toml", "--time", "50ms", "--width", "32"});
    EXPECT_EQ(a.status, 0) << a;
}

TEST(OddRooms, PersonOutsideTheRoom) {
    const Scratch here;
    here.with("f.toml", overcast + room + window + camera + "[[mark]]\nname = \"A\"\nat = [20, 20]\nfacing = 90\n");
    expect_remark(here, "Mark 'A' lies outside the room");
    reading(here);
}

TEST(OddRooms, ALampMayNotBeCalledAsDaylightIs) {
    const Scratch here;
    here.with("f.toml", overcast + room + window + with(lamp, "\"key\"", "\"Sky\"") + meter);
    const Answer a = rushlight(here, {"read", "f.toml"});
    EXPECT_EQ(a.status, 2) << a;
    EXPECT_NE(a.err.find("f.toml:"), std::string::npos) << a;
    EXPECT_NE(a.err.find("daylight has already"), std::string::npos) << a;
}

// Rough models.

const std::string corners = "v 0 0 0\nv 5 0 0\nv 5 4 0\nv 0 4 0\nv 0 0 2.7\nv 5 0 2.7\nv 5 4 2.7\nv 0 4 2.7\n";
const std::string model = "[place]\nlatitude = 50\nlongitude = 8\nmodel = { file = \"room.obj\", otherwise = 0.5 }\n";

TEST(RoughModels, NoMaterialsAndIndicesFromTheEnd) {
    const Scratch here;
    here.with("f.toml", dark + model + lamp + meter + camera);
    here.with("room.obj", corners + "f 1 2 3 4\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n");
    expect_remark(here, "names no materials");
    const double forward = reading(here, "1s");
    here.with("room.obj",
              corners + "f -8 -7 -6 -5\nf -4 -3 -2 -1\nf -8 -7 -3 -4\nf -7 -6 -2 -3\nf -6 -5 -1 -2\nf -5 -8 -4 -1\n");
    const double backward = reading(here, "1s");
    // The same six faces, all alike in finish: the same room.
    EXPECT_NEAR(backward / forward, 1, 0.05);
    expect_pictures(here);
}

TEST(RoughModels, WhatCannotBeRead) {
    const Scratch here;
    here.with("f.toml", dark + model + lamp + meter);
    for (const auto& [text, said] : std::vector<std::pair<std::string, std::string>>{
             {"v nan 0 0\n" + corners + "f 1 2 3\n", "room.obj:1:3: found coordinate 'nan'"},
             {"v 1e999 0 0\n" + corners + "f 1 2 3\n", "room.obj:1:3: found coordinate '1e999'"},
             {"", "found no faces"},
             {"f 1 2 3\n", "room.obj:1:3: found corner '1'"},
             {corners + "f 0 1 2\n", "room.obj:9:3: found corner '0'"},
             {corners + "f 1 2 99999999999\n", "room.obj:9:7"},
             {corners + "f 1 1 1\n", "without any area"},
             {corners, "no faces"},
             {std::string(3000, '\0'), "plain text"}}) {
        here.with("room.obj", text);
        for (const char* command : {"check", "read"}) {
            const Answer a = rushlight(here, {command, "f.toml"});
            EXPECT_EQ(a.status, 2) << a;
            EXPECT_EQ(a.error_lines(), 1U) << a;
            EXPECT_EQ(a.out, "") << a;
            EXPECT_NE(a.err.find(said), std::string::npos) << said << "\n" << a;
        }
    }
}

TEST(RoughModels, APlanOverAModelWithoutACeiling) {
    const Scratch here;
    here.with("f.toml", dark + model + lamp + meter);
    here.with("room.obj", "v 0 0 0\nv 5 0 0\nv 5 4 0\nv 0 4 0\nf 1 2 3 4\n");
    const Answer a = rushlight(here, {"map", "f.toml", "--plane", "1.2", "--time", "50ms", "--width", "48", "-o", "p"});
    EXPECT_EQ(a.status, 0) << a;
    EXPECT_TRUE(fs::exists(here / "p.png"));
    const Answer far = rushlight(here, {"map", "f.toml", "--plane", std::string(60, '9'), "-o", "q"});
    EXPECT_EQ(far.status, 2) << far;
    EXPECT_EQ(far.error_lines(), 1U) << far;
}

TEST(RoughModels, HalfAMillionTriangles) {
    const Scratch here;
    here.with("f.toml", dark + model + lamp + meter + camera);
    std::ofstream obj(here / "room.obj");
    obj << corners << "f 1 2 3 4\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n";
    // A rippled carpet, as a scan would give it.
    constexpr int n = 500;
    for (int i = 0; i <= n; ++i)
        for (int j = 0; j <= n; ++j)
            obj << "v " << 5.0 * i / n << ' ' << 4.0 * j / n << ' '
                << 0.02 + 0.01 * std::sin(0.7 * i) * std::cos(0.9 * j) << '\n';
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const int a = 9 + i * (n + 1) + j, b = a + n + 1;
            obj << "f " << a << ' ' << b << ' ' << b + 1 << "\nf " << a << ' ' << b + 1 << ' ' << a + 1 << '\n';
        }
    obj.close();
    const Answer checked = rushlight(here, {"check", "f.toml"});
    EXPECT_EQ(checked.status, 0) << checked;
    EXPECT_NE(checked.err.find("triangles"), std::string::npos) << checked;
    const Answer read = rushlight(here, {"read", "f.toml", "--time", "4s"});
    EXPECT_EQ(read.status, 0) << read;
    EXPECT_LT(read.seconds, 30) << read;
}

}  // namespace
}  // namespace rushlight::testing_command
