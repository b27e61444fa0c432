// The sky's luminance by the standard's table, and closed forms of an even sky seen through holes.
#include "references/references.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

const std::string section = "Sky";

Vec3 toward(double zenith, double azimuth) {
    const double z = radians(Degree{zenith}), a = radians(Degree{azimuth});
    return {static_cast<float>(std::sin(z) * std::sin(a)), static_cast<float>(std::sin(z) * std::cos(a)),
            static_cast<float>(std::cos(z))};
}

/// Illuminance over zenith luminance on a vertical face towards azimuth 0 or 180; midpoints.
double vertical(const GeneralSky& sky, double facing) {
    constexpr int rings = 300, sectors = 300;
    double sum = 0;
    for (int i = 0; i < rings; ++i) {
        const double up = (i + 0.5) / rings, across = std::sqrt(1 - up * up);
        for (int j = 0; j < sectors; ++j) {
            const double a = 2 * pi * (j + 0.5) / sectors;
            const Vec3 d(static_cast<float>(across * std::sin(a)), static_cast<float>(across * std::cos(a)),
                         static_cast<float>(up));
            sum += std::max(0.0, facing * static_cast<double>(d.y)) * sky.relative_luminance(d);
        }
    }
    return sum * 2 * pi / (rings * sectors);
}

void general_skies(Cases& all) {
    const std::string source =
        "CIE S 011 = ISO 15469:2004; evaluated independently (table from memory, met by an open implementation)";
    const double rows[15][6] = {{.8326, .8326, .8326, 2.4495, .3792, .3792},
                                {1.6419, .7009, .5546, 2.3635, .4766, .2659},
                                {.9067, .9067, .9067, 2.7700, .4466, .4466},
                                {1.7881, .7633, .6040, 2.6467, .5507, .3119},
                                {1, 1, 1, 3.1416, .5000, .5000},
                                {1.9721, .8418, .6661, 2.9775, .6111, .3490},
                                {3.5370, .7650, .5703, 3.1431, .6734, .2929},
                                {5.4538, .6984, .4801, 3.3387, .7293, .2377},
                                {2.5200, 1.0757, .8512, 4.0587, .7666, .4459},
                                {4.5197, .9775, .7288, 4.2534, .8282, .3790},
                                {6.9692, .8925, .6135, 4.4854, .8837, .3100},
                                {7.2491, .9283, .6381, 4.8485, .9675, .3557},
                                {9.0392, .8550, .5269, 4.9827, 1.0137, .2747},
                                {9.3321, .8827, .5439, 5.3753, 1.1491, .3351},
                                {9.9106, .8059, .3987, 5.2711, 1.2035, .2284}};
    const std::array<const char*, 6> what{"luminance over the zenith's, towards the sun",
                                          "beside the sun",
                                          "opposite the sun",
                                          "horizontal lux over zenith luminance",
                                          "vertical over horizontal lux, facing the sun",
                                          "the same, facing away"};
    for (int type = 1; type <= 15; ++type) {
        const auto sky = std::make_shared<GeneralSky>(type, toward(45, 0));
        const std::array<std::function<double()>, 6> measure{
            [=] { return sky->relative_luminance(toward(45, 0)); },
            [=] { return sky->relative_luminance(toward(45, 90)); },
            [=] { return sky->relative_luminance(toward(45, 180)); },
            [=] { return sky->horizontal_over_zenith(); },
            [=] { return vertical(*sky, 1) / sky->horizontal_over_zenith(); },
            [=] { return vertical(*sky, -1) / sky->horizontal_over_zenith(); }};
        for (std::size_t k = 0; k < 6; ++k)
            all.push_back(
                {"2.1-" + std::to_string(type) + static_cast<char>('a' + k), section,
                 "sky type " + std::to_string(type) + ", sun 45° high: " + what[k] + (k < 3 ? ", 45° up" : ""), source,
                 rows[type - 1][k], k == 3 ? "sr" : "", k < 4 ? 0.0 : 0.005, sure(measure[k]),
                 k < 3    ? 1e-4
                 : k == 3 ? 2e-4
                          : 0});
    }
    const GeneralSky overcast(1, toward(45, 0));
    for (const auto& [zenith, want] : std::array<std::array<double, 2>, 2>{{{60, .66516}, {80, .3586}}})
        all.push_back({zenith < 70 ? "2.2-1" : "2.2-2", section,
                       "type 1 at " + std::to_string(static_cast<int>(zenith)) +
                           "° from the zenith (the older overcast sky has .66667 and .4491)",
                       "ISO 15469:2004", want, "", 0,
                       sure([=, z = zenith] { return overcast.relative_luminance(toward(z, 123)); }), 1e-4});
}

void traditional_overcast(Cases& all) {
    const GeneralSky sky(16, toward(45, 0));
    const std::string source = "L = Lz (1 + 2 sin h) / 3, Moon and Spencer 1942; its integral";
    int number = 2;
    for (const double zenith : {60.0, 80.0, 90.0})
        all.push_back({"2.2-" + std::to_string(++number), section,
                       "traditional overcast at " + std::to_string(static_cast<int>(zenith)) + "° from the zenith",
                       source, (1 + 2 * std::cos(radians(Degree{zenith}))) / 3, "", 0,
                       sure([=] { return sky.relative_luminance(toward(zenith, 123)); }), 1e-4});
    all.push_back({"2.2-6", section, "traditional overcast, horizontal over zenith", source, 7 * pi / 9, "sr", 0,
                   sure([=] { return sky.horizontal_over_zenith(); }), 2e-4});
}

/// A black room 8 x 8 m under a sky of 1000 cd/m2, the meter in its middle; E over pi L.
std::function<Measured()> sky_component(double height, double at_height, const std::vector<Opening>& holes,
                                        const Vec3& at, std::optional<double> round = {}) {
    const Run run = run_of(
        [=] {
            Scene s;
            const float z = static_cast<float>(height);
            const auto openings = add_room(s, {8, 8, round ? z + 1e-4F : z}, holes);
            if (round) add(s, round_mask({4, 4, z}, *round));
            s.lights.add("sky", SkyLight(by_hand::outside(1000, 0), openings));
            finish(s);
            return s;
        },
        {flat(at + Vec3(0, 0, static_cast<float>(at_height)), {0, 0, 1})}, 0.0015);
    return reading(run, 0, 1 / (pi * 1000));
}

void sky_components(Cases& all) {
    const double r = std::tan(radians(Degree{30}));
    all.push_back(
        {"2.3-1", section, "even sky, round roof hole of half angle 30°", "sin² t, elementary integral", 0.25, "",
         0.005,
         sky_component(1.5, 0.5, {hole(Wall::ceiling, 4 - 1.01 * r, 4 + 1.01 * r, 4 - 1.01 * r, 4 + 1.01 * r)},
                       {4, 4, 0}, r)});
    int number = 0;
    for (const double b : {0.0, 10.0, 20.0, 30.0, 45.0}) {
        const Run run = run_of(
            [b] {
                Scene s;
                if (b > 0) {
                    const double height = 10 * std::tan(radians(Degree{b}));
                    Box mask;
                    mask.centre = Vec3(0, -10.5F, static_cast<float>(1 + height / 2 - 50));
                    mask.size = Vec3(8000, 1, static_cast<float>(height + 100));
                    Mesh m = box_mesh(mask);
                    m.finish = matt(0);
                    add(s, m);
                }
                s.lights.add("sky", SkyLight(by_hand::outside(1000, 0), std::make_shared<Openings>()));
                finish(s);
                return s;
            },
            {flat({0, 0, 1}, {0, -1, 0})}, 0.0015);
        all.push_back({"2.3-" + std::to_string(++number + 1), section,
                       "even sky, vertical face behind an endless mask of " + std::to_string(static_cast<int>(b)) +
                           "°: share of the horizontal",
                       "(1 - sin b) / 2, elementary integral", (1 - std::sin(radians(Degree{b}))) / 2, "", 0.005,
                       reading(run, 0, 1 / (pi * 1000))});
    }
    const std::array<double, 4> window{15.0560, 4.5862, 1.7692, .8312};
    for (std::size_t i = 0; i < 4; ++i)
        all.push_back(
            {"2.4-" + std::to_string(i + 1), section,
             "even sky, window 2 m wide, .1 to 1.4 m over the desk, " + std::to_string(i + 1) + " m in",
             "element to perpendicular rectangle; definition of the sky component", window[i], "%", 0.005,
             [measure = sky_component(3, 0.8, {hole(Wall::near, 3, 5, 0.9, 2.2)}, {4, static_cast<float>(i + 1), 0})] {
                 const Measured m = measure();
                 return Measured{100 * m.value, 100 * m.error};
             }});
    number = 4;
    for (const auto& [side, want] : std::array<std::array<double, 2>, 2>{{{1, 3.41068}, {4, 35.7685}}})
        all.push_back(
            {"2.4-" + std::to_string(++number), section,
             "even sky, roof hole " + std::to_string(static_cast<int>(side)) + " m square, 3 m up",
             "element to parallel rectangle", want, "%", 0.005,
             [measure = sky_component(
                  3.5, 0.5, {hole(Wall::ceiling, 4 - side / 2, 4 + side / 2, 4 - side / 2, 4 + side / 2)}, {4, 4, 0})] {
                 const Measured m = measure();
                 return Measured{100 * m.value, 100 * m.error};
             }});
    const Run ground = run_of(
        [] {
            Scene s;
            s.lights.add("sky", SkyLight(by_hand::outside(1000, 200), std::make_shared<Openings>()));
            finish(s);
            return s;
        },
        {flat({0, 0, 1}, {0, -1, 0})}, 0.0015);
    all.push_back({"2.4-7", section, "even sky and ground of ρ .2: vertical face, share of the horizontal",
                   "1/2 + ρ / 2, definition of a matt surface", 0.6, "", 0.005, reading(ground, 0, 1 / (pi * 1000))});
}

}  // namespace

Cases sky_cases() {
    Cases all;
    general_skies(all);
    traditional_overcast(all);
    sky_components(all);
    return all;
}

}  // namespace rushlight::validation
