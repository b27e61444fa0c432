#include "results/day/day.h"
#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "pictures/files/write_file.h"
#include "pictures/frames/day_plot.h"
#include "pictures/tables/day_table.h"
#include "pictures/tables/json.h"
#include "quantity/clock.h"
#include "results/day/continuity.h"
#include "results/day/shooting_order.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rushlight::command {

namespace {

struct DayOptions {
    FileOptions file;
    LightOptions light;
    EffortOptions effort;
    std::string from, to, step = "10m", weather = "clear,mixed,overcast", output;
    bool json = false, csv = false;
};

DayHours hours_from(const DayOptions& o, const SetupFile& file) {
    DayHours hours = working_hours(file, o.from, o.to);
    hours.step = seconds(o.step) / 3600;
    if (hours.to <= hours.from)
        throw InputError("--to " + in_quotes(clock_text(hours.to)) + " is not after --from " +
                         in_quotes(clock_text(hours.from)));
    if (hours.step < 1.0 / 60 - 1e-9 || hours.step > hours.to - hours.from)
        throw InputError("--step " + in_quotes(o.step) + " must lie between 1m and the whole of the day asked for");
    return hours;
}

std::vector<Weather> weathers_from(const std::string& text) {
    std::vector<std::string> words;
    for (const WeatherWord& w : weather_words) words.emplace_back(w.word);
    std::vector<Weather> all;
    for (const std::string& part : split(text, ',')) {
        const std::string name = tidy(part);
        const auto it = std::find(words.begin(), words.end(), name);
        if (it == words.end()) throw InputError("unknown weather " + in_quotes(part) + hint(name, words));
        const Weather w = weather_words[static_cast<std::size_t>(it - words.begin())].weather;
        if (std::find(all.begin(), all.end(), w) == all.end()) all.push_back(w);
    }
    return all;
}

/// The beginning of the names of all files that are written.
std::string stem_of(const DayOptions& o) {
    std::string stem = o.output.empty() ? std::filesystem::path(o.file.file).stem().string() + "-day" : o.output;
    if (stem.ends_with(".png")) stem.resize(stem.size() - 4);
    return stem;
}

void day(const DayOptions& o) {
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    const DayHours hours = hours_from(o, file);
    const std::vector<Weather> weathers = weathers_from(o.weather);
    Effort effort = o.effort.effort(0.02, 0, "tracing the day");
    effort.reached = &something_reached();
    const std::string option = o.file.option.empty() ? as_found_name : o.file.option;
    std::vector<Setup> setups;
    for (const std::string& name : file.setup_names()) {
        if (!o.file.setup.empty() && name != o.file.setup) continue;
        const auto options = file.option_names(name);
        const bool offered = std::find(options.begin(), options.end(), option) != options.end();
        // An option that only some set-ups have leaves the others as found.
        setups.push_back(
            with(o.light.what_if, file.setup(name, offered || !o.file.setup.empty() ? option : as_found_name)));
    }
    if (setups.empty()) file.setup(o.file.setup, option);  // says which are there
    if (std::none_of(setups.begin(), setups.end(), [&](const Setup& s) { return s.option == option; }))
        file.setup(setups.front().name, option);
    const std::string stem = stem_of(o);
    std::vector<std::filesystem::path> pictures;
    for (std::size_t i = 0; i < setups.size(); ++i)
        pictures.push_back(picture_path(setups.size() == 1 ? stem : stem + "-" + std::to_string(i + 1), ""));
    tell_remarks(file.remarks());

    std::vector<DayCourse> days;
    for (Setup& s : setups) {
        if (interrupted() && !days.empty()) break;
        s = as_measured(s, effort);
        days.push_back(take_day(s, hours, weathers, effort));
        write_png(pictures[days.size() - 1], day_plot(days.back()));
    }
    std::vector<ShootingOrder> orders;
    std::vector<Mismatch> apart;
    if (days.size() > 1) {
        for (const Weather w : weathers) {
            std::vector<ToShoot> list;
            for (std::size_t i = 0; i < days.size(); ++i) list.push_back(to_shoot(setups[i], &days[i], w));
            orders.push_back(shooting_order(list, hours.from, hours.to, w));
        }
        // Judged at the hours at which the first order would shoot them.
        std::vector<double> times(days.size(), 0.0);
        for (const Shot& s : orders.front().shots) times[s.number] = (s.from + s.to) / 2;
        apart = mismatches(days, weathers.front(), times);
    }
    if (o.json) {
        hand_over(json(days, orders, apart));
    } else if (o.csv) {
        hand_over(comma_separated(days));
    } else {
        for (const DayCourse& d : days) say("%s\n", table(d).c_str());
        hand_over(table(apart, orders));
        for (std::size_t i = 0; i < days.size(); ++i) say("%s\n", pictures[i].c_str());
    }
}

}  // namespace

void add_day(CLI::App& app) {
    auto o = std::make_shared<DayOptions>();
    CLI::App* c = app.add_subcommand("day", "how long have I got, and what do sun and sky do?");
    c->footer(
        "Follows every set-up through the day under each weather: level and cheeks of each face, the view over the\n"
        "face against the camera's headroom, colour, and to the minute when the sun falls on a face, a meter or the\n"
        "lens. A sun window is the time within which dome to lens and key to fill stay within a third of a stop of\n"
        "the plan, and colour within 200 K; the plan is the set-up at the file's own time, under that same weather.\n"
        "With more than one set-up it also suggests an order to shoot in ([[setup]] minutes and needs, hours of\n"
        "[[mark]] person) and says what would not cut together. Mixed is broken cloud with the sun out.\n"
        "Never look at the sun through a finder or a lens.\n\n"
        "  rushlight day scenes/workshop.toml\n"
        "  rushlight day scenes/workshop.toml --setup \"1 wide\" --from 09:00 --to 16:00 --weather clear\n"
        "  rushlight day scenes/river-gauge.toml --json");
    o->file.add_to(*c);
    c->get_option("--setup")->description("only this set-up (default: all of them)");
    o->light.add_levels_to(*c, ", all day");
    o->effort.add_to(*c, "stop when every hour of a clear day is about this accurate (default: 2%)");
    c->remove_option(c->get_option("--time"));
    c->add_option("--from", o->from, "first hour, by the place's own clock (default: the file's hours, else 07:00)");
    c->add_option("--to", o->to, "last hour (default: the file's hours, else 19:00)");
    c->add_option("--step", o->step, "time between readings: 5m, 10m, 30m")->capture_default_str();
    c->add_option("--weather", o->weather, "which of clear, mixed, overcast")->capture_default_str();
    auto* json = c->add_flag("--json", o->json, "JSON instead of the listing");
    c->add_flag("--csv", o->csv, "comma-separated values instead")->excludes(json);
    c->add_option("-o,--output", o->output, "stem of the pictures' names");
    c->callback([o] { day(*o); });
}

}  // namespace rushlight::command
