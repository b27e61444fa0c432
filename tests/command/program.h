// The built program, run as a person would run it: in a folder of its own, with what it said and how it ended.
#pragma once

#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

extern char** environ;

namespace rushlight::testing_command {

namespace fs = std::filesystem;

/// A folder for one test, removed when the test is over.
struct Scratch {
    fs::path folder;

    Scratch() {
        std::string pattern = (fs::temp_directory_path() / "rushlight-command-XXXXXX").string();
        folder = ::mkdtemp(pattern.data());
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    ~Scratch() {
        std::error_code ignored;
        fs::remove_all(folder, ignored);
    }
    fs::path operator/(const std::string& name) const { return folder / name; }
    /// Writes a file and says its name.
    std::string with(const std::string& name, const std::string& text) const {
        std::ofstream(folder / name, std::ios::binary) << text;
        return name;
    }
    std::vector<std::string> files() const {
        std::vector<std::string> names;
        for (const auto& e : fs::recursive_directory_iterator(folder)) names.push_back(e.path().filename().string());
        return names;
    }
};

struct Answer {
    int status = -1;  // exit status; minus the signal's number where one ended it
    bool hung = false;
    std::string out, err;
    double seconds = 0;

    std::size_t error_lines() const { return static_cast<std::size_t>(std::count(err.begin(), err.end(), '\n')); }
    bool says(const std::string& words) const { return (out + err).find(words) != std::string::npos; }
};

inline std::ostream& operator<<(std::ostream& stream, const Answer& a) {
    return stream << "exit " << a.status << (a.hung ? " (hung)" : "") << " after " << a.seconds << " s\n"
                  << a.out << a.err;
}

inline std::string text_of(std::FILE* file) {
    std::string text;
    std::rewind(file);
    for (int c; (c = std::fgetc(file)) != EOF;) text += static_cast<char>(c);
    std::fclose(file);
    return text;
}

/// A signal to the program, as soon as it is time: asked every few milliseconds, with the seconds it has run.
struct Signal {
    int number = 0;
    std::function<bool(double)> when;
};
inline std::function<bool(double)> after(double seconds) {
    return [=](double passed) { return passed >= seconds; };
}

/// What a run finds around it.
struct Around {
    std::string cache;                          // where layers are kept; with none, each run traces for itself
    std::vector<std::string> environment = {};  // "NAME=value" besides
    std::vector<std::string> before = {};       // a program that runs it, with its words
    std::string out = "";                       // where its answer goes
    rlim_t largest_file = RLIM_INFINITY;        // bytes: as a disk that is full
    std::vector<Signal> signals = {};
};

/// Runs a program with its words.
inline Answer run(const Scratch& scratch, std::vector<std::string> all, const Around& around) {
    using Clock = std::chrono::steady_clock;
    constexpr double longest = 120;  // s: a hang, even under sanitizers
    std::vector<char*> arguments;
    for (std::string& w : all) arguments.push_back(w.data());
    arguments.push_back(nullptr);

    std::FILE* out = std::tmpfile();
    std::FILE* err = std::tmpfile();
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    if (around.out.empty())
        posix_spawn_file_actions_adddup2(&actions, fileno(out), STDOUT_FILENO);
    else
        posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, around.out.c_str(), O_WRONLY, 0);
    posix_spawn_file_actions_adddup2(&actions, fileno(err), STDERR_FILENO);
    posix_spawn_file_actions_addchdir_np(&actions, scratch.folder.c_str());
    Answer answer;
    pid_t child = 0;
    const auto start = Clock::now();
    const auto passed = [&] { return std::chrono::duration<double>(Clock::now() - start).count(); };
    std::vector<std::string> surroundings = around.environment;
    surroundings.push_back("XDG_CACHE_HOME=" + around.cache);
    for (char** e = environ; *e != nullptr; ++e)
        if (const std::string s = *e; s.rfind("HOME=", 0) != 0 && s.rfind("XDG_", 0) != 0) surroundings.push_back(s);
    std::vector<char*> environment;
    for (std::string& s : surroundings) environment.push_back(s.data());
    environment.push_back(nullptr);
    rlimit before{};
    ::getrlimit(RLIMIT_FSIZE, &before);
    rlimit now = before;
    now.rlim_cur = std::min(before.rlim_max, around.largest_file);
    ::setrlimit(RLIMIT_FSIZE, &now);  // handed down
    const int failed =
        ::posix_spawnp(&child, all.front().c_str(), &actions, nullptr, arguments.data(), environment.data());
    ::setrlimit(RLIMIT_FSIZE, &before);
    posix_spawn_file_actions_destroy(&actions);
    if (failed != 0) {
        ADD_FAILURE() << "cannot run " << all.front();
        return answer;
    }
    int status = 0;
    std::vector<Signal> to_send = around.signals;
    while (::waitpid(child, &status, WNOHANG) == 0) {
        for (Signal& signal : to_send) {
            if (signal.number == 0 || !signal.when(passed())) continue;
            ::kill(child, signal.number);
            signal.number = 0;
        }
        if (passed() > longest) {
            ::kill(child, SIGKILL);
            answer.hung = true;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(3));
    }
    answer.seconds = passed();
    answer.status = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
    answer.out = text_of(out);
    answer.err = text_of(err);
    return answer;
}

inline Answer run(const Scratch& scratch, std::vector<std::string> all, const std::vector<std::string>& environment,
                  const Signal& signal = {}) {
    Around around;
    around.environment = environment;
    around.signals = {signal};
    return run(scratch, std::move(all), around);
}

/// Runs rushlight with these words.
inline Answer rushlight(const Scratch& scratch, const std::vector<std::string>& words, const Around& around) {
    std::vector<std::string> all = around.before;
    all.emplace_back(RUSHLIGHT_BUILD "/rushlight");
    all.insert(all.end(), words.begin(), words.end());
    return run(scratch, all, around);
}

/// With `interrupt_after` seconds, presses Ctrl-C then.
inline Answer rushlight(const Scratch& scratch, const std::vector<std::string>& words, double interrupt_after = 0,
                        const std::string& cache = "") {
    Around around{cache};
    if (interrupt_after > 0) around.signals.push_back({SIGINT, after(interrupt_after)});
    return rushlight(scratch, words, around);
}

inline std::string scene(const std::string& name) {
    return RUSHLIGHT_SOURCE "/scenes/" + name;
}

/// A small room with nobody in it, which is quick to build.
inline const std::string room = R"([place]
latitude = 50
longitude = 8
room = { width = 5, depth = 4, height = 2.7 }
surfaces = { walls = 0.5, floor = 0.2, ceiling = 0.7 }
)";
inline const std::string dark = "[day]\ndark = true\n";
inline const std::string overcast = "[day]\ntime_zone = \"UTC+1\"\nsky = \"overcast\"\n";
inline const std::string window = R"([[place.opening]]
name = "window"
wall = "near"
from = 1
to = 2
sill = 1
head = 2
)";
inline const std::string lamp = R"([[lamp]]
name = "key"
shape = "box"
at = [1, 1, 2]
aim = [3, 3, 1]
size = 0.6
output = "9000 lm"
)";
inline const std::string meter = R"([[meter]]
name = "table"
at = [2.5, 2, 0.8]
)";
inline const std::string camera = R"([[camera]]
name = "wide"
at = [2.5, 3.8, 1.3]
look_at = [2.5, 0, 1.3]
)";

}  // namespace rushlight::testing_command
