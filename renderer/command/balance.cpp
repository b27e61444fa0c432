#include "results/balance/balance.h"

#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "command/run.h"
#include "pictures/files/write_file.h"
#include "pictures/tables/balance_text.h"
#include "results/readings/readings.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cstdio>

namespace rushlight::command {

namespace {

struct BalanceOptions {
    FileOptions file;
    LightOptions light;
    EffortOptions effort;
    std::string output;
    bool json = false;
};

/// Sheets of the set-ups that targets want matched.
std::vector<Sheet> sheets_to_match(const SetupFile& file, const Setup& setup, const Effort& effort) {
    std::vector<Sheet> sheets;
    for (const Target& t : setup.targets) {
        if (t.want.kind != Want::Kind::match) continue;
        const auto known = [&](const Sheet& s) { return s.setup == t.want.other; };
        if (std::any_of(sheets.begin(), sheets.end(), known)) continue;
        Lit l = lit(as_measured(file.setup(t.want.other, as_found_name), effort), {});
        sheets.push_back(take_readings(l.setup, l.scene, effort, l.light));
    }
    return sheets;
}

void run(const BalanceOptions& o) {
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    Setup setup = with(o.light.what_if, o.file.choose(file));
    if (setup.targets.empty())
        throw InputError(o.file.file + ": no target for set-up " + in_quotes(setup.name) +
                         ": write for each [[target]], reading = \"" +
                         (setup.rig.marks.empty() ? "A" : setup.rig.marks.front().name) +
                         " key cheek\", want = \"T4\"");
    // What is there, what is found, and its proof.
    const Effort effort = part_of(o.effort.effort(0.01, 0, "balance"), 2, 3);
    if (!o.output.empty()) expect_output(o.output);
    tell_remarks(file.remarks());
    setup = as_measured(setup, effort);
    const Balance found =
        balance(setup, sheets_to_match(file, setup, effort), effort, LayerCache::of_this_person(team()));
    hand_over(o.json ? json(found) : text(found), o.output);
}

}  // namespace

void add_balance(CLI::App& app) {
    auto o = std::make_shared<BalanceOptions>();
    CLI::App* c = app.add_subcommand("balance", "which levels, gels and stop reach the targets that I wrote down?");
    c->footer(
        "Targets stand in the set-up file as the trade says them:\n\n"
        "  [[target]]\n"
        "  reading = \"A key cheek\"\n"
        "  want = \"T4\"             # or \"4:1\" for \"A cheeks\", \"1 over\" for \"A hair\", \"at most 3 over\" for "
        "\"window\"\n\n"
        "and what may change in [balance]. Levels of lamps, gels, ND on all windows and the stop are solved for, "
        "between\n"
        "the lowest level (1 %) and full; the smallest change that reaches all targets is told, or what stops them; "
        "and\n"
        "the answer is proved by setting all of it and tracing anew. Things named in [[balance.move]] may stand "
        "elsewhere,\n"
        "if levels alone do not do it; circuits are kept within 80 % of their breakers.\n\n"
        "  rushlight balance scenes/kitchen-night.toml --setup \"2 cook\"");
    o->file.add_to(*c);
    o->light.add_levels_to(*c, ", and begin there");
    o->effort.add_to(*c, "how accurate every number of a target must be (default: 1%)");
    c->add_flag("--json", o->json, "JSON instead of the listing");
    c->add_option("-o,--output", o->output, "write to this file instead of the screen");
    c->callback([o] { run(*o); });
}

}  // namespace rushlight::command
