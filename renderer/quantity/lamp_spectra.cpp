#include "quantity/lamp_spectra.h"

#include "quantity/chromaticity.h"
#include "quantity/dye.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>

namespace rushlight {

namespace {

/// A line or hump: middle and full width at half height in nm, and its power.
struct Hump {
    double middle, width, power;
};

/// Mean over each band of a sum of Gaussian humps, by its twenty 1 nm midpoints.
Spectrum humps(std::initializer_list<Hump> all) {
    Spectrum s;
    for (int b = 0; b < bands; ++b)
        for (int i = 0; i < 20; ++i) {
            const double nm = first_band_from + band_width * b + i + 0.5;
            for (const Hump& h : all) {
                const double sigma = h.width / 2.354820, z = (nm - h.middle) / sigma;
                s[b] += static_cast<float>(h.power * std::exp(-0.5 * z * z) / sigma / 20);
            }
        }
    return s;
}

Uv uv_of(const Spectrum& light) {
    return uv(tristimulus(light));
}

/// CIE 1960 u,v at `duv` from the black body of `k`, square to the locus.
Uv on_the_isotherm(Kelvin k, double duv) {
    const Uv here = uv_of(blackbody(k));
    const Uv warmer = uv_of(blackbody(Kelvin{k.value * 0.999})), cooler = uv_of(blackbody(Kelvin{k.value * 1.001}));
    const double du = cooler.u - warmer.u, dv = cooler.v - warmer.v, length = std::hypot(du, dv);
    // Square to the way along the locus, towards green: larger v.
    const double side = du < 0 ? 1 : -1;
    return {here.u + side * duv * dv / length, here.v - side * duv * du / length};
}

Spectrum one_unit(const Spectrum& shape) {
    return scaled_to(shape, 1.0);
}

/// The mixture of three lights that has the wanted colour; nothing where one of them would have to be negative.
std::optional<Spectrum> mixed(const std::array<Spectrum, 3>& lights, Uv wanted) {
    Matrix m{};
    for (std::size_t i = 0; i < 3; ++i) {
        const Tristimulus t = tristimulus(one_unit(lights[i]));
        m[0][i] = t.x;
        m[1][i] = t.y;
        m[2][i] = t.z;
    }
    const Triple amount = inverse(m) * triple(at_unit_luminance(wanted));
    Spectrum sum;
    for (std::size_t i = 0; i < 3; ++i) {
        if (!(amount[i] >= 0)) return std::nullopt;
        sum += one_unit(lights[i]) * static_cast<float>(amount[i]);
    }
    return one_unit(sum);
}

std::array<Spectrum, 3> family(LightKind kind) {
    switch (kind) {
        case LightKind::wide_led:
            return {humps({{415, 18, 0.30}, {465, 55, 0.70}}), humps({{535, 85, 1}}), humps({{628, 95, 1}})};
        case LightKind::fluorescent:
            return {humps({{405, 5, 0.06}, {436, 4, 0.24}, {452, 50, 0.50}, {488, 12, 0.20}}),
                    humps({{543, 9, 0.78}, {548, 4, 0.10}, {579, 4, 0.03}, {587, 14, 0.09}}),
                    humps({{611, 5, 0.70}, {593, 12, 0.10}, {630, 8, 0.12}, {650, 10, 0.04}, {708, 8, 0.04}})};
        default:
            // The hump of a warm white lies farther to the red than that of a cool one: a mixture of two.
            return {humps({{450, 20, 1}}), humps({{540, 105, 1}}), humps({{604, 100, 1}})};
    }
}

/// The simplest filter that can move a colour both ways.
struct Filter {
    double slope = 0, bend = 0;
    Spectrum shares() const { return free_shares(slope, bend); }
};

/// The filter through which `light` gets the wanted colour, by Newton's method; nothing where there is none.
std::optional<Filter> filter_to(const Spectrum& light, Uv wanted) {
    Filter f;
    const auto through = [&](double slope, double bend) { return uv_of(Filter{slope, bend}.shares() * light); };
    for (int i = 0; i < 60; ++i) {
        const Uv now = through(f.slope, f.bend);
        const double du = wanted.u - now.u, dv = wanted.v - now.v;
        if (std::hypot(du, dv) < 2e-7) return f;
        constexpr double step = 1e-2;
        const Uv sloped = through(f.slope + step, f.bend), bent = through(f.slope, f.bend + step);
        const double us = (sloped.u - now.u) / step, vs = (sloped.v - now.v) / step;
        const double ub = (bent.u - now.u) / step, vb = (bent.v - now.v) / step;
        const double whole = us * vb - ub * vs;
        f.slope += std::clamp((du * vb - dv * ub) / whole, -2.0, 2.0);
        f.bend += std::clamp((dv * us - du * vs) / whole, -4.0, 4.0);
        if (!(std::abs(f.slope) < 40 && std::abs(f.bend) < 80)) return std::nullopt;
    }
    return std::nullopt;
}

std::optional<Spectrum> moved_to(const Spectrum& light, Uv wanted) {
    const auto filter = filter_to(light, wanted);
    if (!filter) return std::nullopt;
    return one_unit(filter->shares() * light);
}

constexpr Kelvin warm_channel{2700}, cool_channel{6500};

std::optional<Spectrum> two_channels(Kelvin k) {
    if (k < warm_channel || k > cool_channel) return std::nullopt;
    const Spectrum warm = *lamp_spectrum(LightKind::white_led, warm_channel, 0.0);
    const Spectrum cool = *lamp_spectrum(LightKind::white_led, cool_channel, 0.0);
    const auto mix = [&](double share) {
        return warm * static_cast<float>(1 - share) + cool * static_cast<float>(share);
    };
    double low = 0, high = 1;
    for (int i = 0; i < 40; ++i) {
        const double middle = 0.5 * (low + high);
        (colour_temperature(tristimulus(mix(middle))).cct < k ? low : high) = middle;
    }
    return one_unit(mix(0.5 * (low + high)));
}

}  // namespace

std::optional<Spectrum> lamp_spectrum(LightKind kind, Kelvin k, std::optional<double> duv) {
    std::optional<Spectrum> natural;
    switch (kind) {
        case LightKind::plain:
            natural = white_light(k);
            break;
        case LightKind::tungsten:
            natural = blackbody(k);
            break;
        case LightKind::daylight:
            if (k.value >= 4000) natural = daylight(k);
            break;
        case LightKind::two_channel_led:
            natural = two_channels(k);
            break;
        default:
            if (const auto light = mixed(family(kind), on_the_isotherm(k, duv.value_or(0)))) return light;
            natural = mixed(family(kind), on_the_isotherm(k, 0));
    }
    return natural && duv ? moved_to(*natural, on_the_isotherm(k, *duv)) : natural;
}

Spectrum green_gel(double duv, double transmission, const Spectrum& light) {
    const ColourTemperature now = colour_temperature(tristimulus(light));
    const auto filter = filter_to(light, on_the_isotherm(now.cct, now.duv + duv));
    if (!filter) return Spectrum{static_cast<float>(transmission)};
    return dyed(filter->slope, filter->bend, transmission, light);
}

Kelvin dimmed_filament(Kelvin at_full, double level) {
    constexpr double least = 1e-3;  // a filament so dark gives no light worth a colour
    return Kelvin{std::max(1000.0, at_full.value * std::pow(std::clamp(level, least, 1.0), 0.42 / 3.4))};
}

}  // namespace rushlight
