#include "command/options.h"

#include "command/interrupt.h"
#include "command/outputs.h"
#include "command/run.h"
#include "results/light/calibration.h"
#include "setup/text/typed_values.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <tuple>

#include <unistd.h>

namespace rushlight::command {

namespace {

struct NumberAndRest {
    double number;
    std::string rest;
};
/// A plain decimal number, such as 5, 0.5 or 1e-3, and what comes behind it.
NumberAndRest number_and_rest(const std::string& text, const char* expected) {
    const std::string typed = tidy(text);
    const char *begin = typed.data() + (typed.rfind('+', 0) == 0 ? 1 : 0), *end = typed.data() + typed.size();
    double n = 0;
    const auto [stopped, problem] = std::from_chars(begin, end, n);
    if (problem == std::errc{} && std::isfinite(n)) return {n, tidy(std::string(stopped, end))};
    throw InputError(in_quotes(text) + " is not " + expected);
}

}  // namespace

std::string for_people(double seconds) {
    constexpr double by_the_second = 20, by_five = 55, by_half_a_minute = 105;
    if (seconds < by_the_second) return std::to_string(std::lround(std::ceil(seconds))) + " s";
    if (seconds < by_five) return std::to_string(5 * std::lround(std::ceil(seconds / 5))) + " s";
    if (seconds < by_half_a_minute) return seconds < 75 ? "1 min" : "1½ min";
    return std::to_string(std::lround(std::ceil(seconds / 60 - 0.25))) + " min";
}

CLI::Validator decimal_number() {
    return {[](const std::string& text) {
                try {
                    if (number_and_rest(text, "").rest.empty()) return std::string();
                } catch (const InputError&) {
                }
                return in_quotes(text) + " is not a plain number such as 400 or 2.8";
            },
            ""};
}

CLI::Validator whole_number() {
    return {[](const std::string& text) {
                const std::string digits = text.substr(text.rfind('-', 0) == 0 ? 1 : 0);
                const bool whole = digits.find_first_not_of("0123456789") == std::string::npos && !digits.empty() &&
                                   (digits == "0" || digits[0] != '0');
                return whole ? std::string() : in_quotes(text) + " is not a whole number such as 960";
            },
            ""};
}

double share(const std::string& text) {
    constexpr const char* expected = "an accuracy for --error, such as 1% or 0.01";
    const auto [n, rest] = number_and_rest(text, expected);
    if (!rest.empty() && rest != "%") throw InputError(in_quotes(text) + " is not " + expected);
    const double s = rest == "%" ? n / 100 : n;
    if (!(s >= 1e-5 && s < 1)) throw InputError("the error " + in_quotes(text) + " must lie between 0.001% and 99%");
    return s;
}

double seconds(const std::string& text) {
    constexpr const char* expected = "a time such as 5s, 2m or 500ms";
    const auto [n, rest] = number_and_rest(text, expected);
    double unit = 1;
    if (rest == "ms")
        unit = 0.001;
    else if (rest == "m" || rest == "min")
        unit = 60;
    else if (!rest.empty() && rest != "s")
        throw InputError(in_quotes(text) + " is not " + expected);
    if (!(n * unit >= 0.01 && n * unit <= 86400))
        throw InputError("the time " + in_quotes(text) + " must lie between 10ms and a day");
    return n * unit;
}

DayHours working_hours(const SetupFile& file, const std::string& from, const std::string& to) {
    DayHours hours;
    if (const auto given = file.working_hours()) std::tie(hours.from, hours.to) = *given;
    if (!from.empty()) hours.from = clock_hours(from, "--from");
    if (!to.empty()) hours.to = clock_hours(to, "--to");
    return hours;
}

double clock_hours(const std::string& text, const char* option) {
    const auto hours = clock_from(text);
    if (!hours) throw InputError(std::string(option) + " " + in_quotes(text) + " is not a time such as 07:00");
    return *hours;
}

void FileOptions::add_to(CLI::App& command) {
    command.add_option("FILE", file, "the set-up file")->required()->check([](const std::string& name) {
        return name.empty() ? std::string("expected the name of a set-up file") : std::string();
    });
    command.add_option("--setup", setup, "which set-up, by its name (default: the first)");
    command.add_option("--option", option, "which option (default: 'as found')");
}

Setup FileOptions::choose(const SetupFile& from) const {
    const std::string chosen = setup.empty() ? from.setup_names().front() : setup;
    return from.setup(chosen, option.empty() ? as_found_name : option);
}

void LightOptions::add_levels_to(CLI::App& command, const std::string& then) {
    command
        .add_option("--level", what_if.levels,
                    "try a lamp at another level: --level \"key=50%\", \"key=-1 stop\", key=off, key=on" + then)
        ->type_name("NAME=LEVEL")
        ->allow_extra_args(false);
    command
        .add_option("--gel", what_if.gels,
                    "try other gels, in place of the file's: --gel \"key=half orange\", \"key=half blue + nd 0.3\", "
                    "key=none")
        ->type_name("NAME=GEL")
        ->allow_extra_args(false);
}

void LightOptions::add_to(CLI::App& command) {
    add_levels_to(command, ". Answered from cached layers,\nas often as you like, without tracing again");
    command.add_option("--iso", what_if.iso, "try another ISO")
        ->check(decimal_number())
        ->check(CLI::Range(25.0, 409600.0));
    command.add_option("--t-stop", what_if.t_stop, "try another T-stop")
        ->check(decimal_number())
        ->check(CLI::Range(0.5, 64.0));
    command.add_flag("--fresh", fresh, "trace again instead of using cached layers");
}

Lit lit(const Setup& as_in_file, const LightOptions& options) {
    if (options.fresh) kept_checkpoints().begin_anew();
    Lit l;
    l.setup = with(options.what_if, as_in_file);
    const Setup traced = options.fresh ? l.setup : to_trace(as_in_file, l.setup);
    l.scene = build_scene(traced);
    l.light = KeptLight(traced, l.setup, LayerCache::of_this_person(team()), options.fresh);
    return l;
}

void EffortOptions::add_to(CLI::App& command, const std::string& error_help) {
    auto* by_error = command.add_option("--error", error, error_help);
    command
        .add_option("--time", time,
                    "finish within this time instead, from reading the file to writing the answer: 5s, 2m")
        ->excludes(by_error);
    command
        .add_option("--seed", seed, "change it for other random paths; the same seed gives the same answer to the bit")
        ->check([](const std::string& text) {
            const bool whole = text.find_first_not_of("0123456789") == std::string::npos && !text.empty() &&
                               text.size() < 20 && (text == "0" || text[0] != '0');
            return whole ? std::string() : in_quotes(text) + " is not a whole number of up to 19 digits";
        })
        ->capture_default_str();
    command.add_option("--threads", threads, "how many to use (default: all). It doesn't change the answer")
        ->check(whole_number())
        ->check(CLI::Range(0, 1024));
    command.add_option("--keep-every", keep_every, "for developers: how often long work is kept")->group("");
}

Effort EffortOptions::effort(double usual_error, double usual_seconds, const char* verb, Bounds bounds) const {
    Effort e;
    e.seed = seed;
    e.threads = threads;
    e.relative_error = usual_error;
    e.seconds = usual_seconds;
    if (!error.empty()) {
        e.relative_error = share(error);
        e.seconds = 0;
    } else if (!time.empty()) {
        e.seconds = seconds(time);
        if (team() == nullptr && bounds == Bounds::all_of_it) {
            e.until = beginning() + std::chrono::duration_cast<std::chrono::steady_clock::duration>(
                                        std::chrono::duration<double>(e.seconds));
            expect_to_be_through_in(e.seconds, time);
        }
    }
    e.stop = &interrupt_flag();
    e.team = team();
    e.checkpoints = &kept_checkpoints(keep_every.empty() ? KeptCheckpoints::usual_pause : seconds(keep_every));
    if (isatty(STDERR_FILENO) != 0)
        e.tell = [verb, last = Clock(), shown = -1.0](const Progress& p) mutable {
            // Ten times a second is as often as an eye can read.
            if (last.seconds() - shown < 0.1 && p.done < 1) return;
            shown = last.seconds();
            std::fprintf(stderr, "\r\033[K%s  %3.0f %%   about %s left   error so far %.2g %%", verb, 100 * p.done,
                         for_people(p.seconds_left).c_str(), 100 * p.error);
            if (p.done >= 1) std::fprintf(stderr, "\r\033[K");
            std::fflush(stderr);
        };
    return e;
}

Effort paced(Effort effort, double reserve) {
    if (!effort.until) return effort;
    constexpr double least = 0.01;  // of what was given, so that there is an answer
    *effort.until -=
        std::chrono::duration_cast<std::chrono::steady_clock::duration>(std::chrono::duration<double>(reserve));
    effort.pace = std::clamp(effort.left() / effort.seconds, least, 1.0);
    return effort;
}

Effort part_of(Effort effort, std::size_t number, std::size_t parts) {
    effort.seconds /= static_cast<double>(parts);
    if (effort.until)
        *effort.until -= std::chrono::duration_cast<std::chrono::steady_clock::duration>(
            std::chrono::duration<double>(effort.seconds * static_cast<double>(parts - 1 - number)));
    return effort;
}

std::string noise_text(double noise, const char* each) {
    if (!std::isfinite(noise)) return "noise not known from a single pass";
    char text[64];
    std::snprintf(text, sizeof text, "noise about %.0f %% a %s", 100 * noise, each);
    return text;
}

void expect_room_for(std::uint64_t bytes, const std::string& what) {
    std::ifstream info("/proc/meminfo");
    std::string word;
    std::uint64_t free_bytes = 0;
    while (info >> word)
        if (word == "MemAvailable:") {
            info >> free_bytes;
            free_bytes *= 1024;
            break;
        }
    if (free_bytes == 0 || static_cast<double>(bytes) < 0.8 * static_cast<double>(free_bytes)) return;
    char text[160];
    std::snprintf(text, sizeof text, "%s would take %.1f GiB and %.1f GiB are free: choose a smaller --width",
                  what.c_str(), static_cast<double>(bytes) / (1 << 30), static_cast<double>(free_bytes) / (1 << 30));
    throw InputError(text);
}

Setup as_measured(const Setup& setup, const Effort& effort) {
    if (setup.rig.measured.empty()) return setup;
    // Every set-up in every option asks, and mostly the place was scouted for all of them.
    static std::map<std::string, std::vector<SourceScale>> known;
    const auto [scales, fresh] = known.try_emplace(scales_key(setup));
    if (fresh) {
        scales->second = calibrate(setup, effort);
        tell_remarks(calibration_lines(scales->second));
    }
    return scaled(setup, scales->second);
}

void add_advice(const KeptLight& light, std::vector<std::string>& remarks) {
    if (light.nothing_traced()) remarks.emplace_back("--fresh traces again.");
    if (light.less_sure()) remarks.emplace_back("A smaller --error makes it more accurate.");
}

void tell_remarks(const std::vector<std::string>& remarks) {
    std::set<std::string> told;
    for (const std::string& r : remarks)
        if (told.insert(r).second) say_aside("%s", ("note: " + r + "\n").c_str());
}

PictureSize picture_size(int width, const Camera& camera) {
    constexpr double highest = 16384;
    const double height = width * camera.sensor_height / camera.sensor_width;
    if (height > highest)
        throw InputError("a picture " + std::to_string(width) + " pixels across would be " + plain(std::round(height)) +
                         " high on the sensor of " + in_quotes(camera.name) +
                         ": choose a smaller --width, or a sensor that is less narrow");
    return {width, std::max(1, static_cast<int>(std::lround(height)))};
}

const Camera& camera_of(const Setup& setup) {
    if (setup.camera < 0)
        throw InputError("set-up " + in_quotes(setup.name) + " has no camera: add a [[camera]] to the file");
    return *setup.its_camera();
}

}  // namespace rushlight::command
