#include "setup/read/kit.h"

#include "setup/advice/kit_use.h"
#include "setup/plain/lamp_output.h"
#include "setup/read/typed_file.h"
#include "setup/text/where.h"

#include <filesystem>
#include <fstream>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

class KitFile : public testing::Test {
protected:
    KitFile() { fs::create_directories(folder_); }
    ~KitFile() override { fs::remove_all(folder_); }
    void kit(const std::string& text, const std::string& name = "kit.toml") const {
        std::ofstream(folder_ / name) << text;
    }
    SetupFile file(const std::string& text) const {
        return SetupFile::from_text("kit = \"kit.toml\"\n" + small_room + text, (folder_ / "f.toml").string());
    }
    std::string refusal(const std::string& text = "") const {
        try {
            file(text);
        } catch (const InputError& e) {
            std::string said = e.what();
            const std::string in = folder_.string() + "/";
            for (std::size_t at; (at = said.find(in)) != std::string::npos;) said.erase(at, in.size());
            return said;
        }
        return "";
    }
    fs::path folder_ = fs::path(testing::TempDir()) /
                       ("rushlight-kit-" + std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
};

// Every number of the catalogue says where it comes from. A lamp does not give more than its bare head (peak candela
// times the solid angle of its beam, and all of its flux: energy).
TEST(KitCatalogue, IsSoundAndSaysWhereItsNumbersComeFrom) {
    const auto kit = Kit::catalogue();
    EXPECT_FALSE(kit->owned());
    EXPECT_GE(kit->items().size(), 90U);
    for (const KitItem* i : kit->items()) {
        EXPECT_TRUE(i->source == "from memory" || i->source == "common practice, no source") << i->name;
        EXPECT_FALSE(i->count) << i->name;
        if (i->kind == ThingKind::lamp && i->name != "candle") {
            EXPECT_GT(i->lamp.watts, 0) << i->name;
        }
        if (!i->stand.empty()) {
            EXPECT_NE(kit->part(i->stand), nullptr) << i->name;
            EXPECT_GT(i->weight, 0) << i->name;
        }
        for (const std::string& part : i->parts) EXPECT_NE(kit->part(part), nullptr) << i->name;
    }
    for (const int lumens : {6000, 14000, 31000, 60000, 110000}) {
        const std::string head = std::to_string(lumens) + " lm head";
        const double bare = photometric(kit->item(head + ", bare")->lamp.intensity_or_flux);
        for (const char* optics : {", wide reflector", ", lens at spot", ", lens at flood"}) {
            const Lamp& lamp = kit->item(head + optics)->lamp;
            ASSERT_EQ(lamp.output, Lamp::Output::candela);
            const double peak = photometric(lamp.intensity_or_flux);
            EXPECT_LT(peak * beam_solid_angle(lamp.beam), 0.8 * bare) << head << optics;
            EXPECT_GT(peak * beam_solid_angle(lamp.beam), 0.1 * bare) << head << optics;
        }
    }
}

TEST(KitCatalogue, IsPrintedOnNoPageButItsNamesAre) {
    std::ifstream in(std::string(RUSHLIGHT_SOURCE) + "/docs/kit.md");
    const std::string page((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    for (const KitItem* i : Kit::catalogue()->items()) EXPECT_NE(page.find(i->name), std::string::npos) << i->name;
}

TEST_F(KitFile, OneLineIsEnough) {
    kit("[own]\n\"31000 lm head, wide reflector\" = 1\n");
    const SetupFile f = file(
        "[[lamp]]\nname = \"key\"\nlike = \"31000 lm head, wide reflector\"\nat = [1, 1, 2]\naim = [3, 2, 1]\n"
        "level = \"-1 stop\"\n");
    const Lamp key = f.setup().rig.lamps.front();
    EXPECT_EQ(key.shape, LampShape::hard);
    EXPECT_EQ(key.output, Lamp::Output::candela);
    EXPECT_NEAR(photometric(key.intensity_or_flux), 3000 * 9, 1);
    EXPECT_DOUBLE_EQ(key.level, 0.5);
    EXPECT_DOUBLE_EQ(key.watts, 375);
    EXPECT_EQ(key.kit_item, "31000 lm head, wide reflector");
    EXPECT_EQ(f.kit().item(key.kit_item)->count, 1);
}

TEST_F(KitFile, ItemsAreMadeFromItemsAndThingsFromThem) {
    kit("[[lamp]]\nname = \"our head\"\nlike = \"31000 lm head, wide reflector\"\noutput = \"5200 lx at 3 m\"\n"
        "watts = 350\ncount = 2\n");
    const SetupFile f = file(
        "[[lamp]]\nname = \"key\"\nlike = \"our head\"\nkelvin = 5000\nat = [1, 1, 2]\naim = [3, 2, 1]\n"
        "[[setup]]\nname = \"1\"\n[[setup]]\nname = \"2\"\nchange.lamp.key = { like = \"31000 lm head, lens at spot\" "
        "}\n");
    const Lamp first = f.setup("1", "as found").rig.lamps.front();
    EXPECT_NEAR(photometric(first.intensity_or_flux), 5200 * 9, 2);
    EXPECT_DOUBLE_EQ(first.watts, 350);
    EXPECT_DOUBLE_EQ(first.kelvin, 5000);
    EXPECT_DOUBLE_EQ(first.beam, 55);
    const Lamp second = f.setup("2", "as found").rig.lamps.front();
    EXPECT_DOUBLE_EQ(second.beam, 16);
    EXPECT_DOUBLE_EQ(second.kelvin, 5000);
    const KitItem& item = *f.kit().item("our head");
    EXPECT_DOUBLE_EQ(item.weight, 4);
    EXPECT_EQ(item.stand, "light stand");
    EXPECT_EQ(item.parts, std::vector<std::string>{"31000 lm head"});
}

TEST_F(KitFile, SeveralFilesAreOneKit) {
    kit("[own]\n\"31000 lm head, bare\" = 1\n");
    kit("[[lamp]]\nname = \"ours\"\nlike = \"31000 lm head, bare\"\n", "more.toml");
    const SetupFile f =
        SetupFile::from_text("kit = [\"kit.toml\", \"more.toml\"]\n" + small_room, (folder_ / "f.toml").string());
    EXPECT_EQ(f.kit().item("31000 lm head, bare")->count, 1);
    EXPECT_DOUBLE_EQ(f.kit().item("ours")->weight, 4);
    EXPECT_DOUBLE_EQ(f.kit().item("ours")->lamp.watts, 375);
}

// The van's files lie beside the van's list, wherever the set-up file is.
TEST_F(KitFile, ALuminaireFileIsFoundBesideTheKitFileThatNamesIt) {
    fs::create_directories(folder_ / "van");
    fs::copy_file(std::string(RUSHLIGHT_SOURCE) + "/tests/setup/luminaires/plain.ies", folder_ / "van" / "panel.ies");
    kit("[[lamp]]\nname = \"panel\"\nluminaire = \"panel.ies\"\nwatts = 60\n", "van/kit.toml");
    const auto typed = [&](const std::string& words) {
        return SetupFile::from_text("kit = \"van/kit.toml\"\n" + small_room +
                                        "[[lamp]]\nname = \"key\"\nlike = \"panel\"\nat = [1, 1, 2]\n" + words,
                                    (folder_ / "f.toml").string());
    };
    const Lamp key = typed("").setup().rig.lamps.front();
    ASSERT_TRUE(key.luminaire);
    const Luminaire beside = read_luminaire(std::string(RUSHLIGHT_SOURCE) + "/tests/setup/luminaires/plain.ies");
    EXPECT_NEAR(photometric(key.intensity_or_flux) / beside.lumens, 1, 1e-5);
    EXPECT_DOUBLE_EQ(key.watts, 60);
    EXPECT_TRUE(typed("").kit().item("panel")->lamp.luminaire);
    // What the set-up file names itself lies beside the set-up file.
    EXPECT_THROW(typed("luminaire = \"panel.ies\"\n"), InputError);
    EXPECT_TRUE(typed("luminaire = \"van/panel.ies\"\n").setup().rig.lamps.front().luminaire);
    kit("[[lamp]]\nname = \"panel\"\nluminaire = \"panel.ies\"\n");
    EXPECT_EQ(refusal(),
              "kit.toml:3:13: [[lamp]] 'panel': luminaire is 'panel.ies'; there is no such file beside kit.toml");
}

TEST_F(KitFile, SaysWhatIsShort) {
    kit("[own]\n\"1.2 m frame, quarter white\" = 1\n\"1.2 m frame, full white\" = 1\n\"1.2 m frame\" = 1\n"
        "\"grip stand\" = 3\n");
    const SetupFile f = file(
        "[[circuit]]\nname = \"ring\"\namps = 13\nother = 2200\n"
        "[[cloth]]\nname = \"a\"\nlike = \"1.2 m frame, quarter white\"\nat = [1, 1, 1]\nfacing = [2, 2, 1]\n"
        "[[cloth]]\nname = \"b\"\nlike = \"1.2 m frame, full white\"\nat = [1, 2, 1]\nfacing = [2, 2, 1]\n"
        "[[board]]\nname = \"mine\"\nat = [1, 3, 1]\nfacing = [2, 2, 1]\n"
        "[[lamp]]\nname = \"key\"\nlike = \"31000 lm head, bare\"\nat = [1, 1, 2]\naim = [3, 2, 1]\ncircuit = "
        "\"ring\"\n"
        "[[lamp]]\nname = \"off\"\nlike = \"60000 lm head, bare\"\nat = [1, 1, 2]\naim = [3, 2, 1]\non = false\n");
    const KitList list = kit_list(f.setup(), f.kit());
    const auto use = [](const std::vector<KitUse>& uses, const std::string& name) { return named(uses, name); };
    EXPECT_EQ(use(list.items, "1.2 m frame, 1 1/2 stops, spread 100").short_by(), 0);
    EXPECT_EQ(use(list.items, "31000 lm head, bare").short_by(), 1);  // in the catalogue, not in the van
    EXPECT_EQ(use(list.parts, "1.2 m frame").used, 2);
    EXPECT_EQ(use(list.parts, "1.2 m frame").short_by(), 1);
    EXPECT_EQ(use(list.parts, "grip stand").used, 5);  // two a frame, and the lamp that is off
    EXPECT_EQ(use(list.parts, "grip stand").short_by(), 2);
    EXPECT_EQ(list.of_no_item, std::vector<std::string>{"mine"});
    EXPECT_DOUBLE_EQ(list.watts, 375);
    ASSERT_EQ(list.circuits.size(), 1U);
    EXPECT_DOUBLE_EQ(list.circuits[0].watts, 2575);
    EXPECT_NEAR(list.circuits[0].amps(), 2575 / 230.0, 1e-9);
    EXPECT_NEAR(list.circuits[0].share(), 0.861, 0.001);  // over four fifths, under the rating
}

// One lens does spot and flood, one head wears its reflector or a lens; but one head is not two.
TEST_F(KitFile, AHeadAndALensThatAreOwnedAreThereAtSpotAndAtFlood) {
    kit("[own]\n\"60000 lm head, lens at spot\" = 1\n");
    const auto list_of = [&](const std::string& lamps) {
        const SetupFile f = file(lamps);
        return kit_list(f.setup(), f.kit());
    };
    const auto lamp = [](const std::string& name, const std::string& like) {
        return "[[lamp]]\nname = \"" + name + "\"\nlike = \"" + like + "\"\nat = [1, 1, 2]\naim = [3, 2, 1]\n";
    };
    const KitList one = list_of(lamp("key", "60000 lm head, lens at flood"));
    EXPECT_EQ(named(one.items, "60000 lm head, lens at flood").short_by(), 0);
    EXPECT_EQ(named(one.parts, "60000 lm head").short_by(), 0);
    const KitList two =
        list_of(lamp("key", "60000 lm head, lens at flood") + lamp("high", "60000 lm head, lens at spot"));
    EXPECT_EQ(named(two.parts, "60000 lm head").short_by(), 1);
    EXPECT_EQ(named(two.parts, "lens for 60000 lm head").short_by(), 1);
    const KitList box = list_of(lamp("key", "60000 lm head in 1.2 m soft box"));
    EXPECT_EQ(named(box.items, "60000 lm head in 1.2 m soft box").short_by(), 1) << "there is a head, but no soft box";
}

TEST_F(KitFile, PracticalsBelongToThePlace) {
    kit("[own]\n\"grip stand\" = 1\n");
    const SetupFile f = file(
        "[[lamp]]\nname = \"globe\"\nlike = \"806 lm bulb\"\nat = [1, 1, 2]\n"
        "[[lamp]]\nname = \"reading lamp\"\nshape = \"ball\"\nsize = 0.06\noutput = \"470 lm\"\nat = [2, 1, 1]\n"
        "shade = { }\n"
        "[[lamp]]\nname = \"big ball\"\nshape = \"ball\"\nsize = 0.5\noutput = \"4700 lm\"\nat = [2, 1, 2]\n");
    const KitList list = kit_list(f.setup(), f.kit());
    EXPECT_EQ(list.of_the_place, (std::vector<std::string>{"globe", "reading lamp"}));
    EXPECT_EQ(list.of_no_item, std::vector<std::string>{"big ball"});
    EXPECT_TRUE(list.items.empty());
    const auto lines = kit_lines(list, f.kit());
    EXPECT_EQ(
        std::count(lines.begin(), lines.end(), "of the place, not of the kit: 'globe' and 'reading lamp', practicals"),
        1);
}

TEST_F(KitFile, IsAnsweredInItsOwnLines) {
    kit("[own]\n\"1.2 m frame, 1/3 stop, sprad 30\" = 1\n");
    EXPECT_EQ(refusal(),
              "kit.toml:2:1: [own]: nothing in the catalogue called '1.2 m frame, 1/3 stop, sprad 30'; did you mean "
              "'1.2 m frame, 1/3 stop, spread 30'?");
    kit("[own]\n\"31000 lm head, bare\" = 1\n[[lamp]]\nname = \"31000 lm head, bare\"\ncount = 2\n");
    EXPECT_EQ(refusal(),
              "kit.toml:2:1: [own]: '31000 lm head, bare' is in the kit already; expected one place for each");
    kit("[[lamp]]\nname = \"x\"\nlike = \"31000 lm head, bare\"\nat = [1, 2, 3]\n");
    EXPECT_EQ(refusal(), "kit.toml:4:1: [[lamp]] 'x': at says where a thing is; that belongs in the set-up file");
    kit("[[lamp]]\nname = \"x\"\nlike = \"31000 lm head, bare\"\nwats = 3\n");
    EXPECT_EQ(refusal(), "kit.toml:4:1: unknown key 'wats' in [[lamp]] 'x'; did you mean 'watts'?");
    kit("[[lamp]]\nname = \"x\"\nshape = \"hard\"\n");
    EXPECT_EQ(refusal().substr(0, 10), "kit.toml:1") << refusal();
    EXPECT_NE(refusal().find("needs 'output'"), std::string::npos);
    kit("[[board]]\nname = \"x\"\n[[board]]\nname = \"x\"\n");
    EXPECT_EQ(refusal(), "kit.toml:4:8: a second 'x' in the kit");
    kit("[[board]]\nname = \"x\"\ncount = 1.5\n");
    EXPECT_EQ(refusal(), "kit.toml:3:9: [[board]] 'x': count is 1.5; expected a whole number");
    kit("[[board]]\nname = \"x\"\nfinish = \"unobtainium\"\n");
    EXPECT_EQ(refusal().substr(0, 44), "kit.toml:3:10: [[board]] 'x' finish: unknown");
    kit("");
    EXPECT_EQ(refusal("[[lamp]]\nname = \"key\"\nlike = \"31000 lm hed, bare\"\nat = [1, 1, 2]\naim = [3, 2, 1]\n"),
              "f.toml:10:8: [[lamp]] 'key': no lamp in the kit called '31000 lm hed, bare'; did you mean '31000 lm "
              "head, bare'?");
    EXPECT_EQ(refusal("[[lamp]]\nname = \"key\"\nlike = \"31000 lm head, bare\"\nat = [1, 1, 2]\naim = [3, 2, 1]\n"
                      "circuit = \"x\"\n"),
              "f.toml:13:11: [[lamp]] 'key': no circuit 'x'; there are none here");
    fs::remove(folder_ / "kit.toml");
    EXPECT_EQ(refusal(), "f.toml:1:7: kit: kit.toml: there is no such file; expected a kit file");
}

// Whatever is cut off or struck by mistake, the answer is one line or a sound kit.
TEST_F(KitFile, NoSlipOfTheFingersGetsThrough) {
    const std::string whole(Kit::catalogue_text().substr(0, 3000));
    const std::string keys = "]=\"'\n{x0-.,[#\xff";
    int refused = 0;
    for (std::size_t at = 0; at < whole.size(); at += 61) {
        std::string struck = whole;
        struck[at] = keys[at % keys.size()];
        for (const std::string& text : {whole.substr(0, at), struck}) {
            kit(text);
            const std::string said = refusal();
            EXPECT_EQ(said.find('\n'), std::string::npos) << said;
            refused += said.empty() ? 0 : 1;
        }
    }
    EXPECT_GT(refused, 20);
}

Lamp lamp_of(const std::string& words) {
    return first_of(small_room + "[[lamp]]\nname = \"l\"\nat = [1, 1, 2]\naim = [3, 2, 1]\noutput = \"1000 lm\"\n" +
                    words)
        .rig.lamps.front();
}
double kelvin_of(const Lamp& l) {
    return colour_temperature(tristimulus(l.intensity_or_flux * l.burning())).cct.value;
}

TEST(KindsOfLight, TungstenWarmsAsItIsDimmedAndLedDoesNot) {
    EXPECT_NEAR(kelvin_of(lamp_of("shape = \"hard\"\nlight = \"tungsten\"\n")), 3200, 2);
    EXPECT_NEAR(kelvin_of(lamp_of("shape = \"hard\"\nlight = \"tungsten\"\nlevel = \"-3 stops\"\n")),
                3200 * std::pow(0.125, 0.42 / 3.4), 3);
    const Lamp dimmed = lamp_of("shape = \"hard\"\nlight = \"tungsten\"\nlevel = 0.125\n");
    EXPECT_NEAR(photometric(dimmed.intensity_or_flux * dimmed.burning()), 125, 0.1);
    for (const char* light : {"white led", "wide led", "two-channel led", "fluorescent", "daylight"})
        EXPECT_NEAR(kelvin_of(lamp_of("shape = \"hard\"\nkelvin = 4500\nlevel = 0.1\nlight = \"" + std::string(light) +
                                      "\"\n")),
                    4500, 15)
            << light;
    const Lamp green = lamp_of("shape = \"hard\"\nlight = \"white led\"\ntint = 0.01\n");
    EXPECT_NEAR(colour_temperature(tristimulus(green.intensity_or_flux)).duv, 0.01, 1e-4);
    // A gel is made for smooth whites: before an LED it shifts nearly as much, not quite.
    const std::string gels = "shape = \"hard\"\ngel = [\"full orange\", \"quarter plus green\"]\n";
    const double meant = 1e6 / 5600 + 147;
    EXPECT_NEAR(1e6 / kelvin_of(lamp_of(gels)), meant, 3);
    EXPECT_NEAR(1e6 / kelvin_of(lamp_of(gels + "light = \"white led\"\n")), meant, 25);
}

}  // namespace
}  // namespace rushlight
