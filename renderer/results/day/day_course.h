// A set-up through a day: plain numbers against the clock, ready for a table, a plot or JSON.
#pragma once

#include "quantity/measured.h"
#include "results/day/weather.h"

#include <string>
#include <vector>

namespace rushlight {

/// Hours by the place's own clock, and how far apart the readings are taken, in hours.
struct DayHours {
    double from = 7, to = 19, step = 1.0 / 6;
};

/// From one time to another, hours.
struct Interval {
    double from = 0, to = 0;
    double length() const { return to - from; }
};

/// When the sun itself falls on a meter or a face, where nothing but glass, nets and trees stand before it.
struct SunOn {
    std::string what;  // "A's face", "bench top", "the lens"
    std::string mark;  // or empty
    std::vector<Interval> when;
};

/// One meter through the day.
struct MeterCourse {
    std::string name, mark, kind;
    std::vector<Measured> lux;
    std::vector<double> t_stop, kelvin;
};

/// One face through the day. Stops of `level` and `key_fill` count from the plan where noted.
struct FaceCourse {
    std::string mark;
    bool in_frame = false;
    std::vector<Measured> level;     // dome to lens against the plan's, stops
    std::vector<Measured> key_fill;  // the plan's key cheek over the other, stops
    std::vector<double> kelvin;      // of the dome
    std::vector<Measured> view;      // the brightest opening over this face with its key cheek at grey, stops
};

/// A set-up under one weather.
struct WeatherCourse {
    Weather weather = Weather::clear;
    std::vector<MeterCourse> meters;
    std::vector<FaceCourse> faces;
    std::vector<double> view_luminance;  // cd/m2 of the brightest opening seen
    std::vector<std::string> view_of;    // its name
    std::vector<double> off;             // the worst of all tolerances, 1 where it is just reached
    std::vector<Interval> holds;         // within the tolerances of the plan
    Interval around_plan;                // the one that holds the plan's own time; no length: none
    std::string first_to_go;             // what ends it
    double cloud_swing = 0;              // stops that the level falls when cloud covers the sun at the plan's time
};

/// Ways to hold the view at the set-up's time.
struct ViewHold {
    bool needed = false;
    std::string opening, mark;
    Weather weather = Weather::clear;
    double over_face = 0, headroom = 0;     // stops
    double nd_density = 0;                  // tried on the glass in view, a sheet that is sold
    double over_face_with_nd = 0;           // traced anew
    double face_loss = 0;                   // stops that the sheet takes off the face
    double more_lux = 0;                    // on the key cheek, for the view to come to the headroom
    std::vector<Interval> holds_by_itself;  // hours at which it needs nothing
    /// It takes light off the face, too: where the window is the key, as much as off the view.
    bool nd_helps() const { return nd_density > 0 && over_face_with_nd < over_face - 0.05; }
};

struct DayCourse {
    std::string title, setup, option;
    std::string zone;           // "UTC+1"
    std::vector<double> clock;  // hours, the plan's own among them
    std::size_t plan = 0;       // number of the plan's own time
    double minutes = 0;         // that the set-up takes
    std::vector<SunPosition> sun;
    std::vector<WeatherCourse> weathers;
    std::vector<SunOn> sun_on;
    std::vector<ViewHold> view_holds;  // one a weather
    double seconds = 0;
    std::vector<std::string> remarks;
};

/// Tolerances of a sun window.
inline constexpr double window_stops = 1.0 / 3, window_kelvin = 200;

}  // namespace rushlight
