#include "results/balance/balance.h"

#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "command/run.h"
#include "pictures/files/write_file.h"
#include "pictures/tables/balance_lines.h"
#include "pictures/tables/balance_text.h"
#include "results/readings/readings.h"
#include "setup/text/file_text.h"
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
    std::string output, append;
    std::vector<std::string> place;
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

/// The text of the file with the option at its end, read again before anything is written.
std::string with_option(const BalanceOptions& o, const Setup& setup, const std::string& lines) {
    std::string text = text_of_file(o.file.file);
    if (!text.empty() && text.back() != '\n') text += "\n";
    text += "\n" + lines;
    SetupFile::from_text(text, o.file.file, until_interrupted()).setup(setup.name, o.append);
    return text;
}

/// Names what cannot be appended, before anything is traced.
void expect_to_append(const BalanceOptions& o, const SetupFile& file, const Setup& setup) {
    if (o.append.empty()) return;
    if (setup.option != as_found_name)
        throw InputError(
            "--append adds an option to the set-up as found; without it the lines are printed, to be put "
            "into option " +
            in_quotes(setup.option) + " by hand");
    const std::vector<std::string> taken = file.option_names(setup.name);
    if (std::count(taken.begin(), taken.end(), o.append) > 0)
        throw InputError("set-up " + in_quotes(setup.name) + " has an option " + in_quotes(o.append) +
                         " already; expected another name after --append");
    expect_writable(o.file.file);
}

void place(const BalanceOptions& o, const SetupFile& file, const Setup& chosen) {
    const std::string& mark = o.place.back();
    const std::string job = tidy(o.place.front());
    const std::vector<std::string> jobs{"key", "hair", "eye"};
    if (std::find(jobs.begin(), jobs.end(), job) == jobs.end())
        throw InputError("--place " + in_quotes(o.place.front()) + ": expected key, hair or eye, then a mark" +
                         hint(o.place.front(), jobs));
    std::vector<std::string> names;
    for (const Mark& m : chosen.rig.marks) names.push_back(m.name);
    const auto at =
        std::find_if(names.begin(), names.end(), [&](const std::string& n) { return tidy(n) == tidy(mark); });
    if (at == names.end())
        throw InputError("no mark " + in_quotes(mark) + " in set-up " + in_quotes(chosen.name) + hint(mark, names));
    const auto number = static_cast<std::size_t>(at - names.begin());
    const Effort effort = o.effort.effort(0.02, 0, "balance");
    tell_remarks(file.remarks());
    const LayerCache cache = LayerCache::of_this_person(team());
    Setup setup = as_measured(chosen, effort);
    if (job == "eye") return hand_over(text(eye_light_for(setup, number, file.kit(), effort, cache)), o.output);
    const bool hair = job == "hair";
    const std::string reading = *at + (hair ? " hair" : " key cheek");
    const auto asked = [&](const Target& t) { return tidy(t.reading) == tidy(reading); };
    auto target = std::find_if(setup.targets.begin(), setup.targets.end(), asked);
    if (target == setup.targets.end()) {
        Target usual;
        usual.reading = reading;
        usual.text = hair ? "1 over" : "0 over grey";
        usual.want = *want_from(usual.text);
        target = setup.targets.insert(target, usual);
    }
    setup.targets = {Target(*target)};
    const LampLack lack{hair ? LampJob::hair : LampJob::key, number};
    hand_over(text(lamp_for_target(setup, lack, 0, file.kit(), sheets_to_match(file, setup, effort), effort, cache)),
              o.output);
}

void run(const BalanceOptions& o) {
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    if (!o.place.empty()) return place(o, file, with(o.light.what_if, o.file.choose(file)));
    const Setup in_file = o.file.choose(file);
    Setup setup = with(o.light.what_if, in_file);
    if (setup.targets.empty())
        throw InputError(o.file.file + ": no target for set-up " + in_quotes(setup.name) +
                         ": write for each [[target]], reading = \"" +
                         (setup.rig.marks.empty() ? "A" : setup.rig.marks.front().name) +
                         " key cheek\", want = \"T4\"");
    // What is there, what is found, and its proof.
    const Effort effort = part_of(o.effort.effort(0.01, 0, "balance"), 2, 3);
    if (!o.output.empty()) expect_output(o.output);
    expect_to_append(o, file, in_file);
    tell_remarks(file.remarks());
    setup = as_measured(setup, effort);
    const Balance found =
        balance(setup, sheets_to_match(file, setup, effort), effort, LayerCache::of_this_person(team()), &file.kit());
    const std::string name = o.append.empty() ? "balanced" : o.append;
    const std::string lines = option_lines(in_file, found, name, file.setup_names().size() > 1);
    if (!o.append.empty() && !lines.empty()) write_file(o.file.file, with_option(o, in_file, lines));
    hand_over(o.json ? json(found, lines) : text(found, lines), o.output);
    if (!o.append.empty() && !o.json)
        tell_remarks({lines.empty() ? "Nothing has to change: nothing was added to the file."
                                    : "Added to the file as option " + in_quotes(o.append) + "."});
}

}  // namespace

void add_balance(CLI::App& app) {
    auto o = std::make_shared<BalanceOptions>();
    CLI::App* c = app.add_subcommand("balance", "which levels, gels and stop hit my targets?");
    c->footer(
        "Write targets into the set-up file the way you would say them on set:\n\n"
        "  [[target]]\n"
        "  reading = \"A key cheek\"\n"
        "  want = \"T4\"             # or \"4:1\" for \"A cheeks\", \"1 over\" for \"A hair\", \"at most 3 over\" for "
        "\"window\"\n\n"
        "and what may change in [balance]. It solves for lamp levels, gels, ND on all windows and the stop, with "
        "levels\n"
        "between 1 % and full. You get the smallest change that reaches all targets, or what stands in the way; the "
        "answer\n"
        "is checked by setting all of it and tracing again. Things named in [[balance.move]] may move if levels alone "
        "are not\n"
        "enough; circuits stay within 80 % of their breakers; targets that are met stay met. If no lamp of the set-up\n"
        "can do it, you are told which lamp of the kit would, and where to put it. It prints the lines of an option "
        "that\n"
        "holds all of this, and --append adds them to the file.\n\n"
        "  rushlight balance scenes/kitchen-night.toml --setup \"2 cook\"");
    o->file.add_to(*c);
    o->light.add_levels_to(*c, ", and begin there");
    c->add_option("--append", o->append, "add what was found to the file, as an option of this name");
    c->add_option("--place", o->place, "where would a key, hair or eye light from the kit go, for a mark?")
        ->expected(2)
        ->type_name("key|hair|eye MARK");
    o->effort.add_to(*c, "how accurate every number of a target must be (default: 1%)");
    c->add_flag("--json", o->json, "JSON instead of the listing");
    c->add_option("-o,--output", o->output, "write to this file instead of the screen");
    c->callback([o] { run(*o); });
}

}  // namespace rushlight::command
