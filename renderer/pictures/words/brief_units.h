// Lengths, light and weights in the units that a crew asked for.
#pragma once

#include <string>

namespace rushlight {

enum class BriefUnits { metric, imperial };

/// "2.10 m" or 6′ 11″. Feet and inches to the nearest inch.
std::string length_text(double metres, BriefUnits units);
/// "1.2 x 2.4 m" or 4′ x 7′ 10″.
std::string size_text(double width, double height, BriefUnits units);
/// With the unit: "850 lx", "79 fc". 1 fc = 10.763910416709722 lx (1 ft = 0.3048 m exactly).
std::string light_text(double lux, BriefUnits units);
/// The same with its standard error: "850 ± 9 lx".
std::string light_text(double lux, double error, BriefUnits units);

inline constexpr double lux_per_footcandle = 1 / (0.3048 * 0.3048);

/// "50 % (−1.0 stop)", "full", "off".
std::string level_text(double level, bool on);

}  // namespace rushlight
