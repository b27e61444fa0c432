// Lamps from photometric files: lumens of a table against integrals known in closed form and against the handbook's
// zonal constants, and what a meter finds under them against the inverse square and cosine laws.
#include "luminaire_text.h"
#include "quantity/units.h"
#include "references/rooms.h"
#include "setup/read/luminaires.h"

#include <array>

namespace rushlight::validation {

namespace {

using namespace luminaire_text;

const std::string section = "Luminaire files";

double cos_power(double v, double n) {
    return v < 90 ? std::pow(cosine(v), n) : 0;
}

/// Phi = 2 pi I0 / (n + 1) for I = I0 cos^n.
void lumens_in_closed_form(Cases& all) {
    for (const int n : {1, 2, 4}) {
        const auto shape = [n](double v, double) { return 1000 * cos_power(v, n); };
        const double want = 2 * pi * 1000 / (n + 1);
        const std::string what = "I = 1000 cos^" + std::to_string(n) + " cd, every 2.5°: lumens of ";
        all.push_back({"lum-63-" + std::to_string(n), section, what + "the LM-63 file", "Φ = 2π I₀ / (n + 1)", want,
                       "lm", 0.002, sure([shape] {
                           return luminaire_from_text(lm63(1, steps(0, 90, 2.5), {0}, shape).text(), "f.ies").lumens;
                       })});
        all.push_back({"lum-eul-" + std::to_string(n), section, what + "the EULUMDAT file", "Φ = 2π I₀ / (n + 1)", want,
                       "lm", 0.002, sure([shape] {
                           Eulumdat f;
                           f.gamma = steps(0, 180, 2.5);
                           f.candela = shape;
                           return luminaire_from_text(f.text(), "f.ldt").lumens;
                       })});
    }
}

/// Flux by the handbook's method: candela in the middle of each zone of 10 degrees, times the zone's constant.
void zonal_constants(Cases& all) {
    constexpr std::array<double, 9> constants{0.0954, 0.2835, 0.4629, 0.6282, 0.7744, 0.8972, 0.9926, 1.0579, 1.0911};
    const auto batwing = [](double v) {
        return 300 * cos_power(v, 1) * (1 + 2.5 * std::pow(std::sin(radians(Degree{v})), 4));
    };
    double want = 0;
    for (std::size_t zone = 0; zone < constants.size(); ++zone)
        want += constants[zone] * batwing(10 * static_cast<double>(zone) + 5);
    all.push_back({"lum-zones", section, "a batwing, every 5°: lumens against zones of 10°",
                   "zonal constants of the IES handbook, from memory; good to 1 %", want, "lm", 0.01, sure([batwing] {
                       const auto shape = [batwing](double v, double) { return batwing(v); };
                       return luminaire_from_text(lm63(1, steps(0, 90, 5), {0}, shape).text(), "f.ies").lumens;
                   })});
}

/// A small lamp of the file 4 m over a level meter that is `off` from under it: E = I cos^3 / h^2.
Run under(const std::string& text, const std::string& file, const Vec3& off) {
    return run_of(
        [text, file] {
            Lamp l;
            l.luminaire = std::make_shared<const Luminaire>(luminaire_from_text(text, file));
            l.shape = LampShape::hard;
            l.at = {0, 0, 4};
            l.aim = {0, 0, -1};
            l.width = l.height = 0.02;
            l.intensity_or_flux = equal_energy() * static_cast<float>(l.luminaire->lumens);
            Scene s;
            add_lamp(s, l);
            small::finish(s);
            return s;
        },
        {flat(off, {0, 0, 1})}, 0.0005);
}

void meters_under_them(Cases& all) {
    constexpr double height = 4;
    const auto lux = [](double candela, double degrees) {
        return candela * std::pow(cosine(degrees), 3) / (height * height);
    };
    const auto away = [](double degrees, double turn) {
        const double far = height * std::tan(radians(Degree{degrees}));
        return Vec3(static_cast<float>(far * cosine(turn)), static_cast<float>(far * std::sin(radians(Degree{turn}))),
                    0);
    };
    const std::string source = "E = I cos³γ / h²";
    const auto narrow = [](double v, double) { return 20000 * std::exp2(-v * v / 100); };
    const std::string spot = lm63(1, steps(0, 40, 0.5), {0}, narrow).text();
    all.push_back({"lum-under", section, "narrow head of 20,000 cd, 4 m over the meter", source, lux(20000, 0), "lx",
                   0.002, reading(under(spot, "f.ies", {0, 0, 0}), 0)});
    all.push_back({"lum-beside", section, "the same, 10° off, where half the candela is left", source, lux(10000, 10),
                   "lx", 0.003, reading(under(spot, "f.ies", away(10, 70)), 0)});
    // Feet change nothing but the opening; the multiplier and the ballast multiply.
    Lm63 many = lm63(1, steps(0, 40, 0.5), {0}, narrow);
    many.multiplier = 0.5;
    many.ballast = 0.9;
    many.units = 1;
    all.push_back({"lum-factors", section, "the same with multiplier .5, ballast factor .9, in feet",
                   "LM-63: the factors multiply the candela", lux(9000, 0), "lx", 0.002,
                   reading(under(many.text(), "f.ies", {0, 0, 0}), 0)});
    // The length of the opening lies along x and in plane C 90; C 0 is square to it (EULUMDAT, from memory).
    // Two-fold symmetry: C and 360 - C, 180 - C alike; the table holds a quarter.
    Eulumdat quarter;
    quarter.symmetry = 4;
    quarter.all_planes = steps(0, 345, 15);
    quarter.written_planes = steps(0, 90, 15);
    quarter.gamma = steps(0, 180, 5);
    quarter.candela = [](double v, double h) { return 900 * cos_power(v, 1) * (1.5 + 0.5 * cosine(2 * h)); };
    for (const double turn : {0.0, 90.0, 210.0}) {
        const double candela = 900 * cosine(30) * (1.5 + 0.5 * cosine(2 * turn));
        all.push_back({"lum-quarter-" + std::to_string(static_cast<int>(turn)), section,
                       "EULUMDAT with a quarter written: 30° off, plane C " + std::to_string(static_cast<int>(turn)),
                       source, lux(candela, 30), "lx", 0.004,
                       reading(under(quarter.text(), "f.ldt", away(30, 90 - turn)), 0)});
    }
}

}  // namespace

Cases luminaire_cases() {
    Cases all;
    lumens_in_closed_form(all);
    zonal_constants(all);
    meters_under_them(all);
    return all;
}

}  // namespace rushlight::validation
