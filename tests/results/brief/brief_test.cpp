// What a brief says of a file: kit that adds up, watts against a rating, an order, targets, what to measure on arrival.
#include "results/brief/brief.h"

#include "results/rooms.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>

namespace rushlight {
namespace {

using rooms::Folder;

/// A black room, so that light falls once and the inverse-square law is all of it.
const std::string black_room = R"file(
title = "brief test (invented)"
kit = "kit.toml"
[place]
latitude = 50
longitude = 8
room = { width = 6, depth = 5, height = 3 }
surfaces = { walls = 0.0, floor = 0.0, ceiling = 0.0 }
[day]
dark = true
[[circuit]]
name = "ring"
volts = 230
amps = 2
other = 60
[[mark]]
name = "A"
at = [4, 2.5]
facing = [1, 2.5]
[[camera]]
name = "one"
at = [1, 2.5, 1.5]
look_at = "A"
lens = 50
[[camera]]
name = "two"
at = [2, 1, 1.5]
look_at = "A"
lens = 35
[[lamp]]
name = "key"
like = "31000 lm head, wide reflector"
at = [1, 2.5, 1.585]
aim = "A"
circuit = "ring"
level = "50%"
[[flag]]
name = "black"
like = "0.6 x 0.9 m flag"
at = [2, 4, 1.5]
facing = "A"
[[setup]]
name = "1 wide"
camera = "one"
minutes = 60
notes = "Slowly."
[[setup]]
name = "2 close"
camera = "two"
minutes = 20
[[setup.add.flag]]
name = "second black"
like = "0.6 x 0.9 m flag"
at = [2, 4.4, 1.5]
facing = "A"
[[option]]
name = "key down"
change.lamp.key.level = "25%"
[[target]]
reading = "A front"
want = "T2.8"
setups = ["1 wide"]
)file";
const std::string kit = R"(
[own]
"31000 lm head, wide reflector" = 1
"31000 lm head" = 1
"0.6 x 0.9 m flag" = 1
"1.2 m board, white foam" = 2
"light stand" = 3
"grip stand" = 1
)";

Brief brief_of(const Folder& folder, const std::string& text, const BriefWish& wish) {
    std::ofstream(folder.path / "kit.toml") << kit;
    const SetupFile file = SetupFile::from_text(text, (folder.path / "room.toml").string());
    Effort effort;
    effort.seed = 5;
    return make_brief(file, plan_brief(file, wish), wish, effort, LayerCache(std::filesystem::path()));
}

BriefWish short_wish() {
    BriefWish wish;
    wish.seconds = 0.6;
    wish.width = 96;
    return wish;
}

/// Made once: both set-ups with their option.
const Brief& black_brief() {
    static const Folder folder;
    static const Brief b = brief_of(folder, black_room, short_wish());
    return b;
}

const BriefKitLine& line(const Brief& b, const std::string& name) {
    for (const BriefKitLine& l : b.kit)
        if (l.name == name) return l;
    throw std::runtime_error("no kit line " + name);
}

TEST(Brief, SaysOfAFileWhatTheFileHolds) {
    const Brief& b = black_brief();
    ASSERT_EQ(b.setups.size(), 2U);
    ASSERT_EQ(b.setups[0].options.size(), 2U);
    EXPECT_EQ(b.setups[0].setup().notes, std::vector<std::string>{"Slowly."});
    EXPECT_EQ(b.setups[0].options[1].differs, std::vector<std::string>{"key: 25 %"});
    EXPECT_EQ(b.setups[0].stand_of("key"), "light stand");
    EXPECT_EQ(b.setups[0].stand_of("black"), "grip stand");
    EXPECT_TRUE(b.setups[0].options[0].frame.there());
    EXPECT_FALSE(b.setups[0].day) << "it is dark";

    // Counted by hand: one flag in the first set-up, two in the second, of one that is owned; each takes a stand.
    EXPECT_TRUE(b.kit_owned);
    EXPECT_EQ(line(b, "0.6 x 0.9 m flag").most, 2);
    EXPECT_EQ(line(b, "0.6 x 0.9 m flag").free(), -1);
    EXPECT_EQ(line(b, "grip stand").most, 2);
    EXPECT_EQ(line(b, "light stand").free(), 2);
    EXPECT_EQ(line(b, "1.2 m board, white foam").most, 0);
    EXPECT_EQ(line(b, "1.2 m board, white foam").free(), 2) << "what lies in the van is told too";

    // 375 W and 60 W on 230 V x 2 A = 460 W: 94.6 %, over the 80 % of the rule of thumb, whatever the level.
    ASSERT_EQ(b.setups[0].kit.circuits.size(), 1U);
    const CircuitLoad& load = b.setups[0].kit.circuits[0];
    EXPECT_DOUBLE_EQ(load.watts, 435);
    EXPECT_NEAR(load.share(), 435.0 / 460, 1e-12);
    EXPECT_GT(load.share(), long_load_share);

    // Heaviest first, and no hour asked for.
    ASSERT_EQ(b.orders.size(), 1U);
    EXPECT_EQ(b.orders[0].shots[0].name, "1 wide");
    EXPECT_FALSE(b.by_the_clock);
    EXPECT_EQ(b.orders[0].shots[0].reason.find("sun window"), std::string::npos);

    std::string all;
    for (const std::string& c : b.cautions) all += c + "\n";
    for (const char* word : {"licensed electrician", "rated fixing", "Heat.", "Minors.", "Local codes"})
        EXPECT_NE(all.find(word), std::string::npos) << word;
}

// The kit's head gives 3000 lx at 3 m (docs/kit.md), so I = 27,000 cd; a hand before a face 3 m off on its aim reads
// I / d^2, at full and whatever the file's level (inverse-square law).
TEST(Brief, TellsWhatALampAloneWillRead) {
    const Brief& b = black_brief();
    const auto it = std::find_if(b.to_measure.begin(), b.to_measure.end(),
                                 [](const ToMeasure& m) { return m.name == "key alone at A"; });
    ASSERT_NE(it, b.to_measure.end());
    const double distance = 3 - 0.09 - 0.1;  // the face stands before the mark's upright, the hand before the face
    const double expected = 27000 / (distance * distance);
    EXPECT_NEAR(it->model.at(0), expected, 0.01 * expected);
    EXPECT_NE(it->file.find("source = \"key\""), std::string::npos);
    EXPECT_EQ(std::count_if(b.to_measure.begin(), b.to_measure.end(),
                            [](const ToMeasure& m) { return m.name == "key alone at A"; }),
              1)
        << "asked for once, not for every set-up";

    // The target at the front of the face: the same light at half level, T = sqrt(E t S / C).
    ASSERT_EQ(b.setups[0].targets.size(), 1U);
    const TargetCheck& target = b.setups[0].targets[0];
    // One number, one value: what the target finds there is what the reading says.
    const auto& readings = b.setups[0].sheet().readings;
    const auto front =
        std::find_if(readings.begin(), readings.end(), [](const Reading& r) { return r.name == "A front"; });
    ASSERT_NE(front, readings.end());
    EXPECT_DOUBLE_EQ(target.value.value, std::log2(front->lux.value));
    const double t_stop = std::sqrt(0.5 * expected / 48 * 800 / 250);
    EXPECT_FALSE(target.reached);
    EXPECT_NEAR(target.off, 2 * std::log2(t_stop / 2.8), 0.25);  // the front meter lies on the skin, not a hand off
}

TEST(Brief, PlansTheOptionThatIsAskedFor) {
    const Folder folder;
    std::ofstream(folder.path / "kit.toml") << kit;
    const SetupFile file = SetupFile::from_text(black_room, (folder.path / "room.toml").string());
    BriefWish wish = short_wish();
    wish.option = "key down";
    const BriefPlan plan = plan_brief(file, wish);
    ASSERT_EQ(plan.setups.size(), 2U);
    EXPECT_EQ(plan.setups[0].front().option, "key down");
    EXPECT_EQ(plan.setups[0].back().option, "as found");
    wish.option = "key up";
    EXPECT_THROW(plan_brief(file, wish), InputError);
    wish = short_wish();
    wish.setup = "3";
    EXPECT_THROW(plan_brief(file, wish), InputError);
}

TEST(Brief, FramesShrinkBeforeTheyFillTheMemory) {
    const Folder folder;
    std::string many = black_room;
    for (int i = 0; i < 60; ++i)
        many += "[[option]]\nname = \"option " + std::to_string(i) + "\"\nchange.lamp.key.level = \"10%\"\n";
    for (int i = 0; i < 40; ++i)
        many += "[[lamp]]\nname = \"lamp " + std::to_string(i) +
                "\"\nshape = \"ball\"\nat = [1, 1, 2]\noutput = \"100 lm\"\n";
    std::ofstream(folder.path / "kit.toml") << kit;
    const SetupFile file = SetupFile::from_text(many, (folder.path / "room.toml").string());
    BriefWish wish;
    const BriefPlan plan = plan_brief(file, wish);
    EXPECT_LT(plan.width, wish.width);
    EXPECT_GE(plan.width, 64);
}

}  // namespace
}  // namespace rushlight
