// Where the sun stands and how bright it is.
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

const std::string section = "Sun";

struct Position {
    const char* id;
    const char* what;
    const char* source;
    int year, month, day;
    double utc, latitude, longitude, altitude, azimuth;
    bool refracted;
};

void positions(Cases& all) {
    const char* package = "an astronomy package with its own earth-rotation table";
    const char* nrel = "NREL TP-560-34302, appendix";
    const Position rows[] = {
        {"3.1-4", "2003-10-17 12:30:30 UTC-7, 39.74 N 105.18 W, refracted", nrel, 2003, 10, 17, 19.508333333, 39.742476,
         -105.1786, 90 - 50.11162, 194.34024, true},
        {"3.1-5", "1910-03-15 00:30 UTC, 36.84 S 174.74 E", "reference set of an open implementation", 1910, 3, 15, 0.5,
         -36.840556, 174.74, 90 - 34.269919, .188643, true},
        {"3.2-A", "2024-06-20 15:30 UTC, 51.48 N 0.00 W", package, 2024, 6, 20, 15.5, 51.4779, -.0015, 41.4886,
         255.0241, false},
        {"3.2-B", "2023-12-21 19:00 UTC, 45.50 N 73.57 W", package, 2023, 12, 21, 19, 45.5017, -73.5673, 15.1956,
         210.1714, false},
        {"3.2-C", "2024-01-15 22:00 UTC, 33.87 S 151.21 E", package, 2024, 1, 15, 22, -33.8688, 151.2093, 35.0624,
         93.3419, false},
        {"3.2-D", "2024-07-01 14:00 UTC, 34.60 S 58.38 W", package, 2024, 7, 1, 14, -34.6037, -58.3816, 25.9539,
         30.1406, false},
        {"3.2-E", "2024-03-20 15:00 UTC, 0.18 S 78.47 W", package, 2024, 3, 20, 15, -.1807, -78.4678, 54.7108, 89.4057,
         false},
        {"3.2-F", "2024-05-01 19:00 UTC, 64.15 N 21.94 W", package, 2024, 5, 1, 19, 64.1466, -21.9426, 16.5151,
         271.3282, false}};
    for (const Position& r : rows) {
        const auto sun = [r] {
            return sun_position(r.year, r.month, r.day, r.utc, Degree{r.latitude}, Degree{r.longitude}, r.refracted);
        };
        all.push_back({std::string(r.id) + "h", section, std::string(r.what) + ": altitude", r.source, r.altitude, "°",
                       0, sure([=] { return sun().altitude.value; }), 0.01});
        // A degree of azimuth is less of the sky the higher the sun stands.
        all.push_back({std::string(r.id) + "a", section, std::string(r.what) + ": azimuth", r.source, r.azimuth, "°", 0,
                       sure([=] { return r.azimuth + std::remainder(sun().azimuth.value - r.azimuth, 360.0); }),
                       0.01 / std::cos(radians(Degree{r.altitude}))});
    }
    all.push_back({"3.1-1", section, "1992-10-13 0 h: altitude at the pole = declination - parallax",
                   "Meeus, Astronomical Algorithms, example 25.a (from memory)", -7.78507 - .00243, "°", 0,
                   sure([] { return sun_position(1992, 10, 13, 0, Degree{90}, Degree{0}, false).altitude.value; }),
                   2e-4});
    for (const auto& [altitude, minutes] : std::array<std::array<double, 2>, 3>{{{0, 28.98}, {5, 9.67}, {10, 5.41}}}) {
        const auto lifted_by = [h = altitude] {
            const auto at = [](double utc, bool refracted) {
                return sun_position(2024, 6, 20, utc, Degree{51.4779}, Degree{-.0015}, refracted).altitude.value;
            };
            double early = 15, late = 23;
            for (int i = 0; i < 60; ++i) (at((early + late) / 2, false) > h ? early : late) = (early + late) / 2;
            return 60 * (at(early, true) - at(early, false));
        };
        all.push_back({"3.1-6-" + std::to_string(static_cast<int>(altitude)), section,
                       "refraction at a true altitude of " + std::to_string(static_cast<int>(altitude)) + "°",
                       "Meeus ch. 16 (from memory)", minutes, "′", 0, sure(lifted_by), 0.01});
    }
}

void brightness(Cases& all) {
    const std::string ies = "IES daylight availability practice 1984 (constants from memory)";
    for (const auto& [h, mass] : std::array<std::array<double, 2>, 6>{
             {{60, 1.15399}, {30, 1.99429}, {20, 2.90315}, {10, 5.58604}, {5, 10.3058}, {1, 26.3106}}})
        all.push_back({"1.15-m" + std::to_string(static_cast<int>(h)), section,
                       "air mass at " + std::to_string(static_cast<int>(h)) + "°",
                       "Kasten and Young 1989 (from memory)", mass, "", 1e-5,
                       sure([x = h] { return air_mass(Degree{x}); })});
    for (const auto& [day, klx] : std::array<std::array<double, 2>, 5>{
             {{2, 131.83}, {172, 123.26}, {185, 123.17}, {266, 126.78}, {355, 131.74}}})
        all.push_back(
            {"1.15-d" + std::to_string(static_cast<int>(day)), section,
             "above the air, day " + std::to_string(static_cast<int>(day)) + " of the year", ies, klx, "klx", 1e-4,
             sure([d = day] { return direct_normal_illuminance(static_cast<int>(d), Degree{45}, 0).value / 1000; })});
    for (const auto& [h, klx] : std::array<std::array<double, 2>, 6>{
             {{60, 100.06}, {30, 83.87}, {20, 69.30}, {10, 39.45}, {5, 14.64}, {1, .508}}})
        all.push_back({"1.15-n" + std::to_string(static_cast<int>(h)), section,
                       "sun square on at " + std::to_string(static_cast<int>(h)) + "°, mean distance, extinction .21",
                       ies, klx, "klx", 1e-3, sure([x = h] {
                           return 127.5 * direct_normal_illuminance(100, Degree{x}).value /
                                  direct_normal_illuminance(100, Degree{x}, 0).value;
                       })});
    for (const auto& [h, clear, overcast] :
         std::array<std::array<double, 3>, 3>{{{60, 15.22, 18.49}, {30, 11.76, 10.80}, {10, 7.26, 3.947}}}) {
        const auto at = static_cast<int>(h);
        all.push_back({"1.15-c" + std::to_string(at), section,
                       "level, clear sky alone, sun at " + std::to_string(at) + "°", ies, clear, "klx", 1e-3,
                       sure([x = h] { return sky_horizontal_illuminance(12, Degree{x}).value / 1000; })});
        all.push_back({"1.15-o" + std::to_string(at), section, "level, overcast, sun at " + std::to_string(at) + "°",
                       ies, overcast, "klx", 1e-3,
                       sure([x = h] { return sky_horizontal_illuminance(3, Degree{x}).value / 1000; })});
    }
    const Run disc = run_of(
        [] {
            Scene s;
            s.lights.add("sun",
                         SunLight(by_hand::outside(0, 0, 100'000, {0.2F, 0.1F, 0.9F}), std::make_shared<Openings>()));
            small::finish(s);
            return s;
        },
        {flat({0, 0, 0}, Vec3(0.2F, 0.1F, 0.9F)), flat({0, 0, 0}, {0, 0, 1})}, 2e-4);
    all.push_back({"1.15-1", section, "disc of .533°, 6.797e-5 sr: lux square on, traced", "E = L Ω", 100'000, "lx",
                   5e-4, reading(disc, 0)});
    all.push_back({"1.15-2", section, "the same on a level face", "E = L Ω sin h", 100'000 * 0.9 / std::sqrt(0.86),
                   "lx", 5e-4, reading(disc, 1)});
    all.push_back({"1.15-3", section, "luminance of a disc that gives 100 klx", "E / Ω, geometry; from memory",
                   1.4713e9, "cd/m²", 1e-4, sure([] {
                       Place place;
                       Day day;
                       day.sun_normal_lux = 100'000;
                       return static_cast<double>(photometric(daylight_at(place, day).sun_radiance));
                   })});
}

}  // namespace

Cases sun_cases() {
    Cases all;
    positions(all);
    brightness(all);
    return all;
}

}  // namespace rushlight::validation
