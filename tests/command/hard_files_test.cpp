// Files that would hang the program, fill the machine or leak its innards: the whole program is run on each, within
// memory and time that a sound file of that size would take.
#include "program.h"
#include "sanitized.h"

#include <sys/stat.h>

#include <cmath>

namespace rushlight::testing_command {
namespace {

/// 2 GB of addresses, libraries and all; sanitizers take more than there is.
Answer held(const Scratch& here, const std::vector<std::string>& words, std::vector<Signal> signals = {}) {
    Around around;
    if (!sanitized) around.before = {"prlimit", "--as=2500000000"};
    around.signals = std::move(signals);
    return rushlight(here, words, around);
}

void expect_refused(const Scratch& here, const std::string& said) {
    const Answer a = held(here, {"check", "f.toml"});
    EXPECT_EQ(a.status, 2) << a;
    EXPECT_EQ(a.error_lines(), 1U) << a;
    EXPECT_NE(a.err.find(said), std::string::npos) << said << "\n" << a;
    EXPECT_LT(a.seconds, sanitized ? 100 : 10) << a;
    for (const char* leak : {"json.exception", "TOML_", "libpng", "vector::", "std::"}) EXPECT_FALSE(a.says(leak)) << a;
}

std::string brackets(std::size_t n) {
    return std::string(n, '[') + std::string(n, ']');
}

TEST(HardFiles, AModelNestedSixteenThousandDeep) {
    const Scratch here;
    here.with("f.toml", dark + "[place]\nmodel = { file = \"m.gltf\" }\n");
    here.with("m.gltf", "{\"asset\":{\"version\":\"2.0\"},\"extras\":" + brackets(16'000) + "}");
    expect_refused(here, "m.gltf: found no faces");
    here.with("m.gltf", "{\"asset\":{\"version\":\"2.0\"},\"nodes\":" + brackets(16'000) + "}");
    expect_refused(here, "m.gltf: found brackets within brackets without an end");
}

TEST(HardFiles, PipesDevicesAndFilesOfTheSystem) {
    const Scratch here;
    ASSERT_EQ(::mkfifo((here / "pipe").c_str(), 0600), 0);
    for (const auto& [name, said] : {std::pair{"pipe", "this is a pipe"}, {"/dev/zero", "this is a device"}}) {
        const Answer a = rushlight(here, {"check", name});
        EXPECT_EQ(a.status, 2) << a;
        EXPECT_EQ(a.error_lines(), 1U) << a;
        EXPECT_TRUE(a.says(said)) << a;
    }
    // Looks like a plain file, and waits for the kernel to say something.
    const Answer a = rushlight(here, {"check", "/proc/kmsg"});
    EXPECT_EQ(a.status, 2) << a;
    EXPECT_LT(a.seconds, 10) << a;
}

TEST(HardFiles, APictureThatIsCutOffIsToldInOneLine) {
    const Scratch here;
    const std::ifstream whole(RUSHLIGHT_SOURCE "/tests/fuzz/samples/pictures/small.png", std::ios::binary);
    std::stringstream bytes;
    bytes << whole.rdbuf();
    here.with("p.png", bytes.str().substr(0, bytes.str().size() / 2));
    here.with("f.toml",
              dark + room + "[[place.furniture]]\nname = \"view\"\nat = [2, 1]\nwidth = 1\npicture = \"p.png\"\n");
    expect_refused(here, "p.png: is no picture that can be read: it is cut off");
}

TEST(HardFiles, CtrlCIsHeardWhileAModelIsRead) {
    const Scratch here;
    here.with("f.toml", dark + "[place]\nmodel = { file = \"m.obj\" }\n");
    {
        std::ofstream obj(here / "m.obj");
        const std::string lines(std::size_t{1} << 20, '\n');  // 300 MB of nothing
        for (int i = 0; i < 300; ++i) obj << lines;
    }
    const Answer a = held(here, {"check", "f.toml"}, {{SIGINT, after(1)}});
    EXPECT_EQ(a.status, 130) << a;
    EXPECT_TRUE(a.says("stopped while files were read")) << a;
    EXPECT_LT(a.seconds, sanitized ? 20 : 2.5) << a;
    EXPECT_EQ(a.error_lines(), 1U) << a;
}

TEST(HardFiles, OneLuminaireFileInAThousandLampsIsHeldOnce) {
    const Scratch here;
    // 90 angles in 1000 planes, all alike: under 500 000 intensities.
    std::string ies = "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 181 721 1 2 0.1 0.1 0\n1 1 100\n";
    for (int v = 0; v <= 180; ++v) ies += std::to_string(v) + "\n";
    for (int h = 0; h <= 720; ++h) ies += std::to_string(0.5 * h).substr(0, 5) + "\n";
    for (int i = 0; i < 181 * 721; ++i) ies += "9\n";
    here.with("a.ies", ies);
    std::string lamps;
    for (int i = 0; i < 1000; ++i)
        lamps +=
            "[[lamp]]\nname = \"l" + std::to_string(i) + "\"\nat = [1, 1, 2]\naim = [1, 1, 0]\nluminaire = \"a.ies\"\n";
    here.with("f.toml", dark + room + lamps);
    const Answer a = held(here, {"check", "f.toml"});
    EXPECT_EQ(a.status, 0) << a.err;
    EXPECT_LT(a.seconds, sanitized ? 100 : 10);
}

const std::string one_target = dark + room + lamp + meter + "[[target]]\nwant = \"400 lx\"\n";

TEST(HardFiles, CheckLooksUpWhatTargetsName) {
    const Scratch here;
    here.with("f.toml", one_target + "reading = \"tabel\"\n");
    expect_refused(here, "f.toml:20:11: [[target]]: no reading 'tabel'");
    here.with("f.toml", one_target + "reading = \"table\"\n[[balance.move]]\nname = \"kye\"\nto = [1, 1, 1]\n");
    expect_refused(here, "no lamp or panel 'kye'");
    here.with("f.toml", one_target + "reading = \"table\"\n[balance]\nlamps = [\"kye\"]\n");
    expect_refused(here, "no lamp 'kye'");
    here.with("f.toml", one_target + "reading = \"table\"\n[[balance.move]]\nname = \"key\"\nto = [1, 1, 1]\n");
    EXPECT_EQ(rushlight(here, {"check", "f.toml"}).status, 0);
    // All of them at once, in the order of the file; and what a reading of that kind cannot be asked.
    here.with("f.toml", one_target + "reading = \"tabel\"\n[[target]]\nreading = \"tabble\"\nwant = \"T4\"\n" +
                            "[[target]]\nreading = \"table\"\nwant = \"3 stops\"\n");
    const Answer slips = rushlight(here, {"check", "f.toml"});
    EXPECT_EQ(slips.status, 2) << slips;
    EXPECT_EQ(slips.error_lines(), 3U) << slips;
    const std::size_t first = slips.err.find("'tabel'"), second = slips.err.find("'tabble'");
    EXPECT_LT(first, second) << slips;
    EXPECT_NE(slips.err.find("a ratio is of \"A cheeks\""), std::string::npos) << slips;
    // What one set-up has and another has not is worth a word, and no more.
    here.with(
        "f.toml",
        one_target + "reading = \"table\"\n[[setup]]\nname = \"1\"\n[[setup]]\nname = \"2\"\nremove = [\"table\"]\n");
    const Answer a = rushlight(here, {"check", "f.toml"});
    EXPECT_EQ(a.status, 0) << a;
    EXPECT_TRUE(a.says("no reading 'table' in set-up '2'")) << a;
}

TEST(HardFiles, ABriefKnowsAtOnceWhichTargetsItCannotRead) {
    const Scratch here;
    here.with("f.toml", one_target + "reading = \"tabel\"\n");
    const Answer slip = rushlight(here, {"brief", "f.toml", "-o", "out", "--time", "600s"});
    EXPECT_EQ(slip.status, 2) << slip;
    EXPECT_TRUE(slip.says("no reading 'tabel'")) << slip;
    EXPECT_LT(slip.seconds, sanitized ? 200 : 30) << "before anything is traced";
    // In a set-up that has not what others have, the target is left out, and said.
    here.with(
        "f.toml",
        one_target + "reading = \"table\"\n[[setup]]\nname = \"1\"\n[[setup]]\nname = \"2\"\nremove = [\"table\"]\n");
    const Answer written = rushlight(here, {"brief", "f.toml", "-o", "out", "--time", "200ms"});
    EXPECT_EQ(written.status, 0) << written;
    EXPECT_TRUE(written.says("no reading 'table' in set-up '2'")) << written;
}

}  // namespace
}  // namespace rushlight::testing_command
