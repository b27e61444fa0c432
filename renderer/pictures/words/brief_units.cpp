#include "pictures/words/brief_units.h"

#include "pictures/words/numbers.h"

#include <cmath>

namespace rushlight {

namespace {

const std::string times = " × ", foot = "′", inch = "″", minus = "−";

std::string feet(double metres) {
    constexpr double per_inch = 0.0254;
    const long inches = std::lround(std::abs(metres) / per_inch);
    std::string text = metres < 0 && inches > 0 ? minus : "";
    if (inches >= 12 || inches == 0) text += std::to_string(inches / 12) + foot;
    if (inches % 12 != 0) text += (inches >= 12 ? " " : "") + std::to_string(inches % 12) + inch;
    return text;
}

std::string in_metres(double m) {
    return (m < 0 && m < -0.005 ? minus : "") + fixed(std::abs(m), 2);
}

/// 1.2 and not 1.20; 0.25 stays.
std::string short_metres(double m) {
    std::string text = fixed(m, 2);
    while (text.ends_with('0') && !text.ends_with(".0")) text.pop_back();
    return text;
}

}  // namespace

std::string length_text(double metres, BriefUnits units) {
    return units == BriefUnits::metric ? in_metres(metres) + " m" : feet(metres);
}

std::string size_text(double width, double height, BriefUnits units) {
    return units == BriefUnits::metric ? short_metres(width) + times + short_metres(height) + " m"
                                       : feet(width) + times + feet(height);
}

std::string light_text(double lux, BriefUnits units) {
    if (!std::isfinite(lux) || lux <= 0) return no_light;
    return units == BriefUnits::metric ? lux_text(lux) + " lx" : lux_text(lux / lux_per_footcandle) + " fc";
}

std::string light_text(double lux, double error, BriefUnits units) {
    if (!std::isfinite(lux) || lux <= 0) return no_light;
    const double per = units == BriefUnits::metric ? 1.0 : lux_per_footcandle;
    return lux_text(lux / per) + " ± " + lux_error_text(lux / per, error / per) +
           (units == BriefUnits::metric ? " lx" : " fc");
}

std::string level_text(double level, bool on) {
    if (!on || level <= 0) return "off";
    if (level > 0.9995) return "full";
    const double stops = std::log2(level);
    return fixed(100 * level, level < 0.0995 ? 1 : 0) + " % (" + stops_text(stops) + " stops)";
}

}  // namespace rushlight
