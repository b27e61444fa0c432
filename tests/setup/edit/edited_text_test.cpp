// Edits in place: what was changed says the new value, and every other letter is where it was.
#include "setup/edit/edited_text.h"

#include "setup/read/setup_file.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

namespace rushlight {
namespace {

const std::filesystem::path scenes = std::filesystem::path(RUSHLIGHT_SOURCE) / "scenes";

std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

NewValue point(std::initializer_list<double> numbers) {
    NewValue::List list;
    for (const double n : numbers) list.push_back({n});
    return {list};
}

std::string edited(const std::string& text, const EditPlace& place, const ThingEdit& edit, FilePart* part = nullptr) {
    TomlText t(text, "test.toml");
    const FilePart wrote = edit_text(t, place, edit);
    if (part) *part = wrote;
    return t.text();
}

ThingEdit set(const std::string& kind, const std::string& name, const std::string& key, NewValue value) {
    ThingEdit e;
    e.kind = kind, e.name = name, e.key = key, e.value = std::move(value);
    return e;
}

ThingEdit remove(const std::string& kind, const std::string& name) {
    ThingEdit e;
    e.act = ThingEdit::Act::remove, e.kind = kind, e.name = name;
    return e;
}

const std::string small = R"(title = "é"   # a comment
[place]
room = { width = 6, depth = "15ft", height = 2.8 }

# Above the lamp.
[[lamp]]     # first
name = "key"          # the big one
shape = "ball"
at = [ 1.0,  # from the left
       "4ft", 2.00 ]
output = "900 lm"
level = "50%"  # half
[[lamp]]
  name = "é far"
  shape = "ball"
  at = [2, 2, 2]
  output = "900 lm"
# Below it.

[[mark]]
name = "A"
at = [3, 1.8]
facing = 0
person = { pose = "seated" }
[[setup]]
name = "one"
change.lamp.key = { level = "-1 stop" }  # dimmed
[[setup]]
name = "two"
notes = "last"
[[setup.add.flag]]
name = "black"
at = [1, 1, 1]
facing = "A"
[[option]]
name = "low"
)";

/// What is between the longest common head and tail.
std::pair<std::string, std::string> difference(const std::string& before, const std::string& after) {
    std::size_t head = 0, tail = 0;
    const std::size_t shorter = std::min(before.size(), after.size());
    while (head < shorter && before[head] == after[head]) ++head;
    while (tail < shorter - head && before[before.size() - 1 - tail] == after[after.size() - 1 - tail]) ++tail;
    return {before.substr(head, before.size() - head - tail), after.substr(head, after.size() - head - tail)};
}

// What stands there by another word is changed where it stands: a second key for the same would be refused.
TEST(EditedText, WhatStandsThereByATradeWordIsChangedInPlace) {
    const std::string text = small.substr(0, small.find("[[setup]]")) + R"(
[[lamp]]
name = "dimmed"
shape = "ball"
position = [1, 1, 2]
output = "900 lm"
dim = "50%"
[[bounce]]
name = "white"
at = [2, 2, 1]
facing = "A"
[[setup]]
name = "1"
[[setup.add.neg]]
name = "black"
at = [2, 3, 1]
facing = "A"
)";
    const EditPlace here{"1", "as found"};
    const std::string level = edited(text, here, set("lamp", "dimmed", "level", {"25%"}));
    EXPECT_NE(level.find("dim = \"25%\""), std::string::npos) << level;
    EXPECT_EQ(level.find("level = \"25%\""), std::string::npos) << level;
    const std::string moved = edited(text, here, set("lamp", "dimmed", "at", point({3, 1, 2})));
    EXPECT_NE(moved.find("position = [3, 1, 2]"), std::string::npos) << moved;
    const std::string board = edited(text, here, set("board", "white", "at", point({4, 2, 1})));
    EXPECT_NE(board.find("at = [4, 2, 1]"), std::string::npos) << board;
    const std::string flag = edited(text, here, set("flag", "black", "at", point({4, 3, 1})));
    EXPECT_NE(flag.find("at = [4, 3, 1]"), std::string::npos) << flag;
    EXPECT_EQ(edited(text, here, remove("board", "white")).find("white"), std::string::npos);
    for (const std::string& now : {level, moved, board, flag})
        EXPECT_NO_THROW(SetupFile::from_text(now, "test.toml").setup("1", "as found")) << now;
    const auto written = written_thing(TomlText(text, "test.toml"), here, "lamp", "dimmed");
    ASSERT_TRUE(written);
    EXPECT_EQ(written->values.count("level"), 1U) << "a page asks for the file's own key";
}

TEST(EditedText, OnlyTheNumberThatMovedChanges) {
    const std::string text = edited(small, {"two", "as found"}, set("lamp", "key", "at", point({1.0, 1.2192, 2.3456})));
    EXPECT_EQ(difference(small, text), (std::pair<std::string, std::string>{"00", "346"}));
}

TEST(EditedText, LengthsStayAsTheyWereSpelled) {
    const std::string text = edited(small, {"two", "as found"}, set("lamp", "key", "at", point({1.5, 1.2192, 2})));
    EXPECT_EQ(difference(small, text), (std::pair<std::string, std::string>{"0", "5"}));
}

/// Found by fuzzing: whole numbers of TOML end at 64 bits, and digits past the sixtieth were cut off.
TEST(EditedText, NumbersThatAreFarTooLargeAreStillNumbers) {
    for (const double far : {1e15, 1e61, -1.5e300}) {
        TomlText t("x = 1.0\n", "test.toml");
        t.set({}, "x", {far});
        EXPECT_EQ(t.at({"x"})->value<double>(), far) << t.text();
    }
}

TEST(EditedText, AMissingKeyComesAfterTheOthersWithTheirMargin) {
    const std::string text = edited(small, {"two", "as found"}, set("lamp", "é far", "level", {std::string("25%")}));
    EXPECT_EQ(difference(small, text).second, "  level = \"25%\"\n");
    EXPECT_NE(text.find("output = \"900 lm\"\n  level = \"25%\"\n# Below it."), std::string::npos) << text;
}

TEST(EditedText, AValueInForceInTheSetUpIsChangedThere) {
    FilePart part{};
    const std::string text =
        edited(small, {"one", "as found"}, set("lamp", "key", "level", {std::string("-2 stops")}), &part);
    EXPECT_EQ(part, FilePart::setup);
    EXPECT_NE(text.find("change.lamp.key = { level = \"-2 stops\" }  # dimmed"), std::string::npos) << text;
    const std::string base =
        edited(small, {"two", "as found"}, set("lamp", "key", "level", {std::string("-2 stops")}), &part);
    EXPECT_EQ(part, FilePart::file);
    EXPECT_NE(base.find("level = \"-2 stops\"  # half"), std::string::npos) << base;
}

TEST(EditedText, AnOptionTakesWhatIsChangedWhileItIsLookedAt) {
    FilePart part{};
    std::string text = edited(small, {"two", "low"}, set("lamp", "é far", "level", {std::string("10%")}), &part);
    EXPECT_EQ(part, FilePart::option);
    EXPECT_EQ(difference(small, text).second, "change.lamp.\"é far\" = { level = \"10%\" }\n");
    text = edited(text, {"two", "low"}, set("lamp", "é far", "at", point({2, 2.5, 2})));
    EXPECT_NE(text.find("change.lamp.\"é far\" = { level = \"10%\", at = [2, 2.5, 2] }\n"), std::string::npos) << text;
    text = edited(text, {"two", "low"}, set("mark", "A", "person.pose", {std::string("standing")}));
    const SetupFile file = SetupFile::from_text(text, "test.toml");
    EXPECT_EQ(file.setup("two", "low").rig.marks.at(0).person.pose, Pose::standing);
    EXPECT_EQ(file.setup("two", "as found").rig.marks.at(0).person.pose, Pose::seated);
    EXPECT_DOUBLE_EQ(file.setup("two", "low").rig.lamps.at(1).level, 0.1);
    EXPECT_DOUBLE_EQ(file.setup("two", "as found").rig.lamps.at(1).level, 1);
}

TEST(EditedText, TheDayOfAnOptionIsItsOwn) {
    std::string text = edited(small, {"two", "as found"}, set("day", "", "time", {std::string("09:00")}));
    text = edited(text, {"two", "low"}, set("day", "", "time", {std::string("17:30")}));
    const SetupFile file = SetupFile::from_text(text, "test.toml");
    EXPECT_DOUBLE_EQ(file.setup("one", "as found").day.clock_hours, 9);
    EXPECT_DOUBLE_EQ(file.setup("one", "low").day.clock_hours, 17.5);
}

TEST(EditedText, AddedAndTakenAwayLeavesTheFileAsItWas) {
    ThingEdit add;
    add.act = ThingEdit::Act::add, add.kind = "flag", add.name = "new one";
    add.values = {{"at", point({1, 2, 1.5})}, {"facing", {std::string("A")}}};
    for (const EditPlace& place : {EditPlace{"two", "as found"}, EditPlace{"two", "low"}}) {
        const std::string with = edited(small, place, add);
        EXPECT_NO_THROW(SetupFile::from_text(with, "test.toml"));
        EXPECT_EQ(edited(with, place, remove("flag", "new one")), small);
    }
    // In another set-up's own part.
    add.part = FilePart::setup;
    const std::string with = edited(small, {"one", "as found"}, add);
    EXPECT_EQ(SetupFile::from_text(with, "test.toml").setup("two", "as found").rig.panels.size(), 1U);
    EXPECT_EQ(SetupFile::from_text(with, "test.toml").setup("one", "as found").rig.panels.size(), 1U);
    EXPECT_EQ(edited(with, {"one", "as found"}, remove("flag", "new one")), small);
}

TEST(EditedText, WhatAnOptionTakesAwayStaysInTheFile) {
    const std::string text = edited(small, {"two", "low"}, remove("lamp", "key"));
    EXPECT_EQ(difference(small, text).second, "remove = [\"key\"]\n");
    const std::string both = edited(text, {"two", "low"}, remove("lamp", "é far"));
    EXPECT_NE(both.find("remove = [\"key\", \"é far\"]\n"), std::string::npos) << both;
    EXPECT_EQ(SetupFile::from_text(both, "test.toml").setup("two", "low").rig.lamps.size(), 0U);
    EXPECT_EQ(SetupFile::from_text(both, "test.toml").setup("two", "as found").rig.lamps.size(), 2U);
}

TEST(EditedText, ACommentOutlivesTheKeyBesideIt) {
    ThingEdit e = set("lamp", "key", "level", {0.0});
    e.value.reset();
    e.part = FilePart::file;
    const std::string text = edited(small, {"two", "as found"}, e);
    EXPECT_EQ(text.find("level = \"50%\""), std::string::npos);
    EXPECT_NE(text.find("# half"), std::string::npos);
    // The only key of what a set-up changes takes all of that along.
    e.part = FilePart::setup;
    const std::string none = edited(small, {"one", "as found"}, e);
    EXPECT_DOUBLE_EQ(SetupFile::from_text(none, "test.toml").setup("one", "as found").rig.lamps.at(0).level, 0.5);
}

TEST(EditedText, LineEndingsOfAnotherSystemStay) {
    std::string crlf;
    for (const char c : small) crlf += c == '\n' ? "\r\n" : std::string(1, c);
    const std::string text = edited(crlf, {"two", "low"}, set("lamp", "key", "level", {std::string("10%")}));
    for (std::size_t i = text.find('\n'); i != std::string::npos; i = text.find('\n', i + 1))
        EXPECT_EQ(text[i - 1], '\r');
    EXPECT_EQ(difference(crlf, text).first, "");
}

TEST(EditedText, AByteOrderMarkMovesNothing) {
    const std::string marked = "\xEF\xBB\xBF" + small;
    const std::string text = edited(marked, {"two", "as found"}, set("file", "", "title", {std::string("new")}));
    EXPECT_EQ(text.substr(0, 30), (marked.substr(0, 3) + "title = \"new\"   # a comment").substr(0, 30));
}

TEST(EditedText, WhatIsNotThereIsSaid) {
    for (const ThingEdit& e : {set("lamp", "nobody", "level", {0.5}), set("lump", "key", "level", {0.5}),
                               set("lamp", "key", "name", {std::string("x")}), remove("flag", "black")})
        EXPECT_THROW(edited(small, {"one", "as found"}, e), InputError) << e.kind << " " << e.name;
}

/// Every thing of every scene, moved, dimmed, turned by chance: the file stays sound, reads back what was set, and the
/// rest of its letters stay.
TEST(EditedText, ChanceEditsOfEveryScene) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> nearly(-0.3, 0.3), share(0.05, 1);
    int edits = 0;
    for (const auto& entry : std::filesystem::directory_iterator(scenes)) {
        if (entry.path().extension() != ".toml") continue;
        const std::string path = entry.path().string(), original = text_of(path);
        const SetupFile file = SetupFile::from_text(original, path);
        std::string text = original;
        std::string most_recent_option;
        for (const std::string& setup : file.setup_names())
            for (const std::string& option : file.option_names(setup)) {
                const EditPlace place{setup, option};
                const rushlight::Setup now = file.setup(setup, option);
                for (const Lamp& l : now.rig.lamps) {
                    const auto x = static_cast<double>(l.at.x) + nearly(random), y = static_cast<double>(l.at.y),
                               z = static_cast<double>(l.at.z) + nearly(random), level = share(random);
                    for (const ThingEdit& e :
                         {set("lamp", l.name, "at", point({x, y, z})), set("lamp", l.name, "level", {level})}) {
                        const std::string before = text;
                        text = edited(before, place, e);
                        ++edits;
                        // A value, or a line with one: nothing else.
                        EXPECT_LE(difference(before, text).first.size(), 40U) << path << " " << l.name << " " << e.key;
                        EXPECT_LE(difference(before, text).second.size(), 120U)
                            << path << " " << l.name << " " << e.key;
                    }
                    const rushlight::Setup after = SetupFile::from_text(text, path).setup(setup, option);
                    const auto same = std::find_if(after.rig.lamps.begin(), after.rig.lamps.end(),
                                                   [&](const Lamp& other) { return other.name == l.name; });
                    ASSERT_NE(same, after.rig.lamps.end());
                    EXPECT_NEAR(static_cast<double>(same->at.x), x, 0.00051);
                    EXPECT_NEAR(static_cast<double>(same->at.y), y, 0.00051);
                    EXPECT_NEAR(static_cast<double>(same->at.z), z, 0.00051);
                    EXPECT_NEAR(same->level, level, 1e-5);
                }
            }
        EXPECT_EQ(std::count(text.begin(), text.end(), '#'), std::count(original.begin(), original.end(), '#')) << path;
    }
    EXPECT_GT(edits, 60);
}

}  // namespace
}  // namespace rushlight
