// The units of light. A Quantity is one double with a name that the compiler checks: there is no way from candela to
// lux but the named crossings below. Typed at the edges (file, rig, readings, pages); plain floats inside the tracer,
// where every value is a band of a spectrum (see spectrum.h).
#pragma once

#include <cmath>
#include <compare>
#include <numbers>

namespace rushlight {

template <class Tag>
struct Quantity {
    double value = 0;

    constexpr Quantity() = default;
    constexpr explicit Quantity(double v) : value(v) {}

    friend constexpr auto operator<=>(Quantity, Quantity) = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) requires Tag::additive {
        return Quantity{a.value + b.value};
    }
    friend constexpr Quantity operator-(Quantity a, Quantity b) requires Tag::additive {
        return Quantity{a.value - b.value};
    }
    friend constexpr Quantity operator*(Quantity a, double k) requires Tag::additive { return Quantity{a.value * k}; }
    friend constexpr double operator/(Quantity a, Quantity b) requires Tag::additive { return a.value / b.value; }
};

struct LuxTag {
    static constexpr bool additive = true;
};
struct CandelaTag {
    static constexpr bool additive = true;
};
struct LumenTag {
    static constexpr bool additive = true;
};
struct LuminanceTag {
    static constexpr bool additive = true;
};
struct MetreTag {
    static constexpr bool additive = true;
};
struct DegreeTag {
    static constexpr bool additive = true;
};
struct StopTag {
    static constexpr bool additive = true;
};
struct MiredTag {
    static constexpr bool additive = true;
};
struct SecondTag {
    static constexpr bool additive = true;
};
struct KelvinTag {
    static constexpr bool additive = false;
};  // two colour temperatures do not add

using Lux = Quantity<LuxTag>;          // lm/m2
using Candela = Quantity<CandelaTag>;  // lm/sr
using Lumen = Quantity<LumenTag>;
using Luminance = Quantity<LuminanceTag>;  // cd/m2
using Metre = Quantity<MetreTag>;
using Degree = Quantity<DegreeTag>;
using Stop = Quantity<StopTag>;    // a difference: factor 2
using Mired = Quantity<MiredTag>;  // 10^6 / K, or a shift of it
using Second = Quantity<SecondTag>;
using Kelvin = Quantity<KelvinTag>;

inline constexpr double pi = std::numbers::pi;
inline constexpr float pi_f = std::numbers::pi_v<float>;

constexpr double radians(Degree angle) {
    return angle.value * pi / 180.0;
}
constexpr Degree degrees(double radians) {
    return Degree{radians * 180.0 / pi};
}

/// Illuminance from a point of intensity `i` at distance `d`, on a surface whose normal makes `cosine` with
/// the light: E = I cos / d^2 (Lambert; any photometry text).
constexpr Lux illuminance(Candela i, Metre d, double cosine) {
    return Lux{i.value * cosine / (d.value * d.value)};
}
/// Luminance of a matt surface of `reflectance` under `e`: L = rho E / pi.
constexpr Luminance luminance_of_matt(Lux e, double reflectance) {
    return Luminance{reflectance * e.value / pi};
}
/// Flux of a source of equal intensity all round: phi = 4 pi I.
constexpr Lumen flux_all_round(Candela i) {
    return Lumen{4 * pi * i.value};
}

/// Stops from `from` up to `to`: log2(to / from). Zero light is minus infinity: callers say "no light".
inline Stop stops_between(Lux from, Lux to) {
    return Stop{std::log2(to.value / from.value)};
}
inline Stop stops_between(Luminance from, Luminance to) {
    return Stop{std::log2(to.value / from.value)};
}
inline double factor(Stop s) {
    return std::exp2(s.value);
}

constexpr Mired mired(Kelvin k) {
    return Mired{1e6 / k.value};
}
constexpr Kelvin kelvin(Mired m) {
    return Kelvin{1e6 / m.value};
}

/// 1 fc = 1 lm/ft2 (NIST SP 811: 1 ft = 0.3048 m exactly).
constexpr Lux from_footcandles(double fc) {
    return Lux{fc / (0.3048 * 0.3048)};
}
constexpr double footcandles(Lux e) {
    return e.value * 0.3048 * 0.3048;
}
constexpr Metre from_feet(double feet) {
    return Metre{feet * 0.3048};
}

}  // namespace rushlight
