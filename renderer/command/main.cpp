#include "command/commands.h"
#include "command/interrupt.h"
#include "pictures/write_file.h"
#include "setup/where.h"
#include "setup/words.h"

#include <cstdio>
#include <exception>
#include <new>

namespace {

constexpr int bad_input = 2;  // the person can mend it
constexpr int failed = 1;     // the machine could not: disk, memory
constexpr int ended_early = 130;

/// "unknown word '--widht'; did you mean '--width'?"
int refused(const CLI::App& app, const CLI::ParseError& error) {
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
        line = "unknown word " + rushlight::in_quotes(left.front()) + rushlight::hint(left.front(), words);
    } else if (chosen == &app) {
        line = "a command is missing" + rushlight::hint("", words);
    }
    for (char& c : line)
        if (c == '\n') c = ' ';
    std::fprintf(stderr, "rushlight: %s\n", line.c_str());
    return bad_input;
}

}  // namespace

int main(int argc, char** argv) {
    using namespace rushlight;
    CLI::App app{
        "rushlight plans the light of a scene in a real room. Describe the room, the windows, the lamps and the\n"
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
    command::add_check(app);
    command::add_read(app);
    command::add_frame(app);
    command::add_map(app);
    command::add_origins(app);
    command::add_compare(app);
    command::add_balance(app);
    command::add_day(app);
    command::add_brief(app);
    command::add_desk(app);
    command::add_manual(app);
    command::listen_for_interrupt();
    try {
        app.parse(argc, argv);
        return command::interrupted() ? ended_early : 0;
    } catch (const CLI::CallForHelp& e) {
        return app.exit(e);
    } catch (const CLI::CallForVersion& e) {
        return app.exit(e);
    } catch (const CLI::ParseError& e) {
        return refused(app, e);
    } catch (const InputError& e) {
        std::fprintf(stderr, "%s\n", e.what());
        return bad_input;
    } catch (const std::bad_alloc&) {
        std::fprintf(stderr, "rushlight: the machine has not enough memory for this\n");
        return failed;
    } catch (const std::exception& e) {
        std::fprintf(stderr, "rushlight: %s\n", e.what());
        return failed;
    }
}
