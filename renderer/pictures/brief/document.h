// A brief as headings, sentences, tables and figures in the order in which they are read; a page for the screen and
// pages for paper show the same ones.
#pragma once

#include "pictures/words/brief_units.h"
#include "results/brief/brief.h"

#include <string>
#include <vector>

namespace rushlight {

enum class BriefFor { all, director, camera, lighting, art };
struct BriefForWord {
    BriefFor whom;
    const char* word;
    const char* title;  // "For the director"
};
const std::vector<BriefForWord>& brief_for_words();

struct BriefFigure {
    enum class Kind { frame, map, plan } kind = Kind::frame;
    std::size_t setup = 0, option = 0;
    bool small = false;  // a plan with names alone
    std::string caption;
    std::string words;  // what it shows, for those who cannot see it
};

struct BriefTable {
    struct Column {
        std::string head;
        bool right = false;  // numbers stand under each other
        bool fixed = false;  // letters of one width: words for a file
    };
    std::vector<Column> columns;
    std::vector<std::vector<std::string>> rows;
};

struct BriefBlock {
    enum class Kind { section, heading, text, small, caution, list, table, figures, faders } kind = Kind::text;
    bool new_page = false;           // section: on paper it begins a page
    std::string text;                // section, heading, text, small, caution
    std::vector<std::string> items;  // list
    BriefTable table;
    std::vector<BriefFigure> figures;  // side by side, `across` of them in a row
    std::size_t across = 1;
    std::size_t setup = 0;  // faders: of which set-up
};

struct BriefLook {
    BriefFor whom = BriefFor::all;
    BriefUnits units = BriefUnits::metric;
};

struct BriefDocument {
    std::string title, subtitle, whom;
    std::vector<BriefBlock> blocks;
};
BriefDocument brief_document(const Brief& brief, const BriefLook& look);

/// The parts of one set-up; each adds its blocks, or none where there is nothing to say.
namespace brief_parts {
using Blocks = std::vector<BriefBlock>;
void add_pictures(Blocks& to, const Brief& brief, std::size_t setup);
void add_targets(Blocks& to, const BriefSetup& setup);
void add_readings(Blocks& to, const BriefSetup& setup, const BriefLook& look);
void add_plan(Blocks& to, const Brief& brief, std::size_t setup, const BriefLook& look);
void add_rig(Blocks& to, const BriefSetup& setup, const BriefLook& look);
void add_place(Blocks& to, const BriefSetup& setup, const BriefLook& look);
void add_power(Blocks& to, const BriefSetup& setup);
void add_day(Blocks& to, const BriefSetup& setup);
void add_options(Blocks& to, const Brief& brief, std::size_t setup, const BriefLook& look);

BriefBlock heading(const std::string& words);
BriefBlock text(const std::string& words);
BriefBlock small(const std::string& words);
}  // namespace brief_parts

}  // namespace rushlight
