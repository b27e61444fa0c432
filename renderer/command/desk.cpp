#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "command/run.h"
#include "desk/door/server.h"
#include "setup/text/where.h"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string>

extern char** environ;

namespace rushlight::command {

namespace {

struct DeskOptions {
    std::string file, page;
    int port = 0, share_port = 0;
    bool no_open = false, share = false;
};

void tell(const std::string& line) {
    say("%s\n", line.c_str());
    std::fflush(stdout);
}

/// In the person's own browser, if this is a screen that has one. The words of a command line can be read by everybody
/// on the machine, so that no key may be among them.
void open_in_browser(const std::string& address) {
    if (std::getenv("DISPLAY") == nullptr && std::getenv("WAYLAND_DISPLAY") == nullptr) return;
    posix_spawn_file_actions_t quiet;
    posix_spawn_file_actions_init(&quiet);
    for (const int stream : {0, 1, 2}) posix_spawn_file_actions_addopen(&quiet, stream, "/dev/null", O_RDWR, 0);
    std::string program = "xdg-open", words = address;
    char* const arguments[] = {program.data(), words.data(), nullptr};
    pid_t child = 0;
    if (posix_spawnp(&child, "xdg-open", &quiet, nullptr, arguments, environ) == 0) ::waitpid(child, nullptr, WNOHANG);
    posix_spawn_file_actions_destroy(&quiet);
}

/// Until Ctrl-C. Enter prints fresh links.
void wait_for_the_end(desk::Server& own, desk::Server* shared) {
    bool listening = true;
    while (!interrupted()) {
        pollfd keys{STDIN_FILENO, POLLIN, 0};
        constexpr int pause = 200;  // ms
        const int ready = ::poll(&keys, listening ? 1 : 0, pause);
        if (ready <= 0 || (keys.revents & (POLLIN | POLLHUP)) == 0) continue;
        char typed[256];
        const ssize_t n = ::read(STDIN_FILENO, typed, sizeof typed);
        if (n <= 0) listening = false;
        if (n <= 0) continue;
        tell(own.link());
        if (shared) tell(shared->link());
    }
}

void run(const DeskOptions& o) {
    if (team() != nullptr)
        throw InputError("the desk works on one machine alone: start it with rushlight instead of rushlight-mpi");
    desk::Desk desk(o.file.empty() ? std::nullopt : std::optional<std::filesystem::path>(o.file));
    desk::Server own(desk, {false, o.port, o.page});
    own.start();
    ends_by_interrupt();
    std::unique_ptr<desk::Server> shared;
    if (o.share) {
        shared = std::make_unique<desk::Server>(desk, desk::Server::Options{true, o.share_port, o.page});
        shared->start();
    }
    tell(o.file.empty() ? "The desk is open, with a new place to begin." : "The desk is open on " + o.file + ".");
    tell(own.link());
    if (shared) {
        tell(
            "For others on this network, to look only. Anyone with this link, or listening in on the network, can see "
            "it:");
        tell(shared->link());
    }
    tell("Links work once; Enter prints fresh ones. Ctrl-C ends the desk: every change is in the file already.");
    if (!o.no_open) open_in_browser(own.address_for_this_user());
    wait_for_the_end(own, shared.get());
    desk.end();
    if (shared) shared->stop();
    own.stop();
    interrupt_was_taken();
}

}  // namespace

void add_desk(CLI::App& app) {
    auto o = std::make_shared<DeskOptions>();
    CLI::App* c = app.add_subcommand("desk", "all of it live in the browser, on this machine");
    c->footer(
        "Opens a page with the sheet of sources against readings, the frame and the plan. Drag lamps, boards, flags, "
        "marks\n"
        "and cameras; set levels and gels; scrub the clock; click anywhere for a reading. Move a thing and it is\n"
        "traced at once, rough first, then refining, with its error shown. Every change is written into the file in "
        "place:\n"
        "comments, order and spelling stay. Undo goes back as far as the desk has been open, and a change made to the\n"
        "file by another editor is shown at once.\n\n"
        "The page can be reached from this machine only, with a link that works once. --share adds a second door for\n"
        "a tablet on the same network: to look, not to change. Its traffic is not encrypted, so use it on a network\n"
        "that you trust (docs/desk.md).\n\n"
        "  rushlight desk scenes/workshop.toml\n"
        "  rushlight desk                       without a file: begins with a new place\n"
        "  rushlight desk scenes/workshop.toml --share");
    c->add_option("FILE", o->file, "the set-up file (default: a new place)");
    c->add_option("--port", o->port, "of this machine (default: any that is free)")
        ->check(whole_number())
        ->check(CLI::Range(0, 65535));
    c->add_flag("--no-open,--no-browser", o->no_open, "print the link, and open no browser");
    auto* share = c->add_flag("--share", o->share, "let others on the network look, but not change");
    c->add_option("--share-port", o->share_port, "for --share (default: any that is free)")
        ->check(whole_number())
        ->check(CLI::Range(0, 65535))
        ->needs(share);
    c->add_option("--page", o->page, "for developers: take the page from this folder")->group("");
    c->callback([o] { run(*o); });
}

}  // namespace rushlight::command
