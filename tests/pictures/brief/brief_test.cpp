// A brief as a page, as paper, as a table and as JSON: the same content each time, and nothing that is fetched.
#include "pictures/brief/data.h"
#include "pictures/brief/frames.h"
#include "pictures/brief/page.h"
#include "pictures/brief/pages.h"
#include "pictures/plan/plan.h"
#include "pictures/words/json_value.h"
#include "quantity/exposure.h"

#include "pictures/brief/brief_room.h"
#include "pictures/files/scratch.h"

#include <OpenImageIO/imageio.h>

#include <cstdio>
#include <regex>

namespace rushlight::testing_pictures {
namespace {

const Brief& brief() {
    static const Brief b = small_brief();
    return b;
}

/// RFC 4180, read by hand: rows of cells.
std::vector<std::vector<std::string>> rows_of(const std::string& text) {
    std::vector<std::vector<std::string>> rows(1, {""});
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
            rows.back().back() += text[++i];
        } else if (c == '"') {
            quoted = !quoted;
        } else if (!quoted && c == ',') {
            rows.back().emplace_back();
        } else if (!quoted && c == '\r' && i + 1 < text.size() && text[i + 1] == '\n') {
            ++i;
            if (i + 1 < text.size()) rows.push_back({""});
        } else {
            rows.back().back() += c;
        }
    }
    return rows;
}

std::size_t count_of(const std::string& text, const std::string& words) {
    std::size_t n = 0;
    for (std::size_t at = 0; (at = text.find(words, at)) != std::string::npos; at += words.size()) ++n;
    return n;
}

TEST(BriefData, CommaSeparatedRowsHoldTheContent) {
    const auto rows = rows_of(brief_csv(brief()));
    ASSERT_GT(rows.size(), 10U);
    for (const auto& row : rows) EXPECT_EQ(row.size(), rows.front().size());
    const Reading& table = brief().setups[0].sheet().readings.at(0);
    int met = 0, window = 0;
    for (const auto& row : rows) {
        if (row[1] == "as found" && row[2] == "reading" && row[3] == "table") {
            ++met;
            EXPECT_NEAR(std::stod(row[4]), table.lux.value, 1e-3);
            EXPECT_NEAR(std::stod(row[6]), table.lux.error, 1e-3);
        }
        if (row[3] == "glass of the window, large") ++window;
    }
    EXPECT_EQ(met, 1);
    EXPECT_EQ(window, 1) << "a comma in a name stays in its cell";
}

TEST(BriefData, JsonHoldsTheContentAndKnowsItsOwnFiles) {
    const std::string text = brief_json(brief(), {"brief.json", "brief.html"});
    const JsonValue j = JsonValue::parse(text);
    EXPECT_EQ(j["title"], brief().title);
    const JsonValue& setup = j["setups"][0];
    EXPECT_EQ(setup["options"].size(), brief().setups[0].options.size());
    EXPECT_DOUBLE_EQ(setup["options"][1]["readings"][0]["lux"].get<double>(),
                     brief().setups[0].options[1].sheet.readings[0].lux.value);
    EXPECT_EQ(setup["lamps"][0]["gel"], "half orange + nd 0.3");
    EXPECT_DOUBLE_EQ(setup["circuits"][0]["watts"].get<double>(), 375);
    EXPECT_EQ(setup["not_on_a_circuit"], JsonValue::array({"ball"}));
    EXPECT_EQ(setup["plugged_in_nowhere"], setup["not_on_a_circuit"]) << "its earlier name, for one version";
    EXPECT_EQ(j["to_measure"].size(), brief().to_measure.size());
    EXPECT_EQ(files_of_brief(text), (std::vector<std::string>{"brief.json", "brief.html"}));
    EXPECT_TRUE(files_of_brief("{\"files\": [\"notes.txt\"]}").empty());
    EXPECT_TRUE(files_of_brief("not JSON").empty());
}

TEST(BriefPage, FetchesNothing) {
    const BriefPage page = brief_page(brief(), {});
    const std::string& html = page.html;
    // Base64 letters hold no colon, so an address that begins with http can hide nowhere.
    EXPECT_EQ(html.find("http://"), std::string::npos);
    EXPECT_EQ(html.find("https://"), std::string::npos);
    for (const char* fetching : {"@import", "<link", "<iframe", "<object", "<embed", "url(", "fetch(", "XMLHttpRequest",
                                 "import(", "WebSocket", "srcset"})
        EXPECT_EQ(html.find(fetching), std::string::npos) << fetching;
    std::size_t pictures = 0;
    for (std::size_t at = 0; (at = html.find(" src=\"", at)) != std::string::npos; at += 6, ++pictures)
        EXPECT_EQ(html.compare(at + 6, 11, "data:image/"), 0) << html.substr(at, 60);
    for (std::size_t at = 0; (at = html.find(" href=\"", at)) != std::string::npos; at += 7)
        EXPECT_EQ(html[at + 7], '#');
    EXPECT_GE(pictures, 5U);
    EXPECT_EQ(count_of(html, " alt=\"\""), 0U) << "a picture without words";
    EXPECT_EQ(count_of(html, " alt=\""), pictures);
    // Two scripts of ours and no more: the title's own "</script>" is words.
    EXPECT_EQ(count_of(html, "</script>"), 2U);
    EXPECT_EQ(count_of(html, "<section"), count_of(html, "</section>"));
    EXPECT_EQ(count_of(html, "<table"), count_of(html, "</table>"));
    EXPECT_EQ(page.fader_width, 320);
    EXPECT_GT(page.layer_bytes, 10'000U);
}

/// A lamp called like the beginning of a comment or a script took all that follows with it, faders too.
TEST(BriefPage, NoNameReachesOutOfTheData) {
    const std::string name = "<!--<script>";
    Brief b = brief();
    for (BriefOption& o : b.setups[0].options)
        for (std::string* source : {&o.frame.sources.at(0), &o.sheet.sources.at(0)}) *source = name;
    const std::string html = brief_page(b, {}).html;
    const std::size_t from = html.find('{', html.find("id=\"faders1\""));
    const std::string data = html.substr(from, html.find("</script>", from) - from);
    EXPECT_EQ(data.find('<'), std::string::npos);
    EXPECT_EQ(JsonValue::parse(data)["sources"][0]["name"], name);
    EXPECT_EQ(count_of(html, "<!--"), 0U);
    EXPECT_EQ(count_of(html, "<script"), 2U);
    EXPECT_EQ(count_of(html, "</script>"), 2U);
}

TEST(BriefData, NoRowHoldsAFormula) {
    Brief b = brief();
    ASSERT_FALSE(b.setups[0].kit.circuits.empty());
    b.setups[0].kit.circuits[0].circuit.name = "=HYPERLINK(\"http://example.org\")";
    b.setups[0].options[0].sheet.readings.at(0).name = "@SUM(1)";
    int harmless = 0;
    for (const auto& row : rows_of(brief_csv(b)))
        for (const std::string& cell : row) {
            EXPECT_TRUE(cell.empty() || std::string("=@\t\r").find(cell[0]) == std::string::npos) << cell;
            harmless += cell.rfind("'=", 0) == 0 || cell.rfind("'@", 0) == 0 ? 1 : 0;
        }
    EXPECT_GE(harmless, 2);
}

TEST(BriefPage, FadersKnowHowFarALampGoes) {
    const std::string html = brief_page(brief(), {}).html;
    const std::size_t from = html.find('{', html.find("id=\"faders1\""));
    const JsonValue j = JsonValue::parse(html.substr(from, html.find("</script>", from) - from));
    double most = -1;
    for (const JsonValue& s : j["sources"])
        if (s["name"] == "ball") most = s["most"].get<double>();
    EXPECT_DOUBLE_EQ(most, 2) << "25 % is two stops under full";
    // Lux a source under each option, which a fader scales.
    const Reading& r = brief().setups[0].sheet().readings.at(0);
    double sum = 0;
    for (const auto& [name, lux] : j["options"][0]["readings"][0]["by_source"].items()) sum += lux.get<double>();
    EXPECT_NEAR(sum, r.lux.value, 1e-6 * r.lux.value);
}

TEST(BriefPage, DepartmentsGetTheirOwnParts) {
    const auto headings = [](BriefFor whom) {
        std::string all;
        BriefLook look;
        look.whom = whom;
        for (const BriefBlock& b : brief_document(brief(), look).blocks)
            if (b.kind == BriefBlock::Kind::heading || b.kind == BriefBlock::Kind::section) all += b.text + "\n";
        return all;
    };
    const std::string all = headings(BriefFor::all), director = headings(BriefFor::director),
                      lighting = headings(BriefFor::lighting), art = headings(BriefFor::art);
    for (const char* part : {"Power", "Readings", "On arrival", "The place", "options side by side"})
        EXPECT_NE(all.find(part), std::string::npos) << part;
    EXPECT_EQ(director.find("Power"), std::string::npos);
    EXPECT_EQ(director.find("On arrival"), std::string::npos);
    EXPECT_NE(director.find("options side by side"), std::string::npos);
    EXPECT_NE(lighting.find("Power"), std::string::npos);
    EXPECT_EQ(lighting.find("The place"), std::string::npos);
    EXPECT_NE(art.find("The place"), std::string::npos);
    for (const std::string& whose : {all, director, lighting, art})
        EXPECT_NE(whose.find("Cautions"), std::string::npos) << "everybody is warned";
}

/// All words of a document, in the order in which they are read.
std::string words_of(BriefFor whom, const Brief& b) {
    BriefLook look;
    look.whom = whom;
    std::string all;
    for (const BriefBlock& block : brief_document(b, look).blocks) {
        all += block.text + "\n";
        for (const std::string& item : block.items) all += item + "\n";
        for (const auto& row : block.table.rows)
            for (const std::string& cell : row) all += cell + "\n";
        for (const BriefFigure& f : block.figures) all += f.caption + "\n";
    }
    return all;
}

TEST(BriefPages, TheDirectorReadsNothingOfHowTheNumbersWereComeBy) {
    Brief b = brief();
    b.remarks.emplace_back("From layers kept of an earlier run; --fresh traces again.");
    b.setups[0].options[0].sheet.remarks.emplace_back("Stopped at your request after 3 s; seed 4.");
    for (const BriefFor whom : {BriefFor::director, BriefFor::all}) {
        const std::string words = words_of(whom, b);
        for (const char* word : {"layers", "--fresh", "seed", "cache"})
            EXPECT_EQ(words.find(word), std::string::npos) << word;
    }
}

TEST(BriefPages, TheSetupPageHasWhatIsPinnedUp) {
    const std::string words = words_of(BriefFor::lighting, brief());
    // The key stands at [1, 3, 2] in a room of 5 by 4 m.
    EXPECT_NE(words.find("left 1.00 m, far 1.00 m"), std::string::npos) << words;
    EXPECT_NE(words.find("2.00 m"), std::string::npos) << "its height";
    EXPECT_NE(words.find("half orange + nd 0.3"), std::string::npos) << "its gel";
    EXPECT_NE(words.find("25 % (−2.0 stops)"), std::string::npos) << "a level";
    EXPECT_NE(words.find("without the board — white: away"), std::string::npos) << "what the option does";
}

/// A second set-up of the same room, with a lamp moved, one dimmed, one taken away and a board put in.
TEST(BriefPages, WhatMovesIsSaidThingByThing) {
    Brief b = brief();
    b.setups.push_back(b.setups.front());
    auto& next = b.setups.back().options.front().setup;
    next.name = "2";
    next.rig.lamps.at(0).at = {2, 3, 2};
    next.rig.lamps.at(1).level = 0.5;
    next.rig.panels.clear();
    Panel black;
    black.name = "neg";
    black.kind = PanelKind::flag;
    black.at = {4, 1, 1};
    black.width = black.height = 1.2;
    black.finish.name = "black cloth";
    next.rig.panels.push_back(black);
    const std::string words = words_of(BriefFor::lighting, b);
    const std::size_t from = words.find("What moves between set-ups");
    ASSERT_NE(from, std::string::npos);
    const std::string moves = words.substr(from, words.find("In the order of page 1", from) - from);
    EXPECT_NE(moves.find("key\nto left 2.00 m, far 1.00 m, 2.00 m high"), std::string::npos) << moves;
    EXPECT_NE(moves.find("ball\n50 % (−1.0 stops)"), std::string::npos) << moves;
    EXPECT_NE(moves.find("white\naway"), std::string::npos) << moves;
    EXPECT_NE(moves.find("neg\nin: 1.2 × 1.2 m black cloth, right 1.00 m, near 1.00 m, 1.00 m high"), std::string::npos)
        << moves;
    EXPECT_EQ(moves.find("camera"), std::string::npos) << "it stays: " << moves;
}

TEST(BriefPages, OneNumberHasOneValue) {
    // Whatever a page says of the meter on the table, it is the sheet's.
    const Reading& table = brief().setups[0].sheet().readings.at(0);
    const std::string words = words_of(BriefFor::all, brief());
    char said[64];
    std::snprintf(said, sizeof said, "T%.1f  %.0f lx", table.t_stop, table.lux.value);
    std::size_t times = 0;
    for (std::size_t at = 0; (at = words.find(said, at)) != std::string::npos; ++at) ++times;
    EXPECT_EQ(times, 2U) << "on the set-up's page and beside its options: " << said;
}

// 1 ft = 0.3048 m and 1 lb = 0.45359237 kg exactly (international yard and pound, 1959).
TEST(BriefUnits, FeetAndFootcandles) {
    EXPECT_EQ(length_text(1.8288, BriefUnits::imperial), "6′");
    EXPECT_EQ(length_text(1.88, BriefUnits::imperial), "6′ 2″");
    EXPECT_EQ(length_text(0.1, BriefUnits::imperial), "4″");
    EXPECT_EQ(length_text(1.88, BriefUnits::metric), "1.88 m");
    EXPECT_EQ(size_text(1.2, 2.4, BriefUnits::metric), "1.2 × 2.4 m");
    EXPECT_EQ(light_text(1076.3910416709722, BriefUnits::imperial), "100 fc");
    EXPECT_EQ(light_text(850, 8.6, BriefUnits::metric), "850 ± 9 lx");
    EXPECT_EQ(light_text(0, BriefUnits::imperial), "no light");
}

TEST(BriefPages, HaveThePagesTheySayAndTheSameBytesAgain) {
    const BriefPages a4 = brief_pages(brief(), {}, a4_page);
    EXPECT_EQ(a4.pdf.rfind("%PDF-", 0), 0U);
    const std::regex page_object("/Type\\s*/Page[^s]");
    const auto pages =
        std::distance(std::sregex_iterator(a4.pdf.begin(), a4.pdf.end(), page_object), std::sregex_iterator());
    EXPECT_EQ(pages, a4.pages);
    EXPECT_GE(a4.pages, 4);
    // A4 is 210 x 297 mm (ISO 216) = 595.28 x 841.89 pt.
    EXPECT_NE(a4.pdf.find("595.27"), std::string::npos);
    EXPECT_EQ(brief_pages(brief(), {}, a4_page).pdf, a4.pdf);
    EXPECT_NE(brief_pages(brief(), {}, letter_page).pdf.find("612"), std::string::npos);
}

/// The light that a page mixes from a layer: scale times the cube of its share of 255.
TEST(BriefFrames, LayersSumToTheFrame) {
    const BriefFrame& f = brief().setups[0].options[0].frame;
    ASSERT_TRUE(f.there());
    const FaderFrame small = fader_frame(f, f.width);
    ASSERT_EQ(small.width, f.width);
    ASSERT_EQ(small.layers.size(), 3U) << "key, ball, sky";
    const Scratch scratch;
    const std::size_t pixels = static_cast<std::size_t>(f.width) * static_cast<std::size_t>(f.height);
    std::vector<double> sum(3 * pixels, 0.0), step(3 * pixels, 0.0);
    for (const FaderLayer& l : small.layers) {
        write_file(scratch / "layer.png", l.png);
        const auto in = OIIO::ImageInput::open((scratch / "layer.png").string());
        ASSERT_TRUE(in);
        std::vector<std::uint8_t> bytes(3 * pixels);
        ASSERT_TRUE(in->read_image(0, 0, 0, 3, OIIO::TypeDesc::UINT8, bytes.data()));
        for (std::size_t i = 0; i < bytes.size(); ++i) {
            const double share = bytes[i] / 255.0;
            sum[i] += l.scale * share * share * share;
            step[i] += l.scale * (3 * share * share + 0.02 * share) / 255 + 1e-6;  // a step up or down
        }
    }
    const WhiteBalance balanced{Kelvin{f.camera.white_balance}, f.camera.tint};
    const double to_grey = grey_reflectance / grey_luminance(f.camera.exposure).value;
    for (std::size_t p = 0; p < pixels; ++p) {
        Tristimulus t;
        for (const auto& layer : f.layers)
            t.x += static_cast<double>(layer[p].x), t.y += static_cast<double>(layer[p].y),
                t.z += static_cast<double>(layer[p].z);
        const LinearRgb c = balanced(t);
        ASSERT_NEAR(sum[3 * p + 1], static_cast<double>(c.g) * to_grey, 1.01 * step[3 * p + 1]) << p;
    }
}

}  // namespace
}  // namespace rushlight::testing_pictures
