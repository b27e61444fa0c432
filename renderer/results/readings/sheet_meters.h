// All that is measured for one sheet, in one run that shares its light paths: light meters, the outlines of heads, the
// spots of people, the lens and the windows it sees. How sure each must be is in the unit that people use.
#pragma once

#include "paths/measure.h"
#include "results/readings/readings.h"
#include "results/readings/spots.h"
#include "results/readings/view_spots.h"

namespace rushlight {

/// Numbers are those of `points`.
struct SheetMeters {
    std::vector<MeterPoint> points;  // light meters first, as place_meters() has them
    Wanted wanted;
    std::vector<OutlineMeters> outlines;
    struct Person {
        PersonSpots placed;
        std::size_t first = 0;  // of its spots
    };
    std::vector<Person> people;  // one for each mark, where there is a camera
    std::size_t lens = 0;        // where there is a camera
    struct Window {
        std::string opening;
        std::vector<std::size_t> spots;
    };
    std::vector<Window> windows;
};

SheetMeters sheet_meters(const Setup& setup, const Scene& scene);

}  // namespace rushlight
