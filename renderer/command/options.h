// Options that several commands share, and what they turn into.
#pragma once

#include "paths/work/effort.h"
#include "results/day/day_course.h"
#include "results/light/kept_light.h"
#include "setup/advice/what_if.h"
#include "setup/read/setup_file.h"

#include <CLI/CLI.hpp>

#include <filesystem>
#include <string>
#include <vector>

namespace rushlight::command {

/// "1%", "1 %" or 0.01 as a share; "5s", "2m", "500ms" or 5 as seconds. Throws InputError.
double share(const std::string& text);
double seconds(const std::string& text);
/// "35 s", "1½ min", "3 min": as exactly as anybody wants to know how long it takes.
std::string for_people(double seconds);
/// For an option: a number in plain decimals, neither "nan" nor "0x10"; and one of digits alone.
CLI::Validator decimal_number();
CLI::Validator whole_number();
/// "07:00" as hours; `option` is what it was given to. Throws InputError.
double clock_hours(const std::string& text, const char* option);
/// The working day: as asked for with --from and --to where these are not empty, else as the file says, else 7 to 19.
DayHours working_hours(const SetupFile& file, const std::string& from, const std::string& to);

struct FileOptions {
    std::string file, setup, option;
    void add_to(CLI::App& command);
    /// The chosen set-up; the first one, as found, where nothing is chosen.
    Setup choose(const SetupFile& from) const;
};

/// Levels, gels, ISO and stop tried on what the file says; and whether kept layers may answer.
struct LightOptions {
    WhatIf what_if;
    bool fresh = false;
    void add_to(CLI::App& command);
    /// Levels and gels alone, for commands that trace in any case.
    void add_levels_to(CLI::App& command, const std::string& then);
};

/// A set-up with its scene, and where its light comes from.
struct Lit {
    Setup setup;  // as asked
    Scene scene;
    KeptLight light;
};
Lit lit(const Setup& as_in_file, const LightOptions& options);

struct EffortOptions {
    std::string error, time, keep_every;
    std::uint64_t seed = 1;
    int threads = 0;
    void add_to(CLI::App& command, const std::string& error_help);
    /// `usual_error` or `usual_seconds` (the other is 0) where the person asked for neither.
    /// --time is for the whole command, from its start to what it hands over; or for a part of it that is traced.
    enum class Bounds { all_of_it, a_part };
    Effort effort(double usual_error, double usual_seconds, const char* verb, Bounds bounds = Bounds::all_of_it) const;
};

/// For what is traced from now on: at a pace at which it is through when its time is, less `reserve` seconds for what
/// comes after.
Effort paced(Effort effort, double reserve = 0);
/// Of a time, that of the one numbered `number`, from 0, of several that take as long.
Effort part_of(Effort effort, std::size_t number, std::size_t parts);

/// "noise about 12 % a pixel", as far as it is known.
std::string noise_text(double noise, const char* each);

/// Throws InputError where `bytes` would not fit into the memory that is free now.
void expect_room_for(std::uint64_t bytes, const std::string& what);

/// The set-up scaled to what was measured on the scout, and said so; as it is when nothing was.
Setup as_measured(const Setup& setup, const Effort& effort);

/// Adds the switches with which a person can change light that was kept, or is less sure than asked for.
void add_advice(const KeptLight& light, std::vector<std::string>& remarks);

/// Prints remarks to standard error, each once.
void tell_remarks(const std::vector<std::string>& remarks);

/// Picture width in pixels for --width; height from the sensor. Throws InputError where that is out of all measure.
struct PictureSize {
    int width = 0, height = 0;
};
PictureSize picture_size(int width, const Camera& camera);
const Camera& camera_of(const Setup& setup);

}  // namespace rushlight::command
