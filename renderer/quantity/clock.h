// Times of day in words.
#pragma once

#include <string>

namespace rushlight {

/// "10:40" of hours by the clock.
std::string clock_text(double hours);

/// "UTC+2" or "UTC-3:30" of hours before Greenwich.
std::string zone_text(double utc_offset_hours);

}  // namespace rushlight
