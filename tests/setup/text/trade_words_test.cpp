// What people of the trade type, and what the file takes it for. The words are common practice, no source.
#include "setup/text/trade_words.h"
#include "setup/keys/key_table.h"
#include "setup/plain/catalogues.h"
#include "setup/plain/shot.h"
#include "setup/read/kit.h"
#include "setup/text/typed_number.h"
#include "setup/text/typed_values.h"
#include "setup/text/words.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <iterator>

namespace rushlight {
namespace {

std::string gel(const std::string& said) {
    const GelKind* kind = kind_named(gel_kinds(), tidy(said));
    return kind ? std::string(kind->name) : "";
}

TEST(TradeWords, GelsAreKnownByTheirTradeNames) {
    EXPECT_EQ(gel("CTO"), "full orange");
    EXPECT_EQ(gel("1/2 CTO"), "half orange");
    EXPECT_EQ(gel("quarter CTB"), "quarter blue");
    EXPECT_EQ(gel("Plus Green"), "full plus green");
    EXPECT_EQ(gel("1/4 minus green"), "quarter minus green");
    EXPECT_EQ(gel("2 stop ND"), "nd 0.6");
    EXPECT_EQ(gel("half orange"), "half orange");
    EXPECT_EQ(gel("half mauve"), "");
}

TEST(TradeWords, ShotsSkiesAndHairToo) {
    ASSERT_NE(shot_size("mcu"), nullptr);
    EXPECT_EQ(shot_size("mcu")->name, "medium close-up");
    EXPECT_EQ(shot_size("cu")->name, "close-up");
    EXPECT_EQ(kind_named(sky_kinds(), "cloudy")->name, "overcast");
    EXPECT_EQ(kind_named(hair_kinds(), "blonde")->name, "blond");
    EXPECT_EQ(kind_named(curtain_kinds(), "net curtain")->name, "sheer");
    EXPECT_EQ(named_finish("poly")->name, "white foam board");
}

TEST(TradeWords, EachMeansSomethingThatTheFileHas) {
    const auto listed = [](const TradeWord& w) {
        const std::string ours(w.ours);
        if (kind_named(gel_kinds(), ours) || kind_named(sky_kinds(), ours) || kind_named(hair_kinds(), ours))
            return true;
        if (kind_named(curtain_kinds(), ours) || shot_size(ours) || named_finish(ours)) return true;
        if (kind_named(cloth_kinds(), ours)) return true;
        if (std::find(hue_names().begin(), hue_names().end(), ours) != hue_names().end()) return true;
        for (const Section& s : key_table())
            for (const Key& k : s.keys) {
                const auto words = split(k.words, '|');
                if (std::find(words.begin(), words.end(), ours) != words.end()) return true;
            }
        return false;
    };
    for (const TradeWord& w : trade_words()) {
        EXPECT_TRUE(listed(w)) << w.said << " means " << w.ours << ", which nothing is called";
        EXPECT_EQ(tidy(w.said), w.said);
    }
}

TEST(TradeWords, AllStandInTheDocs) {
    std::ifstream in(std::string(RUSHLIGHT_SOURCE) + "/docs/set-up-file.md");
    const std::string page((std::istreambuf_iterator<char>(in)), {});
    for (const TradeWord& w : trade_words()) {
        const std::size_t row = page.find("| " + std::string(w.of) + " | " + std::string(w.ours) + " | ");
        ASSERT_NE(row, page.npos) << w.ours;
        EXPECT_NE(page.substr(row, page.find('\n', row) - row).find(w.said), std::string::npos) << w.said;
    }
    for (const TradeWord& w : item_words()) {
        const std::size_t row = page.find("| kit item | ... " + std::string(w.ours) + " ... | ");
        ASSERT_NE(row, page.npos) << w.ours;
        EXPECT_NE(page.substr(row, page.find('\n', row) - row).find(w.said), std::string::npos) << w.said;
    }
    for (const KeyWord& w : key_words()) {
        const bool thing = w.ours == "board" || w.ours == "flag" || w.ours == "cloth";
        const auto code = [&](std::string_view word) {
            return thing ? "`[[" + std::string(word) + "]]`" : "`" + std::string(word) + "`";
        };
        const std::size_t row = page.find("| " + code(w.ours) + " | " + (thing ? "`[[" : "`"));
        ASSERT_NE(row, page.npos) << w.ours;
        EXPECT_NE(page.substr(row, page.find('\n', row) - row).find(code(w.said)), std::string::npos) << w.said;
    }
}

TEST(TradeWords, ItemsOfAKit) {
    const auto kit = Kit::catalogue();
    const auto means = [&](const char* said, const char* ours) {
        const KitItem* item = kit->item(said);
        ASSERT_NE(item, nullptr) << said;
        EXPECT_EQ(item->name, ours);
    };
    means("650 W tungsten Fresnel, spot", "650 W tungsten lens head, spot");
    means("31000 lm head in 0.65 m china ball", "31000 lm head in 0.65 m lantern");
    means("31000 lm head in 0.9 m softbox with egg crate", "31000 lm head in 0.9 m soft box with grid");
    means("1.2 m poly", "1.2 m board, white foam");
    means("1.2 m bounce", "1.2 m board, white foam");
    means("1.2 x 2.4 m neg", "1.2 x 2.4 m black cloth");
    means("2.4 m solid", "2.4 m black solid");
    means("2.4 m black solid", "2.4 m black solid");
    means("1.2 m frame, full grid", "1.2 m frame, 2 1/2 stops, spread 118");
    means("1.2 m frame, 1/4 diffusion", "1.2 m frame, 1/3 stop, spread 30");
    ASSERT_NE(kit->part("C-stand"), nullptr);
    EXPECT_EQ(kit->part("C-stand")->name, "grip stand");
    EXPECT_EQ(kit->item("1.2 m pony"), nullptr);
}

// Heads were named by watts: such files are read for one version more. Cloths also go by what they are asked for.
TEST(TradeWords, EarlierNamesOfItemsStillMeanThem) {
    const auto kit = Kit::catalogue();
    const std::pair<const char*, const char*> heads[] = {
        {"60", "6000"}, {"150", "14000"}, {"300", "31000"}, {"600", "60000"}, {"1200", "110000"}};
    const std::pair<const char*, const char*> optics[] = {{", bare", ", bare"},
                                                          {", 55 degree reflector", ", wide reflector"},
                                                          {", lens spot", ", lens at spot"},
                                                          {", lens flood", ", lens at flood"}};
    for (const auto& [watts, lumens] : heads) {
        for (const auto& [was, is] : optics) {
            const KitItem* item = kit->item(std::string(watts) + " W head" + was);
            ASSERT_NE(item, nullptr) << watts << was;
            EXPECT_EQ(item->name, std::string(lumens) + " lm head" + is);
        }
        EXPECT_EQ(kit->part(std::string(watts) + " W head")->name, std::string(lumens) + " lm head");
    }
    for (const ClothKind& k : cloth_kinds()) {
        const ClothKind* found = kind_named(cloth_kinds(), std::string(k.customary));
        ASSERT_NE(found, nullptr) << k.customary;
        EXPECT_EQ(found->name, k.name);
        const KitItem* item = kit->item("1.2 m frame, " + std::string(k.customary));
        ASSERT_NE(item, nullptr) << k.customary;
        EXPECT_EQ(item->name, "1.2 m frame, " + std::string(k.name));
    }
}

// What a cloth is called is what it does.
TEST(TradeWords, AClothsNameIsItsLossAndItsSpread) {
    for (const ClothKind& k : cloth_kinds()) {
        double whole = 0, over = 0, under = 1;
        int spread = 0;
        const std::string name(k.name);
        if (std::sscanf(name.c_str(), "%lf %lf/%lf stop", &whole, &over, &under) != 3) {
            over = 0, under = 1;
            if (std::sscanf(name.c_str(), "%lf/%lf stop", &over, &under) == 2)
                whole = 0;
            else
                over = 0, under = 1;
        }
        EXPECT_NEAR(whole + over / under, k.stops, 0.01) << name;
        ASSERT_EQ(std::sscanf(name.c_str() + name.find("spread"), "spread %d", &spread), 1) << name;
        EXPECT_DOUBLE_EQ(spread, k.spread) << name;
    }
}

TEST(TypedNumber, EachUnitKnowsHowPeopleWriteIt) {
    EXPECT_DOUBLE_EQ(typed_number("T2.8", "t_stop", "T").value(), 2.8);
    EXPECT_DOUBLE_EQ(typed_number("f/2.8", "t_stop", "T").value(), 2.8);
    EXPECT_DOUBLE_EQ(typed_number("24mm", "lens", "mm").value(), 24);
    EXPECT_DOUBLE_EQ(typed_number("4300 K", "kelvin", "K").value(), 4300);
    EXPECT_DOUBLE_EQ(typed_number("30%", "drawn", "share").value(), 0.3);
    EXPECT_DOUBLE_EQ(typed_number("EI 800", "iso", "").value(), 800);
    EXPECT_DOUBLE_EQ(typed_number("2 stops", "nd", "density").value(), 0.6);
    EXPECT_DOUBLE_EQ(typed_number("1/3 stop", "stops", "stops").value(), 1.0 / 3);
    EXPECT_DOUBLE_EQ(typed_number("1.2 kW", "watts", "W").value(), 1200);
    // 1 fc is one lumen on a square foot of exactly .3048 m by .3048 m.
    EXPECT_NEAR(typed_number("80 fc", "lux", "lx").value(), 80 / (0.3048 * 0.3048), 1e-9);
    EXPECT_DOUBLE_EQ(typed_number("fair", "skin", "share").value(), 0.35);
    EXPECT_FALSE(typed_number("24mm", "t_stop", "T"));
    EXPECT_FALSE(typed_number("T2.8", "lens", "mm"));
    EXPECT_FALSE(typed_number("", "lens", "mm"));
    EXPECT_FALSE(typed_number("mm", "lens", "mm"));
    EXPECT_FALSE(typed_number("nan", "lens", "mm"));
    EXPECT_FALSE(typed_number("inf%", "drawn", "share"));
    EXPECT_FALSE(typed_number("1/0 stop", "stops", "stops"));
    EXPECT_FALSE(typed_number("0x10", "iso", ""));
}

TEST(TypedNumber, BearingsByTheCompass) {
    EXPECT_DOUBLE_EQ(typed_number("SSE", "near_wall_faces", "degrees").value(), 157.5);
    EXPECT_DOUBLE_EQ(typed_number("south-west", "near_wall_faces", "degrees").value(), 225);
    EXPECT_DOUBLE_EQ(typed_number("North", "near_wall_faces", "degrees").value(), 0);
    EXPECT_DOUBLE_EQ(typed_number("158", "near_wall_faces", "degrees").value(), 158);
    EXPECT_FALSE(typed_number("SSX", "near_wall_faces", "degrees"));
}

TEST(TypedNumber, DatesAndClocksAsPeopleWriteThem) {
    EXPECT_EQ(date_from("16 March 2027"), (std::array{2027, 3, 16}));
    EXPECT_EQ(date_from("1 Dec 2026"), (std::array{2026, 12, 1}));
    EXPECT_FALSE(date_from("31 February 2027"));
    EXPECT_FALSE(date_from("16 March"));
    EXPECT_DOUBLE_EQ(clock_from("11.30").value(), 11.5);
    EXPECT_DOUBLE_EQ(clock_from("11h30").value(), 11.5);
    EXPECT_FALSE(clock_from("25.00"));
}

TEST(Hint, OfManyNamesTheThreeNearestAreTold) {
    std::vector<std::string> names;
    for (const auto& f : finish_catalogue()) names.push_back(f.finish.name);
    const std::string said = hint("chequered lino", names);
    EXPECT_LT(said.size(), 120U) << said;
    EXPECT_NE(said.find("; the nearest of "), std::string::npos) << said;
    EXPECT_EQ(std::count(said.begin(), said.end(), ','), 2) << said;
}

}  // namespace
}  // namespace rushlight
