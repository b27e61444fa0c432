#include "setup/plain/lamp_output.h"

#include "quantity/units.h"
#include "setup/luminaire/luminaire.h"

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

double luminaire_lux(const Lamp& lamp, double distance) {
    const IntensityTable& table = lamp.luminaire->intensity;
    const bool round = lamp.shape == LampShape::hard;
    const double face = (round ? pi / 4 : 1.0) * lamp.width * lamp.height;
    constexpr int n = 48;
    double sum = 0;
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const double u = (i + 0.5) / n, v = (j + 0.5) / n;
            const double r = lamp.width / 2 * std::sqrt(u), a = 2 * pi * v;
            const double x = round ? r * std::cos(a) : (u - 0.5) * lamp.width;
            const double y = round ? r * std::sin(a) : (v - 0.5) * lamp.height;
            const double away = distance - lamp.depth / 2, r2 = x * x + y * y + away * away;
            const Vec3 d = Vec3(static_cast<float>(-x), static_cast<float>(-y), static_cast<float>(away)).normalized();
            const double sides = lamp.depth * (round ? lamp.width * std::sqrt(std::max(0.0F, 1 - d.z * d.z))
                                                     : lamp.height * std::abs(d.x) + lamp.width * std::abs(d.y));
            sum += table.candela(d) / (face * d.z + sides) * d.z * d.z / r2;
        }
    return sum * face / (n * n);
}

LampLight lamp_light(const Lamp& lamp, const TypedOutput& typed) {
    if (lamp.luminaire && typed.unit != TypedOutput::Unit::lumen) {
        const bool lux = typed.unit == TypedOutput::Unit::lux;
        const double one = lux ? luminaire_lux(lamp, typed.distance) : lamp.luminaire->intensity.candela({0, 0, 1});
        return {Lamp::Output::lumen, one > 0 ? typed.amount / one * lamp.luminaire->lumens : 0};
    }
    switch (typed.unit) {
        case TypedOutput::Unit::lumen:
            return {Lamp::Output::lumen, typed.amount};
        case TypedOutput::Unit::candela:
            return {Lamp::Output::candela, typed.amount};
        case TypedOutput::Unit::luminance:  // a hard lamp's disc, seen on the aim; else even, by Lambert's law
            if (lamp.shape == LampShape::hard)
                return {Lamp::Output::candela, typed.amount * pi / 4 * lamp.width * lamp.width};
            return {Lamp::Output::lumen, typed.amount * flux_per_luminance(lamp)};
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
