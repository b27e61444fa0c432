// In which order to shoot: the heaviest first, each in its sun window, while the people it needs are there.
#pragma once

#include "quantity/space.h"
#include "results/day/day_course.h"

namespace rushlight {

struct ToShoot {
    std::string name;
    double minutes = 45;
    std::vector<Interval> holds;            // sun windows, hours
    std::vector<double> clock, off;         // how far off its plan the light is: WeatherCourse::off; may be empty
    double free_from = 0, free_until = 24;  // while all who are needed are there, hours
    std::string who;                        // of them comes last, or leaves first
    bool any_hour = false;                  // its light hangs on no sun and no sky
    Vec3 looks{0, 1, 0};  // level direction of the camera: set-ups more than 90 degrees apart are a turn-around
};

/// A set-up with what its day says of it; null where nothing of its light comes from outside.
ToShoot to_shoot(const Setup& setup, const DayCourse* day, Weather weather);

struct Shot {
    std::size_t number = 0;  // in the list given
    std::string name;
    double from = 0, to = 0;    // hours
    double outside = 0;         // minutes outside its sun window
    double without_people = 0;  // minutes when somebody needed is not there
    std::string reason;
};

struct ShootingOrder {
    Weather weather = Weather::clear;
    bool exact = true;  // the best of all orders; else set-ups are placed one after another
    std::vector<Shot> shots;
    double outside = 0;  // minutes, of all
};

/// The best order from `from` on, set-ups starting at whole steps of `grid` hours. Dynamic programming over subsets,
/// exact up to 12 set-ups; what counts, in falling weight: minutes without people, minutes after `to`, minutes outside
/// a sun window, turn-arounds, a lighter set-up before a heavier, waiting.
ShootingOrder shooting_order(const std::vector<ToShoot>& setups, double from, double to, Weather weather);

}  // namespace rushlight
