// A brief as headings, sentences, tables and figures in the order in which they are read; a page for the screen and
// pages for paper show the same ones.
#pragma once

#include "pictures/words/brief_units.h"
#include "results/brief/brief.h"
#include "results/compare/comparison.h"

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
    bool dense = false;  // in smaller letters: of a page that holds much
};

struct BriefBlock {
    enum class Kind { section, heading, text, small, caution, list, table, figures, beside, faders } kind = Kind::text;
    bool new_page = false;             // section: on paper it begins a page
    bool fills = false;                // figures: as large as what follows on their page leaves room for
    std::string text;                  // section, heading, text, small, caution
    std::vector<std::string> items;    // list
    BriefTable table;                  // table; beside: to the right of the figure
    std::vector<BriefFigure> figures;  // side by side, `across` of them in a row; beside: one
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

/// The parts; each adds its blocks, or none where there is nothing to say.
namespace brief_parts {
using Blocks = std::vector<BriefBlock>;
/// Frames of all set-ups with what they were judged by, and the order to shoot in; nothing for one set-up alone.
void add_cover(Blocks& to, const Brief& brief);
/// What would not cut together in that order, and whether the two sides of a conversation match.
void add_cutting(Blocks& to, const Brief& brief);
/// The page of a set-up that is pinned up: frame, key numbers, targets, lamps and shapers, plan.
void add_setup_page(Blocks& to, const Brief& brief, std::size_t setup, const BriefLook& look);
/// What is carried, dimmed and taken away from one set-up to the next, in the order of shooting.
void add_moves(Blocks& to, const Brief& brief, const BriefLook& look);
void add_options(Blocks& to, const Brief& brief, std::size_t setup, const BriefLook& look);
void add_readings(Blocks& to, const BriefSetup& setup, const BriefLook& look);
void add_maps(Blocks& to, const Brief& brief);
void add_place(Blocks& to, const BriefSetup& setup, const BriefLook& look);
void add_power(Blocks& to, const Brief& brief);
void add_day(Blocks& to, const BriefSetup& setup, const BriefLook& look);

BriefBlock begin_section(const std::string& words, bool new_page = false);
BriefBlock heading(const std::string& words);
BriefBlock text(const std::string& words);
BriefBlock small(const std::string& words);
BriefBlock list(std::vector<std::string> items);
BriefBlock table(std::vector<BriefTable::Column> columns, bool dense = false);
bool is_for(BriefFor whom, std::initializer_list<BriefFor> these);
/// A number as people say it, in the units asked for.
std::string said_in(const MainNumber& number, BriefUnits units);
/// "14 October 2026, 10:40, clear".
std::string day_words(const Setup& setup);
/// What a set-up is called on paper, with its option where that is not the rig as found.
std::string name_of(const Setup& setup);
}  // namespace brief_parts

}  // namespace rushlight
