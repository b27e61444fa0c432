// What may go wrong the night before a shoot: disks that are full, programs that are killed, folders, fonts, homes and
// networks that are not there. Each ends in one clear sentence, or in the answer all the same; no file is left by half.
#include "program.h"

#include <random>

namespace rushlight::testing_command {
namespace {

constexpr int failed = 1;
const std::string a_room = dark + room + lamp + meter + camera;
const std::string a_mark = "[[mark]]\nname = \"A\"\nat = [2, 2]\nfacing = 0\n";

const std::vector<std::string> a_frame{"frame", "f.toml", "--error", "50%", "--width", "160", "-o", "x.png"};
const std::vector<std::string> a_map{"map", "f.toml", "--error", "50%", "--width", "160", "-o", "x.png"};
const std::vector<std::string> a_brief{"brief", "f.toml", "--time", "2s", "-o", "x"};

std::string bytes_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// One sentence on standard error besides what is told on the way.
void expect_one_sentence(const Answer& a, const std::string& words) {
    EXPECT_FALSE(a.hung) << a;
    EXPECT_EQ(a.status, failed) << a;
    std::istringstream lines(a.err);
    int saying = 0;
    for (std::string line; std::getline(lines, line);) saying += line.find(words) != std::string::npos ? 1 : 0;
    EXPECT_EQ(saying, 1) << words << "\n" << a;
    EXPECT_EQ(a.err.find("terminate"), std::string::npos) << a;
}

TEST(Failures, AFullDiskLeavesWhatWasThere) {
    const Scratch here;
    here.with("f.toml", a_room + a_mark);
    Around full;
    full.largest_file = 600;
    for (const std::vector<std::string>& words :
         {a_frame,
          a_map,
          {"map", "f.toml", "--plane", "1", "--error", "50%", "--width", "160", "-o", "x.png"},
          {"origins", "f.toml", "A", "--time", "100ms", "-o", "x.png"},
          {"read", "f.toml", "--error", "50%", "--json", "-o", "x.json"}}) {
        here.with(words.back(), "the old one");
        const Answer a = rushlight(here, words, full);
        expect_one_sentence(a, "larger than is allowed here");
        EXPECT_EQ(here.files().size(), 2U) << a;
        EXPECT_EQ(bytes_of(here / words.back()), "the old one") << a;
        fs::remove(here / words.back());
    }
}

TEST(Failures, LayersThatCannotBeKeptCostNoAnswer) {
    const Scratch here;
    here.with("f.toml", a_room);
    Around full{(here / "cache").string()};
    full.largest_file = 300;
    full.out = "/dev/null";  // where it counts as no file
    const Answer a = rushlight(here, {"read", "f.toml", "--error", "50%"}, full);
    EXPECT_EQ(a.status, 0) << a;
    for (const auto& e : fs::recursive_directory_iterator(here / "cache")) EXPECT_FALSE(e.is_regular_file()) << e;
    // A file where the folder should be, and a folder where nobody may write.
    here.with("no-folder", "");
    for (const std::string& cache : {(here / "no-folder").string(), std::string("/proc/self")}) {
        const Answer b = rushlight(here, {"read", "f.toml", "--error", "50%"}, 0, cache);
        EXPECT_EQ(b.status, 0) << b;
        EXPECT_TRUE(b.says("table")) << b;
    }
}

TEST(Failures, AnAnswerThatIsSwallowedIsNoSuccess) {
    const Scratch here;
    here.with("f.toml", a_room);
    Around swallowed;
    swallowed.out = "/dev/full";
    for (const std::vector<std::string>& words : {std::vector<std::string>{"read", "f.toml", "--error", "50%"},
                                                  {"read", "f.toml", "--error", "50%", "--json"},
                                                  {"check", "f.toml"},
                                                  {"manual", "man"},
                                                  {"--version"},
                                                  {"--help"}})
        expect_one_sentence(rushlight(here, words, swallowed), "the answer could not be written");
}

/// Killed at any moment, again and again, there is the old file or the new one, and it is whole. (That of writing
/// alone: tests/pictures/files/killed_test.cpp.)
TEST(Failures, KilledAtAnyMomentFilesAreWhole) {
    const Scratch here;
    here.with("f.toml", a_room);
    const Answer whole = rushlight(here, a_frame);
    ASSERT_EQ(whole.status, 0) << whole;
    std::mt19937 random(11);
    for (int round = 0; round < 6; ++round) {
        Around around;  // towards the end, where it writes
        around.signals = {{SIGKILL, after(whole.seconds * (0.7 + 0.35 * static_cast<double>(random() % 1000) / 1000))}};
        rushlight(here, a_frame, around);
        const std::string bytes = bytes_of(here / "x.png");
        EXPECT_EQ(bytes.substr(bytes.size() - std::min<std::size_t>(bytes.size(), 8)), "IEND\xAE\x42\x60\x82");
    }
    // What was left by half is in nobody's way.
    EXPECT_EQ(rushlight(here, a_frame).status, 0);
}

TEST(Failures, WithoutFontsThereAreStillPictures) {
    const Scratch here;
    here.with("f.toml", a_room);
    here.with("empty.conf", "");
    here.with("broken.conf", "<fontconfig><dir>/no/such");
    here.with("none.conf", "<?xml version=\"1.0\"?><fontconfig></fontconfig>");
    for (const char* config : {"empty.conf", "broken.conf", "none.conf", "not-there.conf"}) {
        Around around;
        around.environment = {"FONTCONFIG_FILE=" + (here / config).string(), "FONTCONFIG_PATH=/no/such"};
        const Answer a = rushlight(here, a_map, around);
        EXPECT_EQ(a.status, 0) << config << a;
        EXPECT_GT(bytes_of(here / "x.png").size(), 1000U) << config << a;
        if (std::string(config) != "none.conf") continue;
        // Pages without letters would be no use, and that is said before the work.
        const Answer b = rushlight(here, a_brief, around);
        expect_one_sentence(b, "no letters to set text in");
        EXPECT_FALSE(fs::exists(here / "x"));
        EXPECT_LT(b.seconds, 20) << b;
    }
}

// The copy stands alone, without the modules that belong beside it.
TEST(Failures, WithoutTheDenoisingNetworkThereAreStillPictures) {
#ifdef RUSHLIGHT_NETWORK
    const Scratch here;
    here.with("f.toml", a_room);
    fs::copy_file(std::string(RUSHLIGHT_BUILD) + "/rushlight", here / "alone");
    const auto frame = [&] {
        std::vector<std::string> words = a_frame;
        words.insert(words.begin(), (here / "alone").string());
        return run(here, words, Around{});
    };
    const Answer missing = frame();
    EXPECT_EQ(missing.status, 0) << missing;
    EXPECT_TRUE(missing.says("smoothed by our own filter, which is coarser (rushlight_network.so is missing"))
        << missing;
    EXPECT_GT(bytes_of(here / "x.png").size(), 1000U) << missing;
    fs::remove(here / "x.png");
    here.with("rushlight_network.so",
              "\x7f"
              "ELF, and then the disk was full");
    const Answer cut = frame();
    EXPECT_EQ(cut.status, 0) << cut;
    EXPECT_TRUE(cut.says("rushlight_network.so, which takes noise out of pictures, cannot be loaded")) << cut;
    EXPECT_GT(bytes_of(here / "x.png").size(), 1000U) << cut;
#else
    GTEST_SKIP() << "built without the network";
#endif
}

TEST(Failures, NoHomeNoNetworkNothingAround) {
    const Scratch here;
    here.with("f.toml", a_room);
    Around bare;
    bare.before = {"env", "-i"};
    EXPECT_EQ(rushlight(here, {"read", "f.toml", "--error", "50%"}, bare).status, 0);
    EXPECT_EQ(rushlight(here, a_frame, bare).status, 0);
    Around alone;
    alone.before = {"unshare", "-n", "--"};
    const Answer a = rushlight(here, a_map, alone);
    if (a.err.find("unshare") != std::string::npos) GTEST_SKIP() << "no right to be without a network: " << a.err;
    EXPECT_EQ(a.status, 0) << a;
}

TEST(Failures, NamesOfEveryKind) {
    const Scratch here;
    const std::string longest(250, 'a');  // and an ending: as long as a name may be
    for (const std::string& name : {longest, std::string("it's \"one\" $HOME;`ls` \\ %s"), std::string("Küche 厨房 🎬"),
                                    std::string("latin-\xE9"), std::string("-o"), std::string("tab\tand\nline")}) {
        const std::string folder = "in " + name.substr(0, 100);
        fs::create_directories(here / folder);
        std::ofstream(here.folder / folder / (name + ".toml")) << a_room;
        const std::string file = "./" + folder + "/" + name + ".toml";
        const std::string out = "./" + folder + "/" + name + ".png";
        const Answer a = rushlight(here, {"map", file, "--error", "50%", "--width", "160", "-o", out});
        EXPECT_EQ(a.status, 0) << name << a;
        EXPECT_GT(bytes_of(here.folder / out).size(), 1000U) << name;
        const Answer wrong = rushlight(here, {"check", file + "x"});
        EXPECT_EQ(wrong.status, 2) << wrong;
        EXPECT_EQ(wrong.error_lines(), 1U) << wrong;
        EXPECT_EQ(rushlight(here, {"read", file, "--error", "50%", "--json"}).status, 0) << name;
        if (name[0] != 'l' || name[1] != 'a') continue;
        const Answer b = rushlight(here, {"brief", file, "--time", "2s", "-o", "./" + folder + "/" + longest});
        EXPECT_EQ(b.status, 0) << name << b;
    }
}

TEST(Failures, NamesThatAreTooLong) {
    const Scratch here;
    here.with("f.toml", a_room);
    for (const std::string& name : {std::string(5000, 'x'), std::string(300, 'x')}) {
        const Answer a = rushlight(here, {"check", name + ".toml"});
        EXPECT_EQ(a.status, 2) << a;
        EXPECT_EQ(a.error_lines(), 1U) << a;
        for (std::vector<std::string> words : {a_frame, a_map, a_brief}) {
            words.back() = name + (words[0] == "brief" ? "" : ".png");
            const Answer b = rushlight(here, words);
            expect_one_sentence(b, "longer than can be written");
            EXPECT_LT(b.seconds, 20) << b;
        }
    }
}

/// Durations are told by a clock that nobody sets.
TEST(Failures, NoDurationIsTakenFromTheTimeOfDay) {
    for (const auto& entry : fs::recursive_directory_iterator(RUSHLIGHT_SOURCE "/renderer")) {
        const std::string ending = entry.path().extension().string();
        if (ending != ".cpp" && ending != ".h") continue;
        const std::string text = bytes_of(entry.path());
        for (const char* word :
             {"system_clock", "high_resolution_clock", "gettimeofday", "CLOCK_REALTIME", "utc_clock"})
            EXPECT_EQ(text.find(word), std::string::npos) << entry.path() << ": " << word;
    }
}

}  // namespace
}  // namespace rushlight::testing_command
