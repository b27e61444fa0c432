#include "setup/lamp_output.h"

#include "quantity/units.h"

#include <cmath>

namespace rushlight {

double lux_per_luminance(const Lamp& lamp, double distance) {
    switch (lamp.shape) {
        case LampShape::box: {
            const double a = lamp.width / (2 * distance), b = lamp.height / (2 * distance);
            const double ra = std::sqrt(1 + a * a), rb = std::sqrt(1 + b * b);
            return 2 * (a / ra * std::atan(b / ra) + b / rb * std::atan(a / rb));
        }
        case LampShape::ball: {
            const double sine = lamp.width / 2 / distance;
            return pi * sine * sine;
        }
        case LampShape::tube: {
            const double t = lamp.width / (2 * distance);
            return lamp.height / distance * (std::atan(t) + t / (1 + t * t));
        }
        case LampShape::ring: {
            const auto disc = [&](double diameter) {
                return 1 / (1 + 4 * distance * distance / (diameter * diameter));
            };
            return pi * (disc(lamp.width) - disc(lamp.height));
        }
        case LampShape::hard:
            break;
    }
    return 0;
}

double flux_per_luminance(const Lamp& lamp) {
    switch (lamp.shape) {
        case LampShape::box:
            return pi * lamp.width * lamp.height;
        case LampShape::ball:
            return pi * pi * lamp.width * lamp.width;
        case LampShape::tube:
            return pi * pi * lamp.width * lamp.height;
        case LampShape::ring:
            return pi * pi / 4 * (lamp.width * lamp.width - lamp.height * lamp.height);
        case LampShape::hard:
            break;
    }
    return 0;
}

LampLight lamp_light(const Lamp& lamp, const TypedOutput& typed) {
    switch (typed.unit) {
        case TypedOutput::Unit::lumen:
            return {Lamp::Output::lumen, typed.amount};
        case TypedOutput::Unit::candela:
            return {Lamp::Output::candela, typed.amount};
        case TypedOutput::Unit::lux:
            break;
    }
    if (lamp.shape == LampShape::hard) return {Lamp::Output::candela, typed.amount * typed.distance * typed.distance};
    return {Lamp::Output::lumen, typed.amount / lux_per_luminance(lamp, typed.distance) * flux_per_luminance(lamp)};
}

double beam_solid_angle(double beam_degrees) {
    return 2 * pi * (1 - std::cos(radians(Degree{beam_degrees}) / 2));
}

}  // namespace rushlight
