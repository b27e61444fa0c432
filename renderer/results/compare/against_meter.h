// Traced readings beside a meter's.
#pragma once

#include "results/sheet/sheet.h"
#include "setup/text/metered_table.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct AgainstMeter {
    struct Line {
        std::string what;
        std::optional<double> lux, kelvin;  // by the meter
        Measured traced;                    // lux
        double traced_kelvin = 0;
        Measured stops = {};  // traced over the meter, where lux was measured
        double mired = 0;     // traced over the meter, where kelvin was measured
    };
    std::vector<Line> lines;
    Measured offset;    // mean of the stops, and the error that their spread gives it
    double spread = 0;  // stops, standard deviation about the mean
    bool off_unevenly =
        false;  // readings are off by different amounts: something in the room is wrong, not just the light's strength
    std::vector<std::string> remarks;
};

/// Throws InputError for a name of the table that is none of these readings.
void expect_readings(const MeteredTable& table, const std::vector<std::string>& names);
/// Throws InputError for a name that is no reading of the sheet.
AgainstMeter against_meter(const Sheet& sheet, const MeteredTable& table);

}  // namespace rushlight
