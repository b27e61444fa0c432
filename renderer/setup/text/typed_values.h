// Lengths, levels, outputs, dates and times as people type them, turned into numbers.
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace rushlight {

/// "6ft 2in", "0.9 m", "90 cm", "900 mm" in metres (1 ft = 0.3048 m exactly). Nothing if it is no length.
std::optional<double> length_from(std::string_view text);

/// "50%" or "-1 stop" as a linear share of full output.
std::optional<double> level_from(std::string_view text);

/// A lamp's light as its maker or a meter says it. `distance` is metres, for lux only.
struct TypedOutput {
    enum class Unit { lumen, lux, candela, luminance } unit = Unit::lumen;
    double amount = 0;
    double distance = 0;
};
/// "9000 lm", "20000 cd", "5200 lx at 3 m", "480 fc at 10ft", "800 cd/m2".
std::optional<TypedOutput> output_from(std::string_view text);

/// "2026-10-14", "14 October 2026" or "14 Oct 2026" as year, month, day, if there is such a day.
std::optional<std::array<int, 3>> date_from(std::string_view text);
/// "11:00", "11:00:30", "11.00" or "11h00" in hours.
std::optional<double> clock_from(std::string_view text);
/// "UTC", "UTC+1", "UTC-03:30" in hours.
std::optional<double> utc_offset_from(std::string_view text);

}  // namespace rushlight
