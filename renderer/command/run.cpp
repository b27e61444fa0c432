#include "command/run.h"

#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "pictures/files/write_file.h"
#include "pictures/words/printable.h"
#include "quantity/content.h"
#include "results/light/kept_shelf.h"
#include "results/light/layer_cache.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <cstdio>
#include <exception>
#include <iostream>
#include <new>
#include <optional>

namespace rushlight::command {

namespace {

Team* the_team = nullptr;
std::optional<KeptCheckpoints> the_work;

/// "unknown option or file '--widht'; did you mean '--width'?"
Ending refused(const CLI::App& app, const CLI::ParseError& error) {
    const CLI::App* chosen = &app;
    for (const CLI::App* c : app.get_subcommands()) chosen = c;
    std::vector<std::string> words;
    if (chosen == &app)
        for (const CLI::App* c : app.get_subcommands([](const CLI::App*) { return true; }))
            if (!c->get_group().empty()) words.push_back(c->get_name());
    std::string line = error.what();
    const auto left = chosen->remaining(true);
    if (!left.empty()) {
        for (const CLI::Option* o : chosen->get_options())
            for (const std::string& name : o->get_lnames()) words.push_back("--" + name);
        line = "unknown option or file " + in_quotes(left.front()) + hint(left.front(), words);
    } else if (chosen == &app) {
        line = "a command is missing" + hint("", words);
    }
    return {bad_input, "rushlight: " + line};
}

/// A team of different programs, or of different questions, would wait for each other for ever.
void expect_one_program(int argc, char** argv) {
    Content words;
    for (int i = 1; i < argc; ++i) words << argv[i];
    the_team->expect_alike(program_fingerprint(), "runs another build of the program: all machines need the same");
    the_team->expect_alike(words.fingerprint(), "was started with other words: all machines need the same");
}

Ending ending_of(CLI::App& app, int argc, char** argv) {
    try {
        if (the_team != nullptr) expect_one_program(argc, argv);
        app.parse(argc, argv);
        if (the_work && the_work->went_on())
            tell_remarks(
                {"Went on from what an earlier run of this had traced before it was ended; --fresh starts over."});
        if (interrupted()) return {ended_early, ""};
        if (the_work) the_work->forget_all();
        return {};
    } catch (const CLI::CallForHelp& e) {
        return {app.exit(e), ""};
    } catch (const CLI::CallForVersion& e) {
        return {app.exit(e), ""};
    } catch (const CLI::ParseError& e) {
        return refused(app, e);
    } catch (const InputError& e) {
        return {bad_input, e.what()};
    } catch (const Stopped& e) {
        return {ended_early, std::string("rushlight: ") + e.what()};
    } catch (const TeamError& e) {
        const bool mendable = e.cause == TeamError::Cause::different_input;
        return {mendable ? bad_input : failed, std::string("rushlight: ") + e.what()};
    } catch (const std::bad_alloc&) {
        return {failed, "rushlight: the machine has not enough memory for this"};
    } catch (const std::exception& e) {
        return {failed, std::string("rushlight: ") + e.what()};
    }
}

/// One line for each error, whatever the names in it hold: all errors of a file begin with its name and a number.
std::string line_for_each(const std::string& said) {
    const auto digit = [&](std::size_t at) { return at < said.size() && said[at] >= '0' && said[at] <= '9'; };
    std::size_t colon = said.find(':');
    while (colon != std::string::npos && !digit(colon + 1)) colon = said.find(':', colon + 1);
    const std::string between = "\n" + said.substr(0, colon == std::string::npos ? 0 : colon + 1);
    std::string lines;
    std::size_t from = 0;
    if (between.size() > 1)
        for (std::size_t next; (next = said.find(between, from)) != std::string::npos; from = next + 1)
            lines += on_one_line(std::string_view(said).substr(from, next - from)) + "\n";
    return lines + on_one_line(std::string_view(said).substr(from));
}

/// True if everything that was printed has arrived.
bool all_said() {
    std::cout.flush();
    return std::fflush(stdout) == 0 && std::ferror(stdout) == 0 && std::cout;
}

}  // namespace

Team* team() {
    return the_team;
}

KeptCheckpoints& kept_checkpoints(double pause) {
    if (!the_work) the_work.emplace(LayerCache::of_this_person(the_team), pause);
    return *the_work;
}

int run(int argc, char** argv, Team* team) {
    the_team = team;
    static KeptShelf shapes(LayerCache::of_shapes());
    the_shelf() = &shapes;
    if (team != nullptr && !team->first()) leave_files_to_another();
    CLI::App app{
        "rushlight plans the light for a dialogue scene in a real room. Describe the room, the windows, the lamps and "
        "the\n"
        "people in a set-up file; it traces the light in real units and answers with meter readings, light maps\n"
        "and frames.\n\n"
        "Start with:  rushlight check scenes/workshop.toml"};
    app.name("rushlight");
    app.require_subcommand(1);
    app.get_formatter()->column_width(26);
    app.set_version_flag("--version", "rushlight " RUSHLIGHT_VERSION);
    app.footer(
        "Every command explains itself: rushlight read --help\n"
        "Estimate for planning light. Not an electrical, structural or rigging assessment.");
    add_check(app);
    add_read(app);
    add_frame(app);
    add_map(app);
    add_origins(app);
    add_compare(app);
    add_balance(app);
    add_day(app);
    add_brief(app);
    add_desk(app);
    add_manual(app);
    const Watch watch;
    Ending ended = ending_of(app, argc, argv);
    if (!all_said() && ended.line.empty())
        ended = {failed, "rushlight: the answer could not be written: is the disk full?"};
    if (team != nullptr) ended = team->end(ended);
    if (!ended.line.empty()) say_aside("%s\n", line_for_each(ended.line).c_str());
    return ended.status;
}

}  // namespace rushlight::command
