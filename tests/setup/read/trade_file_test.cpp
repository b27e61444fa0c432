// Every word that the trade says, typed into a file where somebody would type it: the file takes it, and it means what
// the trade means by it. The words are common practice, no source.
#include "setup/plain/face.h"
#include "setup/plain/target.h"
#include "setup/read/kit.h"
#include "setup/text/trade_words.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include "setup/read/typed_file.h"

namespace rushlight {
namespace {

const std::string place =
    small_room +
    "[[place.opening]]\nname = \"window\"\nwall = \"near\"\nfrom = 1\nto = 3\nsill = 1\nhead = 2\n"
    "[[place.furniture]]\nname = \"table\"\nat = [2.5, 3]\nsize = [1, 1, 0.8]\n";
const std::string person = "[[mark]]\nname = \"A\"\nat = [2, 2]\nfacing = 0\n";

std::string lamp(const std::string& keys) {
    return "[[lamp]]\nname = \"key\"\nat = [1, 1, 2]\naim = \"A\"\noutput = \"9000 lm\"\nsize = 0.5\n" + keys;
}

/// A file that says the word where such a word stands; nothing where no such kind of word is known.
std::string file_with(const TradeWord& w) {
    const std::string said(w.said), of(w.of);
    const std::string quoted = "\"" + said + "\"\n";
    if (of == "gel") return place + person + lamp("shape = \"box\"\ngel = " + quoted);
    if (of == "lamp shape") return place + person + lamp("shape = " + quoted);
    if (of == "light") return place + person + lamp("shape = \"box\"\nkelvin = 3200\nlight = " + quoted);
    if (of == "shot")
        return place + person + "[[camera]]\nname = \"1\"\nof = \"A\"\noff_eyeline = 20\nshot = " + quoted;
    if (of == "sky") return place + "[day]\nsky = " + quoted;
    if (of == "pose") return place + person + "person = { pose = \"" + said + "\" }\n";
    if (of == "hair") return place + person + "person = { hair = \"" + said + "\" }\n";
    if (of == "hair cut") return place + person + "person = { hair_cut = \"" + said + "\" }\n";
    if (of == "hue") return place + person + "person = { wardrobe_hue = \"" + said + "\" }\n";
    if (of == "curtain") {
        std::string with = place;
        return with.insert(with.find("[[place.furniture]]"), "curtain = " + quoted) + person;
    }
    if (of == "finish")
        return place + person + "[[board]]\nname = \"b\"\nat = [1, 1, 1]\nfacing = \"A\"\nfinish = " + quoted;
    if (of == "cloth")
        return place + person + "[[cloth]]\nname = \"c\"\nat = [1, 1, 1]\nfacing = \"A\"\nkind = " + quoted;
    if (of == "receptor") return place + "[[meter]]\nname = \"m\"\nat = [1, 1, 1]\nreceptor = " + quoted;
    return "";
}

TEST(TradeFile, TakesEveryWordOfTheList) {
    for (const TradeWord& w : trade_words()) {
        const std::string file = file_with(w);
        ASSERT_NE(file, "") << "no test for a word of kind " << w.of;
        EXPECT_NO_THROW(first_of(file)) << w.of << " " << w.said;
        // It is the word that is taken, not any word: one letter more and it is refused.
        TradeWord wrong = w;
        const std::string misspelt = std::string(w.said) + "xq";
        wrong.said = misspelt;
        EXPECT_THROW(first_of(file_with(wrong)), InputError) << w.of << " " << misspelt;
    }
}

TEST(TradeFile, MeansWhatOursMeans) {
    const auto said = first_of(place + person + lamp("shape = \"box\"\ngel = \"1/2 CTO\"\n"));
    const auto ours = first_of(place + person + lamp("shape = \"box\"\ngel = \"half orange\"\n"));
    EXPECT_EQ(said.rig.lamps[0].gel_words, "half orange") << "what is written keeps to our names";
    EXPECT_EQ(said.rig.lamps[0].gel.band, ours.rig.lamps[0].gel.band);
    const auto sat =
        first_of(place + "[day]\nsky = \"cloudy\"\n" + person + "person = { pose = \"sitting\", skin = \"fair\" }\n");
    EXPECT_EQ(sat.rig.marks[0].person.pose, Pose::seated);
    EXPECT_DOUBLE_EQ(sat.rig.marks[0].person.skin, 0.35);
    EXPECT_FALSE(sat.day.sky.sun);
}

TEST(TradeFile, ThingsByTheirTradeNames) {
    for (const KeyWord& w : key_words()) {
        const std::string said(w.said), ours(w.ours);
        if (ours == "board" || ours == "flag" || ours == "cloth") {
            const std::string body = "name = \"x\"\nat = [1, 1, 1]\nfacing = \"A\"\n" +
                                     std::string(ours == "cloth" ? "kind = \"silk\"\n" : "");
            const auto s = first_of(place + person + "[[" + said + "]]\n" + body);
            ASSERT_EQ(s.rig.panels.size(), 1U) << said;
            EXPECT_EQ(word_of(s.rig.panels[0].kind), ours) << said;
            const auto added =
                first_of(place + person + "[[setup]]\nname = \"1\"\n[[setup.add." + said + "]]\n" + body);
            EXPECT_EQ(added.rig.panels.size(), 1U) << said;
        }
    }
    const auto s =
        first_of(place + person + lamp("shape = \"box\"\ndim = \"50%\"\n") + "[[circuit]]\nname = \"c\"\nload = 200\n" +
                 "[[camera]]\nname = \"1\"\nposition = [4, 3, 1.5]\nlook_at = \"A\"\nei = 400\nwb = \"4300K\"\n"
                 "aperture = \"f/4\"\nfocal_length = \"50mm\"\nhighlight_latitude = 7\nshadow_latitude = 4\n");
    EXPECT_DOUBLE_EQ(s.rig.lamps[0].level, 0.5);
    EXPECT_DOUBLE_EQ(s.rig.circuits[0].other, 200);
    const Camera& c = s.rig.cameras.at(0);
    EXPECT_DOUBLE_EQ(c.exposure.iso, 400);
    EXPECT_DOUBLE_EQ(c.white_balance, 4300);
    EXPECT_DOUBLE_EQ(c.exposure.t_stop, 4);
    EXPECT_DOUBLE_EQ(c.lens, 50);
    EXPECT_DOUBLE_EQ(c.headroom, 7);
    EXPECT_DOUBLE_EQ(c.footroom, 4);
}

TEST(TradeFile, EveryGuessedKeyIsOneOfTheFile) {
    for (const KeyWord& w : key_words()) {
        bool known = false, own = false;
        for (const Section& s : key_table())
            for (const Key& k : s.keys) {
                known = known || k.name == w.ours;
                own =
                    own || (k.name == w.said && find_key(s, w.ours) != nullptr && find_key(s, w.ours)->name == w.ours);
            }
        EXPECT_TRUE(known) << w.ours;
        EXPECT_FALSE(own) << w.said << " and " << w.ours << " are two keys of one section";
    }
}

TEST(TradeFile, OneOfTwoWordsForAKeyIsEnough) {
    try {
        first_of(place + person + lamp("shape = \"box\"\nlevel = 0.5\ndim = 0.2\n"));
        FAIL() << "two levels were taken";
    } catch (const InputError& e) {
        EXPECT_NE(std::string(e.what()).find("dim is another word for level"), std::string::npos) << e.what();
    }
}

TEST(TradeFile, AimsAtWhateverHasAName) {
    const auto aimed = [](const std::string& at) {
        return first_of(place + person +
                        "[[bounce]]\nname = \"white\"\nat = [4, 2, 1]\nfacing = \"A\"\n"
                        "[[lamp]]\nname = \"key\"\nshape = \"fresnel\"\nat = [1, 1, 2]\noutput = \"9000 lm\"\nsize = "
                        "0.02\naim = \"" +
                        at + "\"\n")
            .rig.lamps[0]
            .aimed_at.value();
    };
    expect_near(aimed("ceiling"), {1, 1, 2.7F});
    expect_near(aimed("floor"), {1, 1, 0});
    expect_near(aimed("Far wall"), {1, 4, 2});
    expect_near(aimed("left wall"), {0, 1, 2});
    expect_near(aimed("window"), {2, 0, 1.5F});
    expect_near(aimed("table"), {2.5F, 3, 0.4F});
    expect_near(aimed("white"), {4, 2, 1});
    try {
        aimed("tabel");
        FAIL();
    } catch (const InputError& e) {
        EXPECT_NE(std::string(e.what()).find("did you mean 'table'?"), std::string::npos) << e.what();
    }
    const auto facing = first_of(place + "[[mark]]\nname = \"A\"\nat = [2, 2]\nfacing = \"window\"\n");
    EXPECT_NEAR(facing.rig.marks[0].facing, -90, 1e-4);
}

TEST(TradeFile, TargetsAsTheyAreSaid) {
    const auto same = [](const char* said, const char* ours) {
        const auto a = want_from(said), b = want_from(ours);
        ASSERT_TRUE(a && b) << said;
        EXPECT_EQ(a->kind, b->kind) << said;
        EXPECT_DOUBLE_EQ(a->value, b->value) << said;
    };
    same("f/2.8", "T2.8");
    same("F4", "T4");
    same("half a stop over", "1/2 over");
    same("a stop under", "1 under");
    same("two stops under B near cheek", "2 under B near cheek");
    same("4 to 1", "4:1");
    same("a third of a stop over", "1/3 over");
    EXPECT_FALSE(want_from("half a stoop over"));
}

TEST(TradeFile, WhatIsGoneAlreadyIsARemark) {
    const SetupFile f =
        SetupFile::from_text(place + person + "[[flag]]\nname = \"black\"\nat = [1, 1, 1]\nfacing = \"A\"\n" +
                                 "[[setup]]\nname = \"1\"\nremove = [\"black\"]\n[[setup]]\nname = \"2\"\n" +
                                 "[[option]]\nname = \"open\"\nremove = [\"black\"]\n",
                             "f.toml");
    EXPECT_TRUE(f.setup("1", "open").rig.panels.empty());
    EXPECT_TRUE(f.setup("2", "open").rig.panels.empty());
    const auto said = std::count_if(f.remarks().begin(), f.remarks().end(), [](const std::string& r) {
        return r.find("'black' is removed already") != std::string::npos;
    });
    EXPECT_EQ(said, 1);
}

}  // namespace
}  // namespace rushlight
