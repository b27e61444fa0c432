// Beyond the limits of docs/limits.md there is one sentence and exit status 2, before any work; at them there is an
// answer.
#include "program.h"
#include "sanitized.h"

#include <cmath>

namespace rushlight::testing_command {
namespace {

std::string number_text(double n) {
    char text[32];
    std::snprintf(text, sizeof text, "%.4f", n);
    return text;
}

std::string things(const char* kind, int count, const std::string& rest) {
    std::string text;
    for (int i = 0; i < count; ++i)
        text += std::string("[[") + kind + "]]\nname = \"" + kind + " " + std::to_string(i) + "\"\nat = [" +
                number_text(0.1 + 4.8 * i / count) + ", 1, 2]\n" + rest;
    return text;
}
std::string balls(int count) {
    return things("lamp", count, "shape = \"ball\"\nsize = 0.01\noutput = \"10 lm\"\n");
}

void expect_refused(const Scratch& here, const std::vector<std::string>& words, const std::string& said) {
    const std::size_t files = here.files().size();
    const Answer a = rushlight(here, words);
    EXPECT_FALSE(a.hung) << said;
    EXPECT_EQ(a.status, 2) << a;
    EXPECT_EQ(a.error_lines(), 1U) << a;
    EXPECT_EQ(a.out, "") << a;
    EXPECT_NE(a.err.find(said), std::string::npos) << said << "\n" << a;
    EXPECT_LT(a.seconds, sanitized ? 150 : 30) << a;
    EXPECT_EQ(here.files().size(), files) << said;
}

TEST(Limits, ThingsOfAFile) {
    const Scratch here;
    const std::string ends = dark + room;
    here.with("f.toml", ends + balls(2'001));
    expect_refused(here, {"read", "f.toml"}, "2001 times [[lamp]]; expected no more than 2000");
    here.with("f.toml", ends + things("mark", 201, "facing = 0\n"));
    expect_refused(here, {"check", "f.toml"}, "201 times [[mark]]; expected no more than 200");
    here.with("f.toml", ends + things("meter", 10'001, ""));
    expect_refused(here, {"check", "f.toml"}, "10001 times [[meter]]; expected no more than 10000");
    std::string openings;
    for (int i = 0; i < 201; ++i)
        openings += "[[place.opening]]\nname = \"w" + std::to_string(i) +
                    "\"\nwall = \"near\"\nfrom = " + number_text(0.02 * i) + "\nto = " + number_text(0.02 * i + 0.01) +
                    "\nsill = 1\nhead = 2\n";
    here.with("f.toml", ends + openings);
    expect_refused(here, {"check", "f.toml"}, "201 times [[place.opening]]; expected no more than 200");
    std::string setups;
    for (int i = 0; i < 101; ++i) setups += "[[setup]]\nname = \"" + std::to_string(i) + "\"\n";
    here.with("f.toml", ends + setups);
    expect_refused(here, {"check", "f.toml"}, "101 times [[setup]]; expected no more than 100");
}

TEST(Limits, NamesAndFiles) {
    const Scratch here;
    here.with("f.toml", dark + room + "[[meter]]\nname = \"" + std::string(100, 'x') + "\"\nat = [1, 1, 1]\n");
    EXPECT_EQ(rushlight(here, {"read", "f.toml", "--time", "50ms"}).status, 0);
    here.with("f.toml", dark + room + "[[meter]]\nname = \"" + std::string(101, 'x') + "\"\nat = [1, 1, 1]\n");
    expect_refused(here, {"check", "f.toml"}, "expected 1 to 100 letters on one line");
    // Sizes alone: nothing is read of files that are too large.
    here.with("f.toml", "");
    fs::resize_file(here / "f.toml", 16'000'001);
    expect_refused(here, {"check", "f.toml"}, "expected no more than 16 MB");
    here.with("f.toml", room + "[[lamp]]\nname = \"a\"\nat = [1, 1, 2]\naim = [1, 1, 0]\nluminaire = \"a.ies\"\n");
    here.with("a.ies", "IESNA:LM-63-2002\n");
    fs::resize_file(here / "a.ies", 4'000'001);
    expect_refused(here, {"check", "f.toml"}, "a.ies");
    here.with("f.toml", "[place]\nmodel = { file = \"room.gltf\" }\n");
    here.with("room.gltf", "{");
    fs::resize_file(here / "room.gltf", 1'000'000'001);
    expect_refused(here, {"check", "f.toml"}, "room.gltf");
}

TEST(Limits, MetersTimesSources) {
    const Scratch here;
    here.with("f.toml", dark + room + balls(60) + things("meter", 9'000, ""));
    expect_refused(here, {"read", "f.toml"}, "9000 meters times 60 sources are too many; expected a product of 500000");
    here.with("f.toml", dark + room + balls(50) + things("meter", 50, ""));
    const Answer a = rushlight(here, {"read", "f.toml", "--time", "200ms"});
    EXPECT_EQ(a.status, 0) << a.err;
}

TEST(Limits, Pictures) {
    const Scratch here;
    here.with("f.toml", overcast + room + window + camera);
    expect_refused(here, {"frame", "f.toml", "--width", "16385"}, "16384");
    expect_refused(here, {"frame", "f.toml", "--width", "15"}, "16");
    expect_refused(here, {"map", "f.toml", "--width", "8193"}, "8192");
    expect_refused(here, {"compare", "f.toml", "--width", "4097"}, "4096");
    // A frame that no memory holds: sixteen bands for each of many lamps at every pixel.
    here.with("f.toml", dark + room + balls(2000) + camera);
    expect_refused(here, {"frame", "f.toml", "--width", "16384"}, "choose a smaller --width");
}

TEST(Limits, TrianglesOfAModel) {
    const Scratch here;
    here.with("f.toml", dark + "[place]\nmodel = { file = \"room.obj\", otherwise = 0.5 }\n");
    {
        std::ofstream obj(here / "room.obj");
        constexpr int corners = 1000;  // of one polygon, which is cut into 998 triangles
        std::string face = "f";
        for (int i = 0; i < corners; ++i) {
            const double turn = 6.283185307 * i / corners;
            obj << "v " << 3 + 2 * std::cos(turn) << ' ' << 2 + 2 * std::sin(turn) << " 0\n";
            face += " " + std::to_string(i + 1);
        }
        face += "\n";
        for (int i = 0; i < 5'000'000 / (corners - 2) + 1; ++i) obj << face;
    }
    expect_refused(here, {"check", "f.toml"}, "5,000,000 triangles");
    here.with("room.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf" + std::string(2000, ' ') + "1 2 3\nv 2e6 0 0\n");
    expect_refused(here, {"check", "f.toml"}, "room.obj:5:3");
}

}  // namespace
}  // namespace rushlight::testing_command
