// --time is for the whole command, from its start to what it hands over, within a second or a tenth; and Ctrl-C is
// heard within a second, whatever the program is at.
#include "command/program.h"
#include "sanitized.h"

#include <chrono>
#include <cmath>
#include <ctime>
#include <thread>
#include <vector>

namespace rushlight::testing_command {
namespace {

constexpr int bad_input = 2, ended_early = 130;

std::string things(int count, const std::string& kind, const std::string& rest) {
    std::string text;
    const int side = static_cast<int>(std::ceil(std::sqrt(count)));
    char at[64];
    for (int i = 0; i < count; ++i) {
        std::snprintf(at, sizeof at, "%.4f, %.4f", 0.2 + 4.6 * (i % side) / side, 0.2 + 3.6 * (i / side) / side);
        text += "[[" + kind + "]]\nname = \"" + kind + " " + std::to_string(i) + "\"\nat = [" + at + rest;
    }
    return text;
}
std::string balls(int count) {
    return things(count, "lamp", ", 2]\nshape = \"ball\"\nsize = 0.01\noutput = \"10 lm\"\n");
}
std::string meters(int count) {
    return things(count, "meter", ", 1]\n");
}
std::string cloths(int count) {
    return things(count, "cloth", ", 1.5]\nfacing = [2.5, 2, 1.2]\nsize = 0.02\nkind = \"half white\"\n");
}
std::string people(int count) {
    return things(count, "mark", "]\nfacing = 0\nperson = { hair_cut = \"long\" }\n");
}

/// How many times slower the machine is for a program of several threads than if it had nothing else to do.
double slowed() {
    const auto work = [] { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; };
    const auto begun = std::chrono::steady_clock::now();
    const double before = work();
    std::vector<std::thread> all;
    for (unsigned i = 0; i < std::thread::hardware_concurrency(); ++i)
        all.emplace_back([] {
            volatile double sum = 0;
            for (int k = 0; k < 40'000'000; ++k) sum = sum + 1.0 / (k + 1);
        });
    for (std::thread& t : all) t.join();
    const double took = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    return std::max(1.0, took * std::thread::hardware_concurrency() / (work() - before));
}

/// Seconds that this becomes on this machine as it is now, with what it takes to start a program, to be heard by it and
/// to clear up behind it.
double here_and_now(const Scratch& here, double seconds) {
    constexpr double starts = 30;
    return sanitized ? seconds + 100 : seconds * slowed() + starts * rushlight(here, {"--version"}).seconds;
}

/// Through in its time, with an answer or with one line that says that the time was too short.
void expect_in_time(const Scratch& here, const std::string& file, std::vector<std::string> words, double seconds) {
    here.with("f.toml", file);
    words.emplace_back("--time");
    words.push_back(std::to_string(static_cast<int>(std::lround(seconds * 1000))) + "ms");
    const double most = seconds + std::max(1.0, 0.1 * seconds), before = here_and_now(here, most);
    const Answer a = rushlight(here, words);
    if (a.status != 0) {
        EXPECT_EQ(a.status, bad_input) << a;
        EXPECT_EQ(a.error_lines(), 1U) << a;
        EXPECT_TRUE(a.says("too short")) << a;
        EXPECT_EQ(a.out, "") << a;
    }
    EXPECT_LT(a.seconds, std::max(before, here_and_now(here, most))) << a;
}

TEST(Time, IsForTheWholeCommandHoweverManyThings) {
    const Scratch here;
    for (const std::string& many :
         {lamp + meter + balls(1990), lamp + meters(3000), lamp + meter + cloths(1990), lamp + people(60)})
        expect_in_time(here, dark + room + camera + many, {"read", "f.toml"}, 0.2);
}

TEST(Time, IsForTheFrameAsItIsWritten) {
    const Scratch here;
    const std::string long_and_low = dark + room + lamp + camera + "sensor = [200, 1]\n";
    expect_in_time(here, long_and_low, {"frame", "f.toml", "--width", "16384"}, 0.05);
    expect_in_time(here, dark + room + lamp + camera, {"frame", "f.toml", "--width", "960"}, 3);
    expect_in_time(here, dark + room + lamp + camera, {"map", "f.toml", "--width", "960"}, 1.5);
}

TEST(Time, IsForAllSetUpsTogether) {
    const Scratch here;
    const std::string two = "[[setup]]\nname = \"1\"\n[[setup]]\nname = \"2\"\n[[option]]\nname = \"other\"\n";
    expect_in_time(here, overcast + room + window + lamp + meter + camera + two, {"read", "f.toml", "--all"}, 1.6);
    expect_in_time(here, overcast + room + window + lamp + meter + camera + two,
                   {"compare", "f.toml", "--width", "240", "-o", "c.png"}, 1.6);
}

void expect_heard(const Scratch& here, const Answer& a, double pressed) {
    EXPECT_EQ(a.status, ended_early) << a;
    EXPECT_LT(a.seconds, pressed + here_and_now(here, 1)) << a;
}

/// Some time after the program has surely begun, on a machine that may be busy.
double when_it_runs(const Scratch& here, double seconds) {
    return seconds + 2.5 * rushlight(here, {"--version"}).seconds;
}

TEST(Time, CtrlCIsHeardWhereNothingIsReachedYet) {
    const Scratch here;
    here.with("f.toml", dark + room + lamp + camera + people(150));
    for (const char* command : {"check", "read"}) {
        const double pressed = when_it_runs(here, 0.2);
        const Answer a = rushlight(here, {command, "f.toml"}, pressed);
        if (a.status == 0) continue;  // a fast machine
        expect_heard(here, a, pressed);
        EXPECT_TRUE(a.says("stopped before anything was reached")) << a;
        EXPECT_EQ(a.out, "") << a;
    }
}

TEST(Time, CtrlCIsHeardWhileOneBatchOfManyMetersIsTraced) {
    const Scratch here;
    here.with("f.toml", overcast + room + window + lamp + meters(3000));
    const double pressed = when_it_runs(here, 1.5);
    const Answer a = rushlight(here, {"read", "f.toml", "--json", "-o", "r.json"}, pressed);
    expect_heard(here, a, pressed);
}

}  // namespace
}  // namespace rushlight::testing_command
