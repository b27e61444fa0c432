#include "quantity/clock.h"

#include <cmath>
#include <cstdio>

namespace rushlight {

std::string clock_text(double hours) {
    const int minutes = static_cast<int>(std::lround(hours * 60));
    char text[16];
    std::snprintf(text, sizeof text, "%02d:%02d", minutes / 60 % 100, minutes % 60);
    return text;
}

std::string zone_text(double utc_offset_hours) {
    char text[16];
    const int minutes = static_cast<int>(std::lround(std::abs(utc_offset_hours) * 60));
    std::snprintf(text, sizeof text, minutes % 60 != 0 ? "UTC%c%d:%02d" : "UTC%c%d", utc_offset_hours < 0 ? '-' : '+',
                  minutes / 60 % 100, minutes % 60);
    return text;
}

}  // namespace rushlight
