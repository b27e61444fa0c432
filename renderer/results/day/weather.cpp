#include "results/day/weather.h"

namespace rushlight {

namespace {

/// The factor by which a reading at the set-up's own time scales the model: 1 where there is no reading.
double calibration(double measured, double modelled) {
    return measured >= 0 && modelled > 0 ? measured / modelled : 1.0;
}

Day without_readings(Day day) {
    day.sky_horizontal_lux = day.sun_normal_lux = day.uniform_sky_luminance = -1;
    return day;
}

}  // namespace

const char* word_of(Weather weather) {
    for (const WeatherWord& w : weather_words)
        if (w.weather == weather) return w.word;
    return "";
}

Weather weather_of_sky(const Day& day) {
    return weather_of(day.uniform_sky_luminance >= 0 ? uniform_sky_type : day.sky.cie_type);
}

Daylight outside_at(const Setup& setup, Weather weather, double clock_hours) {
    Day day = without_readings(setup.day);
    day.clock_hours = clock_hours;
    if (setup.day.dark) return daylight_at(setup.place, day);
    if (weather_of_sky(setup.day) != weather) {
        for (const WeatherWord& w : weather_words)
            if (w.weather == weather) day.sky = {w.cie_type, weather != Weather::overcast};
        day.sky_kelvin = day.sun_kelvin = -1;
        return daylight_at(setup.place, day);
    }
    if (setup.day.uniform_sky_luminance >= 0) day.sky.cie_type = uniform_sky_type;
    // A reading taken at the set-up's own time says how far this day is from the usual one.
    Day then = without_readings(setup.day);
    then.sky = day.sky;
    const Daylight usual = daylight_at(setup.place, then);
    double sky_lux = setup.day.sky_horizontal_lux;
    if (setup.day.uniform_sky_luminance >= 0) sky_lux = pi * setup.day.uniform_sky_luminance;
    const double sky = calibration(sky_lux, usual.sky_horizontal.value);
    const double sun = calibration(setup.day.sun_normal_lux, static_cast<double>(photometric(usual.sun_irradiance)));
    const Daylight now = daylight_at(setup.place, day);
    day.sky_horizontal_lux = sky * now.sky_horizontal.value;
    day.sun_normal_lux = sun * static_cast<double>(photometric(now.sun_irradiance));
    return daylight_at(setup.place, day);
}

SunPosition sun_at(const Setup& setup, double clock_hours) {
    return sun_position(setup.day.year, setup.day.month, setup.day.day, clock_hours - setup.day.utc_offset_hours,
                        Degree{setup.place.latitude}, Degree{setup.place.longitude});
}

}  // namespace rushlight
