// One day under three weathers: the file's own sky in its class, a usual one in the others.
#pragma once

#include "scene/light/sky.h"
#include "setup/plain/setup.h"

#include <array>
#include <string>
#include <vector>

namespace rushlight {

struct WeatherWord {
    Weather weather;
    const char* word;
    int cie_type;  // where the file's own sky is of another class
};
inline constexpr std::array<WeatherWord, 3> weather_words{
    {{Weather::clear, "clear", 12}, {Weather::mixed, "mixed", 8}, {Weather::overcast, "overcast", 1}}};
const char* word_of(Weather weather);

/// The class of the day's own sky.
Weather weather_of_sky(const Day& day);

/// The outside at another hour of the set-up's day. What the file was calibrated by holds for its own class of sky,
/// and counts as taken at the set-up's own time: it scales the whole day. By mixed weather the sun shines.
Daylight outside_at(const Setup& setup, Weather weather, double clock_hours);

/// Where the sun stands, by the set-up's own clock.
SunPosition sun_at(const Setup& setup, double clock_hours);

}  // namespace rushlight
