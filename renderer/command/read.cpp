#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "pictures/tables/against_meter_table.h"
#include "pictures/tables/doubt_text.h"
#include "pictures/tables/json.h"
#include "pictures/tables/match_table.h"
#include "pictures/tables/overview_table.h"
#include "pictures/tables/table.h"
#include "results/readings/readings.h"
#include "setup/advice/conversation.h"
#include "setup/text/words.h"

#include <cstdio>

#include <unistd.h>

namespace rushlight::command {

namespace {

struct ReadOptions {
    FileOptions file;
    EffortOptions effort;
    LightOptions light;
    std::string against, output, measured_table;
    std::vector<std::string> match;
    bool json = false, csv = false, all = false, doubt = false;
};

/// The light meters' first numbers on a terminal, written over by better ones until the table takes their place.
class FirstNumbers {
public:
    explicit FirstNumbers(const std::vector<NamedMeter>& meters) {
        constexpr std::size_t most = 16;  // lines: a low window still holds them
        for (const NamedMeter& m : meters)
            if (names_.size() < most) names_.push_back(m.name);
    }
    void show(const MeterResults& results) {
        if (results.batches() == 0) return;
        if (shown_) std::printf("\033[%zuA", names_.size());
        for (std::size_t m = 0; m < names_.size(); ++m) {
            const Measured lux = results.all(m);
            std::printf("\r\033[K%s  %.3g lx", names_[m].c_str(), lux.value);
            if (const double share = lux.relative_error(); share < 0.5)
                std::printf("  \u00b1 %.2g %%", 100 * share);
            else if (lux.value > 0)
                std::printf("  too little traced yet");
            std::printf("\n");
        }
        shown_ = true;
        std::fflush(stdout);
    }
    void make_way() const {
        if (shown_) std::printf("\033[%zuA\r\033[J", names_.size());
    }

private:
    std::vector<std::string> names_;
    bool shown_ = false;
};

Sheet sheet_of(const Setup& setup, const Effort& effort, const LightOptions& light, bool on_a_terminal) {
    Lit l = lit(as_measured(setup, effort), light);
    if (!on_a_terminal) {
        Sheet sheet = take_readings(l.setup, l.scene, paced(effort), l.light);
        add_advice(l.light, sheet.remarks);
        return sheet;
    }
    FirstNumbers first(meters_of(l.setup, l.scene));
    Effort showing = paced(effort);
    showing.show = [&](const MeterResults& results) { first.show(results); };
    Sheet sheet = take_readings(l.setup, l.scene, showing, l.light);
    first.make_way();
    add_advice(l.light, sheet.remarks);
    return sheet;
}

/// A set-up with one of its options.
struct Chosen {
    std::string setup, option;
};

/// Throws InputError where a name that was asked for is not there: before anything is traced.
std::vector<Chosen> chosen_from(const SetupFile& file, const ReadOptions& o) {
    std::vector<Chosen> chosen;
    for (const std::string& name : o.match) {
        const std::string option = o.file.option.empty() ? as_found_name : o.file.option;
        file.setup(name, option);
        chosen.push_back({name, option});
    }
    if (!chosen.empty()) return chosen;
    for (const std::string& name : file.setup_names())
        for (const std::string& option : file.option_names(name))
            if (o.all && (o.file.setup.empty() || o.file.setup == name) &&
                (o.file.option.empty() || o.file.option == option))
                chosen.push_back({name, option});
    if (chosen.empty()) {
        const Setup one = o.file.choose(file);
        chosen.push_back({one.name, one.option});
    }
    if (!o.against.empty()) file.setup(chosen.front().setup, o.against);
    return chosen;
}

/// The table, whose names are readings of this set-up: that is told before anything is traced.
MeteredTable metered_from(const SetupFile& file, const Chosen& chosen, const ReadOptions& o) {
    MeteredTable table = read_metered_table(o.measured_table);
    const Setup setup = file.setup(chosen.setup, chosen.option);
    std::vector<std::string> names;
    for (const NamedMeter& m : meters_of(setup, build_scene(setup))) names.push_back(m.name);
    expect_readings(table, names);
    return table;
}

std::vector<Setup> setups_of(const SetupFile& file, const std::vector<Chosen>& chosen) {
    std::vector<Setup> setups;
    for (const Chosen& c : chosen) setups.push_back(file.setup(c.setup, c.option));
    return setups;
}

std::vector<Match> matches_among(const std::vector<Sheet>& sheets) {
    std::vector<Match> matches;
    for (std::size_t i = 0; i < sheets.size(); ++i)
        for (std::size_t j = i + 1; j < sheets.size(); ++j) {
            const Sheet &a = sheets[i], &b = sheets[j];
            if (a.option == b.option && are_two_sides(a, b)) matches.push_back(match_of(a, b));
        }
    return matches;
}

void read(const ReadOptions& o) {
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    const std::vector<Chosen> chosen = chosen_from(file, o);
    Effort effort = o.effort.effort(o.all && o.file.setup.empty() ? 0.02 : 0.01, 0, "reading");
    const MeteredTable metered = o.measured_table.empty() ? MeteredTable{} : metered_from(file, chosen.front(), o);
    if (!o.output.empty()) expect_output(o.output);
    tell_remarks(file.remarks());
    if (o.doubt) {
        const Setup found = as_measured(file.setup(chosen.front().setup, chosen.front().option), effort);
        return hand_over(text(doubts(with(o.light.what_if, found), effort)), o.output);
    }
    const bool on_a_terminal = isatty(STDOUT_FILENO) != 0 && o.output.empty() && !o.json && !o.csv;
    effort.reached = &something_reached();
    std::vector<Sheet> sheets;
    const std::size_t count = chosen.size() + (o.against.empty() ? 0 : 1);
    for (const Chosen& c : chosen)
        if (sheets.empty() || !interrupted())
            sheets.push_back(
                sheet_of(file.setup(c.setup, c.option), part_of(effort, sheets.size(), count), o.light, on_a_terminal));
    if (!o.against.empty()) {
        Sheet& now = sheets.front();
        now.changes =
            changes(sheet_of(file.setup(now.setup, o.against), part_of(effort, 1, 2), o.light, on_a_terminal), now);
        now.against = o.against;
    }
    if (sheets.size() > 1) tell_remarks(crossed_line_remarks(setups_of(file, chosen)));
    std::string text;
    const bool on_one_page = o.all && o.file.setup.empty() && !o.json && !o.csv;
    if (on_one_page) {
        text = overview(sheets, matches_among(sheets)) +
               "\n  All readings of one: --setup NAME. What lights a cheek: rushlight origins. What to measure again: "
               "--doubt.\n  How long the daylight holds: rushlight day.\n";
        std::vector<std::string> remarks;
        for (const Sheet& s : sheets) remarks.insert(remarks.end(), s.remarks.begin(), s.remarks.end());
        tell_remarks(remarks);
    }
    for (const Sheet& s : sheets) {
        if (on_one_page) break;
        if (o.csv) tell_remarks(s.remarks);  // its rows have no place for sentences
        if (!text.empty()) text += o.json ? ",\n" : "\n";
        text += o.json ? json(s) : o.csv ? comma_separated(s) : table(s);
    }
    if (o.match.size() == 2 && sheets.size() == 2) {
        const Match match = match_of(sheets[0], sheets[1]);
        text += (o.json ? ",\n" : "\n") + (o.json ? json(match) : table(match));
    } else if (o.all && !on_one_page && !o.json && !o.csv) {
        for (const Match& m : matches_among(sheets)) text += "\n" + table(m);
    }
    if (!o.measured_table.empty()) {
        AgainstMeter against = against_meter(sheets.front(), metered);
        if (against.off_unevenly) against.remarks.emplace_back("read with --doubt to see what to measure again");
        text += "\n" + table(against);
    }
    hand_over(o.json && (o.all || !o.match.empty()) ? "[\n" + text + "]\n" : text, o.output);
}

}  // namespace

void add_read(CLI::App& app) {
    auto o = std::make_shared<ReadOptions>();
    CLI::App* c = app.add_subcommand("read", "what would the meter say? Ratios, separation and the error of each");
    c->footer(
        "Every face gets four meters of its own: flat on the near cheek (towards the lens), flat on the\n"
        "far cheek, flat at the front, and a dome held towards the lens. Meters placed by hand are read too.\n"
        "Each reading is illuminance in lux with its standard error (a difference under three errors is\n"
        "noise), the T-stop an incident meter would show at this camera's ISO and shutter\n"
        "(flat receptor, C = 250), and the share of each source.\n"
        "Cheeks: brighter over darker. Separation is hair over what lies behind it in the frame, along the\n"
        "outline, in stops: under half a stop they merge, one stop reads, one and a half is safe (common practice).\n\n"
        "  rushlight read scenes/workshop.toml --setup \"4 close A\"\n"
        "  rushlight read scenes/workshop.toml --option \"black on the room side\" --against \"as found\"\n"
        "For each person in shot a spot meter at the lens reads both cheeks, hair edge, wardrobe and what\n"
        "is beside the head; key to fill is given as (K+F):F, K:F and reflected; then skin over grey, eye lights,\n"
        "windows against the headroom, and direct light on the lens (docs/readings.md).\n\n"
        "  rushlight read scenes/workshop.toml --match \"2 over shoulder to A\" \"3 over shoulder to B\"\n"
        "  rushlight read scenes/workshop.toml --all                          # one page: a row a set-up\n"
        "  rushlight read scenes/workshop.toml --all --json -o readings.json");
    o->file.add_to(*c);
    o->effort.add_to(*c, "stop when every reading is this accurate (default: 1%; with --all 2%)");
    o->light.add_to(*c);
    c->add_option("--against", o->against, "also read this option, and say what changed in stops");
    c->add_flag("--all", o->all,
                "every set-up with every option, a row each; with --setup: all readings of that one, option by option")
        ->excludes(c->get_option("--against"));
    c->add_option("--match", o->match, "two set-ups: do the two sides of the conversation cut together?")
        ->expected(2)
        ->excludes(c->get_option("--against"))
        ->excludes(c->get_option("--all"))
        ->excludes(c->get_option("--setup"));
    auto* doubt = c->add_flag("--doubt", o->doubt,
                              "which rough input (walls, windows, places) moves the readings most, if it is off by its "
                              "usual error");
    doubt->excludes(c->get_option("--all"))->excludes(c->get_option("--against"))->excludes(c->get_option("--match"));
    auto* json = c->add_flag("--json", o->json, "JSON: one object; with --all a list of them");
    c->add_flag("--csv", o->csv, "comma-separated values")
        ->excludes(json)
        ->excludes(doubt)
        ->excludes(c->get_option("--match"));
    json->excludes(doubt);
    auto* metered = c->add_option("--measured-table", o->measured_table,
                                  "compare the readings with a table of yours (CSV, columns what, lux, kelvin)");
    for (const char* other : {"--all", "--match", "--doubt", "--json", "--csv"})
        metered->excludes(c->get_option(other));
    c->add_option("-o,--output", o->output, "write to this file instead of the screen");
    c->callback([o] { read(*o); });
}

}  // namespace rushlight::command
