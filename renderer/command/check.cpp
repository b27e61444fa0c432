#include "setup/advice/check.h"
#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "results/balance/names.h"
#include "results/sheet/within_somebody.h"
#include "scene/scene.h"
#include "setup/advice/conversation.h"
#include "setup/advice/kit_use.h"
#include "setup/keys/key_table.h"
#include "setup/read/luminaires.h"
#include "setup/text/where.h"

#include <algorithm>
#include <cstdio>

namespace rushlight::command {

namespace {

struct CheckOptions {
    FileOptions file;
    bool words = false, catalogue = false;
};

void print_contents(Setup setup) {
    const auto counted = [](std::size_t n, const char* one, const char* many) {
        return n == 1 ? "1 " + std::string(one) : (n == 0 ? "no" : std::to_string(n)) + " " + many;
    };
    say("    %s, %s, %s\n", counted(setup.rig.marks.size(), "mark", "marks").c_str(),
        counted(setup.rig.meters.size(), "placed meter", "placed meters").c_str(),
        counted(setup.rig.panels.size(), "shaper", "shapers").c_str());
    setup.rig.marks.clear();  // people give no light, and take the longest to build
    const Scene scene = build_scene(setup);
    say("    sources:");
    if (scene.lights.count() == 0) say(" none");
    const auto& lamps = setup.rig.lamps;
    for (const std::string& s : scene.lights.sources()) {
        const bool off = std::any_of(lamps.begin(), lamps.end(),
                                     [&](const Lamp& l) { return l.name == s && (!l.on || l.level <= 0); });
        say("  %s%s", s.c_str(), off ? " (off)" : "");
    }
    say("\n");
    for (const Lamp& lamp : lamps)
        if (lamp.luminaire) say("    %s: %s\n", lamp.name.c_str(), described(lamp).c_str());
}

/// Names in targets and in [balance], over the set-ups that are looked at.
class BalanceNames {
public:
    void look_up(const Setup& setup) {
        const BalanceRules& rules = setup.balance;
        if (setup.targets.empty() && rules.moves.empty() && !rules.lamps) return;
        for (const NamedInBalance& n : named_in_balance(setup, build_scene(setup))) {
            Found& found = found_of(n.where);
            if (n.trouble.empty())
                ++found.times;
            else
                found.troubles.push_back(n.trouble);
        }
    }
    /// A name that no set-up has is a slip; one that some have is worth a word. Throws InputError with all slips.
    std::vector<std::string> remarks(bool whole_file) const {
        std::vector<std::string> all;
        std::string slips;
        for (const Found& found : found_) {
            if (found.times == 0 && whole_file && !found.troubles.empty()) {
                slips += (slips.empty() ? "" : "\n") + found.troubles.front();
                continue;
            }
            all.insert(all.end(), found.troubles.begin(), found.troubles.end());
        }
        if (!slips.empty()) throw InputError(slips);
        return all;
    }

private:
    struct Found {
        std::string where;
        int times = 0;
        std::vector<std::string> troubles;
    };
    Found& found_of(const std::string& where) {
        const auto known = std::find_if(found_.begin(), found_.end(), [&](const Found& f) { return f.where == where; });
        return known != found_.end() ? *known : found_.emplace_back(Found{where, 0, {}});
    }
    std::vector<Found> found_;  // in the order of the file
};

/// The part of the kit that it takes; nothing where the file speaks of neither kit nor draw.
void print_kit(const Setup& setup, const Kit& kit) {
    const std::vector<std::string> lines = kit_lines(kit_list(setup, kit), kit);
    if (lines.empty()) return;
    say("    kit:\n");
    for (const std::string& line : lines) say("      %s\n", line.c_str());
}

void check(const CheckOptions& o) {
    if (o.catalogue) {
        hand_over(std::string(Kit::catalogue_text()));
        return;
    }
    if (o.words) {
        hand_over(key_reference());
        return;
    }
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    const std::string option = o.file.option.empty() ? as_found_name : o.file.option;
    std::vector<std::string> chosen;
    for (const std::string& name : file.setup_names()) {
        const auto options = file.option_names(name);
        if ((o.file.setup.empty() || name == o.file.setup) && std::count(options.begin(), options.end(), option) > 0)
            chosen.push_back(name);
    }
    if (chosen.empty()) o.file.choose(file);  // an unknown name is answered with the nearest one
    std::vector<Setup> setups;
    BalanceNames names;
    for (const std::string& name : chosen) {
        setups.push_back(file.setup(name, option));
        names.look_up(setups.back());
    }
    const std::vector<std::string> missing = names.remarks(o.file.setup.empty() && o.file.option.empty());
    say("%s: OK.\n", o.file.file.c_str());
    if (!file.title().empty()) say("  \"%s\"\n", file.title().c_str());

    std::vector<std::string> remarks = file.remarks();
    remarks.insert(remarks.end(), missing.begin(), missing.end());
    for (const Setup& setup : setups) {
        const std::string& name = setup.name;
        say("\n  set-up \"%s\"\n", name.c_str());
        say("    options:");
        for (const std::string& offered : file.option_names(name)) say("  %s", offered.c_str());
        say("\n");
        print_contents(setup);
        print_kit(setup, file.kit());
        for (const std::string& r : careful_remarks(setup)) remarks.push_back(r);
        for (const std::string& r : meters_within_somebody(setup)) remarks.push_back(r);
    }
    for (const std::string& r : crossed_line_remarks(setups)) remarks.push_back(r);
    say("\n");
    tell_remarks(remarks);
}

}  // namespace

void add_check(CLI::App& app) {
    auto o = std::make_shared<CheckOptions>();
    CLI::App* c = app.add_subcommand("check", "is the file OK, and what would it light?");
    c->footer(
        "Reads the whole file with every set-up and option, says which lamps are on, and points out what\n"
        "a careful assistant would ask about: a lamp in a wall, a mark outside the room, a flag through a\n"
        "table. It lists what each set-up takes of the kit, what is short, and the load on each circuit.\n"
        "Nothing is traced.\n\n"
        "Misspell a key and you get its line and column, what was expected, and the nearest valid words.");
    o->file.add_to(*c);
    c->get_option("FILE")->required(false);
    c->add_flag("--words", o->words, "print every key that a set-up file may hold, with its range and default");
    c->add_flag("--catalogue", o->catalogue, "print the catalogue of generic kit: a kit file to copy from");
    c->callback([o] {
        if (!o->words && !o->catalogue && o->file.file.empty()) throw CLI::RequiredError("FILE");
        check(*o);
    });
}

}  // namespace rushlight::command
