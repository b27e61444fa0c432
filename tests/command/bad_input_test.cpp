// What a person may get wrong is answered in one line; what the machine cannot do, too. Nothing is written then.
#include "command/program.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rushlight::testing_command {
namespace {

constexpr int bad_input = 2, failed = 1;

void expect_refused(const Answer& a, const Scratch& here, int status = bad_input) {
    EXPECT_EQ(a.status, status) << a;
    EXPECT_EQ(a.error_lines(), 1U) << a;
    EXPECT_EQ(a.out, "") << a;
    EXPECT_TRUE(here.files().empty() || here.files() == std::vector<std::string>{"f.toml"}) << a;
}

/// All refused files by `check`; what comes after, `read` has in common with it: some of them.
TEST(BrokenFile, IsRefused) {
    const Scratch here;
    int files = 0;
    for (const auto& e : fs::directory_iterator(RUSHLIGHT_SOURCE "/tests/setup/broken")) {
        if (e.path().extension() != ".toml") continue;
        SCOPED_TRACE(e.path().filename());
        ++files;
        for (const char* command : {"check", "read"}) {
            if (command == std::string("read") && files % 8 != 0) continue;
            const Answer a = rushlight(here, {command, e.path()});
            EXPECT_EQ(a.status, bad_input) << a;
            EXPECT_EQ(a.out, "") << a;
            EXPECT_EQ(here.files().size(), 0U);
            // A line for each error, and on each the file, or one that it names.
            EXPECT_GE(a.error_lines(), 1U) << a;
            std::istringstream lines(a.err);
            for (std::string line; std::getline(lines, line);)
                EXPECT_NE(line.find("tests/setup/broken/"), std::string::npos) << a;
        }
    }
    EXPECT_GT(files, 80);
}

TEST(BrokenFile, ALineForEachError) {
    const Scratch here;
    const std::string odd = "two\nlines.toml";
    here.with(odd, dark + "[place]\nlatitude = 500\nlongitude = 900\nroom = { width = 5, depth = 4, height = 2.7 }\n");
    const Answer a = rushlight(here, {"check", odd});
    EXPECT_EQ(a.status, bad_input) << a;
    EXPECT_EQ(a.error_lines(), 2U) << a;
    EXPECT_TRUE(a.says("two lines.toml:4:") && a.says("two lines.toml:5:")) << a;
}

struct Typed {
    std::vector<std::string> words;
    std::string answer;  // part of the line
};

TEST(Words, NearestIsOffered) {
    const Scratch here;
    here.with("f.toml",
              room + window + camera + meter + "[[setup]]\nname = \"1 wide\"\n[[option]]\nname = \"door shut\"\n");
    for (const Typed& t : {Typed{{}, "check, read, frame, map"},
                           {{"chekc", "f.toml"}, "did you mean 'check'?"},
                           {{"frmae"}, "did you mean 'frame'?"},
                           {{"bake", "f.toml"}, "check, read, frame, map"},
                           {{"check"}, "FILE"},
                           {{"check", "f.toml", "--stup", "1 wide"}, "did you mean '--setup'?"},
                           {{"frame", "f.toml", "--widht", "64"}, "did you mean '--width'?"},
                           {{"read", "f.toml", "g.toml"}, "unknown option or file 'g.toml'"},
                           {{"read", "-f.toml"}, "unknown option or file '-f.toml'"},
                           {{"read", "f.toml", "--setup", "1 wdie"}, "did you mean '1 wide'?"},
                           {{"check", "f.toml", "--setup", "1 wdie"}, "did you mean '1 wide'?"},
                           {{"map", "f.toml", "--option", "door shutt"}, "did you mean 'door shut'?"},
                           {{"read", "f.toml", "--against", "door shutt"}, "did you mean 'door shut'?"},
                           {{"check", "nowhere.toml"}, "nowhere.toml: there is no such file"},
                           {{"read", ""}, "FILE"},
                           {{"read", "."}, "this is a folder"},
                           {{"read", "/dev/zero"}, "expected a set-up file"}}) {
        const Answer a = rushlight(here, t.words);
        expect_refused(a, here);
        EXPECT_NE(a.err.find(t.answer), std::string::npos) << a;
    }
}

TEST(Values, OutOfReason) {
    const Scratch here;
    here.with("f.toml", room + window + camera + meter);
    for (const Typed& t : {Typed{{"read", "--error", "0"}, "between 0.001% and 99%"},
                           {{"read", "--error=-1%"}, "between 0.001% and 99%"},
                           {{"read", "--error", "nan"}, "is not an accuracy for --error"},
                           {{"read", "--error", "5x"}, "is not an accuracy for --error"},
                           {{"read", "--error", "1e-9"}, "between"},
                           {{"read", "--error", "1%", "--time", "1s"}, "--time"},
                           {{"read", "--time", "-1s"}, "between 10ms and a day"},
                           {{"read", "--time", "0"}, "between 10ms and a day"},
                           {{"read", "--time", "inf"}, "a time such as"},
                           {{"read", "--time", "99999999999s"}, "between"},
                           {{"read", "--time", "soon"}, "a time such as"},
                           {{"read", "--seed", "-1"}, "--seed"},
                           {{"read", "--seed", "99999999999999999999999"}, "--seed"},
                           {{"read", "--seed", "x"}, "--seed"},
                           {{"read", "--threads", "-1"}, "--threads"},
                           {{"read", "--threads", "99999"}, "--threads"},
                           {{"read", "--json", "--csv"}, "--csv"},
                           {{"read", "--all", "--against", "as found"}, "--all"},
                           {{"read", "--setup"}, "--setup"},
                           {{"frame", "--width", "0"}, "--width"},
                           {{"frame", "--width", "-5"}, "--width"},
                           {{"frame", "--width", "1e9"}, "--width"},
                           {{"frame", "--width", "wide"}, "--width"},
                           {{"frame", "--width", "0x80"}, "'0x80' is not a whole number"},
                           {{"frame", "--width", "0100"}, "'0100' is not a whole number"},
                           {{"read", "--threads", "0x2"}, "'0x2' is not a whole number"},
                           {{"read", "--seed", "010"}, "--seed"},
                           {{"read", "--iso", "nan"}, "'nan' is not a plain number"},
                           {{"read", "--iso", "0x190"}, "'0x190' is not a plain number"},
                           {{"read", "--t-stop", "nan"}, "'nan' is not a plain number"},
                           {{"read", "--t-stop", "inf"}, "'inf' is not a plain number"},
                           {{"read", "--time", "0x10"}, "a time such as"},
                           {{"read", "--error", "0x1p-4"}, "is not an accuracy for --error"},
                           {{"origins", "table", "--reach", "0x1"}, "is not a reach"},
                           {{"frame", "--guides", "0"}, "'0' isn't a frame guide; expected aspects"},
                           {{"frame", "--guides", "0x2"}, "'0x2' isn't a frame guide"},
                           {{"frame", "--guides", "third"}, "did you mean 'thirds'?"},
                           {{"map", "--unit", "lx"}, "--unit"},
                           {{"map", "--plane", "nonsense"}, "'nonsense' is not a height"},
                           {{"map", "--plane", "nan"}, "is not a height"},
                           {{"map", "--plane", "-1"}, "lies outside"},
                           {{"map", "--plane", "9ft"}, "from 0 to 2.7 m"},
                           // So large that no ray could be aimed.
                           {{"map", "--plane", std::string(60, '9')}, "lies outside"}}) {
        std::vector<std::string> words = t.words;
        words.insert(words.begin() + 1, "f.toml");
        const Answer a = rushlight(here, words);
        expect_refused(a, here);
        EXPECT_NE(a.err.find(t.answer), std::string::npos) << a;
        EXPECT_EQ(a.err.find("expected", a.err.find("expected") + 1), std::string::npos) << "one list: " << a;
    }
}

TEST(Values, ALampIsMeantLetterByLetterWhereSeveralAreAlike) {
    const Scratch here;
    const auto ball = [](const char* name) {
        return std::string("[[lamp]]\nname = \"") + name +
               "\"\nshape = \"ball\"\nat = [3, 3, 2]\noutput = \"900 lm\"\n";
    };
    here.with("f.toml", dark + room + meter + ball("key") + ball("Key") + ball("top light"));
    const auto read = [&](const std::string& level) {
        return rushlight(here, {"read", "f.toml", "--time", "50ms", "--csv", "--level", level});
    };
    const auto shares = [](const Answer& a) { return a.out.substr(a.out.find("table")); };
    const Answer small_one = read("key=off"), large_one = read("Key=off");
    EXPECT_EQ(small_one.status, 0) << small_one;
    EXPECT_EQ(large_one.status, 0) << large_one;
    EXPECT_NE(shares(small_one), shares(large_one));
    EXPECT_EQ(read("Top Light=off").status, 0);
    const Answer which = read("KEY=off");
    EXPECT_EQ(which.status, bad_input);
    EXPECT_TRUE(which.says("may be 'key' and 'Key'; expected one of them letter by letter")) << which;
}

TEST(Values, ANameInATableIsToldBeforeTheTrace) {
    const Scratch here;
    here.with("f.toml", room + window + camera + meter);
    here.with("t.csv", "what,lux\ntabel,300\n");
    const Answer a = rushlight(here, {"read", "f.toml", "--time", "60s", "--measured-table", "t.csv"});
    EXPECT_EQ(a.status, bad_input) << a;
    EXPECT_TRUE(a.says("t.csv:2:1: found 'tabel'") && a.says("did you mean 'table'?")) << a;
    EXPECT_LT(a.seconds, 20) << a;
}

TEST(Values, AWindowAtNoonIsNoDarkRoom) {
    const Scratch here;
    here.with("f.toml", overcast + room + window);
    const Answer a = rushlight(here, {"read", "f.toml", "--time", "50ms"});
    EXPECT_EQ(a.status, 0) << a;
    EXPECT_FALSE(a.says("No light")) << a;
    EXPECT_TRUE(a.says("there is no meter")) << a;
}

TEST(Values, PictureOutOfAllMeasure) {
    const Scratch here;
    here.with("f.toml", room + window + camera + "sensor = [1, 200]\n");
    for (const char* command : {"frame", "map"}) {
        // Small ones too: a map is enlarged until its numbers can be read.
        const Answer a = rushlight(here, {command, "f.toml", "--width", std::string(command) == "map" ? "64" : "640"});
        expect_refused(a, here);
        EXPECT_NE(a.err.find("smaller --width"), std::string::npos) << a;
    }
}

TEST(Output, APlaceThatCannotBeWritten) {
    const Scratch here;
    here.with("f.toml", room + window + camera + meter);
    // Root may write anywhere but in the system's own folders.
    std::string closed = "/proc/self";
    const Scratch other;
    if (::geteuid() != 0) {
        fs::permissions(other.folder, fs::perms::owner_read | fs::perms::owner_exec);
        closed = other.folder.string();
    }
    for (const std::string& place :
         {closed + "/x.png", std::string("no/such/folder/x.png"), std::string("f.toml/x.png"), std::string(".")})
        for (const std::vector<std::string>& words :
             {std::vector<std::string>{"read"}, {"frame"}, {"map"}, {"map", "--plane", "1"}}) {
            std::vector<std::string> all = words;
            for (const char* w : {"f.toml", "--time", "60s", "-o"}) all.emplace_back(w);
            all.push_back(place);
            const Answer a = rushlight(here, all);
            expect_refused(a, here, failed);
            EXPECT_NE(a.err.find("cannot write"), std::string::npos) << a;
            // Said at once, and not after the minute of tracing.
            EXPECT_LT(a.seconds, 20) << a;
        }
}

TEST(Output, NothingIsLeftByHalf) {
    const Scratch here;
    here.with("f.toml", room + window + camera + meter);
    // The EXR has room, the PNG beside it has not.
    fs::create_directory(here / "x.png");
    const Answer a = rushlight(here, {"frame", "f.toml", "--time", "50ms", "--width", "32", "-o", "x.png"});
    EXPECT_EQ(a.status, failed) << a;
    EXPECT_FALSE(fs::exists(here / "x.exr"));
    EXPECT_EQ(here.files().size(), 2U);
}

TEST(Output, OddNames) {
    const Scratch here;
    const std::string odd = "-spåces and 影.toml";
    here.with(odd, room + window + camera + "[[setup]]\nname = \"../../up/and away\"\n");
    const Answer named_by_itself = rushlight(here, {"frame", "--time", "50ms", "--width", "32", "--", odd});
    EXPECT_EQ(named_by_itself.status, 0) << named_by_itself;
    EXPECT_TRUE(fs::exists(here / "spåces-and-影-..-..-up-and-away.png")) << named_by_itself;
    const Answer dashed = rushlight(here, {"frame", "--time", "50ms", "--width", "32", "-o", "-x y.png", "--", odd});
    EXPECT_EQ(dashed.status, 0) << dashed;
    EXPECT_TRUE(fs::exists(here / "-x y.exr")) << dashed;
    // Either of the two pictures may be named.
    const Answer exr = rushlight(here, {"frame", "--time", "50ms", "--width", "32", "-o", "z.exr", "--", odd});
    EXPECT_EQ(exr.status, 0) << exr;
    EXPECT_TRUE(fs::exists(here / "z.png") && fs::exists(here / "z.exr")) << exr;
    EXPECT_EQ(here.files().size(), 7U);
}

TEST(Help, EveryCommandExplainsItself) {
    const Scratch here;
    for (const char* command : {"check", "read", "frame", "map"}) {
        const Answer a = rushlight(here, {command, "--help"});
        EXPECT_EQ(a.status, 0) << a;
        EXPECT_NE(a.out.find("--setup"), std::string::npos) << a;
        EXPECT_EQ(a.err, "");
    }
    EXPECT_TRUE(rushlight(here, {"--version"}).says("rushlight 0."));
    EXPECT_TRUE(rushlight(here, {"check", "--words"}).says("near_wall_faces"));
}

}  // namespace
}  // namespace rushlight::testing_command
