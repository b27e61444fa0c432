#include "quantity/clock.h"
#include "setup/plain/catalogues.h"
#include "setup/read/readers.h"
#include "setup/text/typed_values.h"
#include "setup/text/words.h"

#include <date/tz.h>

#include <cmath>

namespace rushlight {

namespace {

constexpr int first_year = 1900, last_year = 2100;

void read_date(const LayeredTable& t, Day& day) {
    if (const toml::node* node = t.find("date")) {
        std::optional<std::array<int, 3>> ymd;
        if (const auto* d = node->as_date()) ymd = std::array<int, 3>{d->get().year, d->get().month, d->get().day};
        if (const auto* s = node->as_string()) ymd = date_from(s->get());
        if (!ymd) t.refuse_kind("date", *node, "a day of the calendar such as 2026-10-14");
        day.year = (*ymd)[0];
        day.month = (*ymd)[1];
        day.day = (*ymd)[2];
        if (day.year < first_year || day.year > last_year)
            t.refuse("date", "is in the year " + std::to_string(day.year) + "; expected between " +
                                 std::to_string(first_year) + " and " + std::to_string(last_year));
    }
    if (const toml::node* node = t.find("time")) {
        std::optional<double> hours;
        if (const auto* c = node->as_time()) hours = c->get().hour + c->get().minute / 60.0 + c->get().second / 3600.0;
        if (const auto* s = node->as_string()) hours = clock_from(s->get());
        if (!hours) t.refuse_kind("time", *node, "a time between \"00:00\" and \"23:59\"");
        day.clock_hours = *hours;
    }
}

std::string zone_hint(const std::string& found) {
    std::vector<std::string> names;
    for (const date::time_zone& z : date::get_tzdb().zones) names.push_back(z.name());
    const std::string h = hint(found, names);
    return h.find("did you mean") != std::string::npos
               ? h
               : "; expected a name such as Europe/Lisbon or an offset such as UTC+1";
}

double offset_of_zone(const LayeredTable& t, const std::string& name, const Day& day) {
    const date::time_zone* zone = nullptr;
    try {
        zone = date::locate_zone(name);
    } catch (const std::exception&) {
        throw InputError(t.where("time_zone"), t.title() + ": unknown time_zone " + in_quotes(name) + zone_hint(name));
    }
    const date::local_days midnight =
        date::local_days{date::year{day.year} / date::month{static_cast<unsigned>(day.month)} /
                         date::day{static_cast<unsigned>(day.day)}};
    const date::local_seconds clock =
        midnight + std::chrono::seconds{static_cast<long long>(std::lround(day.clock_hours * 3600))};
    const date::local_info info = zone->get_info(clock);
    if (info.result == date::local_info::nonexistent)
        t.refuse(t.has("time") ? "time" : "date",
                 "is " + clock_text(day.clock_hours) + ", which the clocks skip on that day in " + name);
    if (info.result == date::local_info::ambiguous)
        t.context().remark(t.where("time"), clock_text(day.clock_hours) + " comes twice on that day in " + name +
                                                "; the first is taken");
    return static_cast<double>(info.first.offset.count()) / 3600.0;
}

void read_clock(const LayeredTable& t, const Place& place, Day& day) {
    const toml::node* node = t.find("time_zone");
    if (!node) {
        day.utc_offset_hours = std::round(place.longitude / 15.0);
        if (!day.dark && day.uniform_sky_luminance < 0)
            t.context().remark(t.where(), "no time_zone given; UTC" + std::string(day.utc_offset_hours < 0 ? "" : "+") +
                                              plain(day.utc_offset_hours) + " is assumed from the longitude");
        return;
    }
    const std::string zone = t.text("time_zone");
    if (const auto offset = utc_offset_from(zone))
        day.utc_offset_hours = *offset;
    else
        day.utc_offset_hours = offset_of_zone(t, zone, day);
}

void read_sky(const LayeredTable& t, Day& day) {
    const std::string found = t.text("sky");
    const std::string name = tidy(found);
    if (const SkyKind* kind = kind_named(sky_kinds(), name)) {
        day.sky = {kind->cie_type, kind->sun};
    } else {
        int type = 0;
        if (name.starts_with("cie ")) {
            const std::string digits = name.substr(4);
            if (!digits.empty() && digits.size() < 3 && digits.find_first_not_of("0123456789") == std::string::npos)
                type = std::stoi(digits);
        }
        if (type < 1 || type > 15) {
            std::vector<std::string> valid = names_of(sky_kinds());
            valid.emplace_back("CIE 1 to CIE 15");
            throw InputError(t.where("sky"),
                             t.title() + ": unknown sky " + in_quotes(found) +
                                 (name.starts_with("cie") ? "; expected CIE 1 to CIE 15" : hint(found, valid)));
        }
        // Types 1 to 6 are overcast or veiled, 9 has its sun behind cloud (ISO 15469:2004, descriptions).
        day.sky = {type, type > 6 && type != 9};
    }
    if (t.has("sun")) day.sky.sun = t.yes("sun");
}

}  // namespace

Day read_day(const FileContext& context, const Place& place, std::vector<const toml::table*> layers) {
    Day day;
    static const toml::table nothing;
    if (layers.empty()) {
        context.remark(Where{context.path}, "no [day] given; midsummer noon under a clear sky is assumed");
        layers.push_back(&nothing);
    }
    const LayeredTable t(context, "[day]", "[day]", std::move(layers));
    day.dark = t.yes("dark");
    read_date(t, day);
    day.sky_horizontal_lux = t.number_if_given("sky_lux").value_or(-1);
    day.sun_normal_lux = t.number_if_given("sun_lux").value_or(-1);
    day.uniform_sky_luminance = t.number_if_given("sky_luminance").value_or(-1);
    day.sky_kelvin = t.number_if_given("sky_kelvin").value_or(-1);
    day.sun_kelvin = t.number_if_given("sun_kelvin").value_or(-1);
    read_clock(t, place, day);
    read_sky(t, day);
    const bool no_disc = weather_of(day.sky.cie_type) == Weather::overcast && !t.has("sky_luminance");
    constexpr const char* through_cloud =
        ", but no disc is seen through an overcast sky; expected another sky, such as CIE 6 to CIE 15";
    if (t.has("sun") && day.sky.sun && no_disc) t.refuse("sun", std::string("is true") + through_cloud);
    if (t.has("sky_lux") && t.has("sky_luminance"))
        t.refuse("sky_luminance", "can't go with sky_lux; expected one of the two");
    if (t.has("sun_lux") && day.sun_normal_lux > 0 && !day.sky.sun)
        t.refuse("sun_lux", no_disc ? std::string("is given") + through_cloud
                                    : "is given, but the sun does not shine under this sky; expected sun = true");
    return day;
}

}  // namespace rushlight
