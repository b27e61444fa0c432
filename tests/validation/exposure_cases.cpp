// The meter's arithmetic and the units around it.
#include "quantity/exposure.h"
#include "references/rooms.h"

namespace rushlight::validation {

Cases exposure_cases() {
    Cases all;
    const std::string section = "Exposure", iso = "N²/t = E S / C, ISO 2720:1974, C = 250 lx s";
    int number = 0;
    const auto add_row = [&](const std::string& what, const std::string& source, double want, const std::string& unit,
                             double tolerance, std::function<double()> value, double absolute = 0) {
        all.push_back({"4-" + std::to_string(++number), section, what, source, want, unit, tolerance,
                       sure(std::move(value)), absolute});
    };
    struct Row {
        const char* what;
        Exposure e;
        double lux;
    };
    const Row rows[] = {{"ISO 800, 24 fps, 180°, T2.8", {2.8, 180, 24, 800, 0}, 117.60},
                        {"ISO 800, 25 fps, 180°, T2.8", {2.8, 180, 25, 800, 0}, 122.50},
                        {"ISO 400, 24 fps, 180°, T4", {4, 180, 24, 400, 0}, 480.00},
                        {"ISO 1600, 24 fps, 172.8°, T2", {2, 172.8, 24, 1600, 0}, 31.25},
                        {"ISO 100, 24 fps, 180°, T2.8", {2.8, 180, 24, 100, 0}, 940.80},
                        {"ISO 3200, 48 fps, 90°, T5.6", {5.6, 90, 48, 3200, 0}, 470.40}};
    for (const Row& r : rows) {
        add_row(std::string(r.what) + ": lux asked for", iso, r.lux, "lx", 1e-6,
                [=] { return metered_illuminance(r.e).value; });
        add_row(std::string(r.what) + ": stop shown in that light", iso, r.e.t_stop, "", 1e-6,
                [=] { return metered_t_stop(Lux{r.lux}, r.e); });
    }
    for (const auto& [ev, flat_lux, dome] : std::array<std::array<double, 3>, 7>{{{0, 2.5, 3.2},
                                                                                  {3, 20, 25.6},
                                                                                  {5, 80, 102.4},
                                                                                  {8, 640, 819.2},
                                                                                  {10, 2560, 3276.8},
                                                                                  {12, 10240, 13107.2},
                                                                                  {15, 81920, 104857.6}}}) {
        const Exposure e{.t_stop = std::exp2(ev / 2), .shutter_angle = 360, .frames_per_second = 1, .iso = 100};
        const std::string at = "EV " + std::to_string(static_cast<int>(ev)) + " at ISO 100: ";
        add_row(at + "lux, flat receptor", "E = 2^EV C / 100, C 250", flat_lux, "lx", 1e-6,
                [=] { return metered_illuminance(e).value; });
        add_row(at + "lux, dome", "the same, C 320", dome, "lx", 1e-6,
                [=] { return metered_illuminance(e, incident_constant_dome).value; });
    }
    add_row("reflected constant K that an 18 % card asks for", "K = C ρ / π", 14.324, "", 5e-5, [] {
        const Exposure e{};
        return grey_luminance(e).value * e.shutter_time().value * e.iso / (e.t_stop * e.t_stop);
    });
    add_row(
        "1/48 s against 1/50 s", "log2", 0.0589, "stop", 0,
        [] { return stops_between(Lux{1.0 / 50}, Lux{1.0 / 48}).value; }, 5e-5);
    add_row("172.8° at 24 fps", "t = angle / (360 fps)", 0.02, "s", 1e-9,
            [] { return Exposure{.shutter_angle = 172.8}.shutter_time().value; });
    for (const auto& [pdf, stops] : std::array<std::array<double, 2>, 7>{
             {{.3, .9966}, {.6, 1.9931}, {.9, 2.9897}, {1.2, 3.9863}, {1.8, 5.9795}, {.30103, 1}, {.90309, 3}}})
        add_row(
            "ND " + std::to_string(pdf).substr(0, pdf == .30103 || pdf == .90309 ? 7 : 3), "T = 10^-D, ISO 5", stops,
            "stops", 0, [d = pdf] { return Exposure{.nd_density = d}.nd_loss().value; }, 6e-5);
    add_row("1 fc", "NIST SP 811", 10.76391, "lx", 1e-6, [] { return from_footcandles(1).value; });
    add_row(
        "117.60 lx", "NIST SP 811", 10.93, "fc", 0, [] { return footcandles(Lux{117.6}); }, 0.005);
    add_row("key and fill over fill, (300 + 100):100", "log2", 2.0, "stops", 1e-6,
            [] { return stops_between(Lux{100}, Lux{400}).value; });
    add_row("key over fill, 300:100", "log2", 1.584963, "stops", 1e-6,
            [] { return stops_between(Lux{100}, Lux{300}).value; });
    add_row("3200 K", "mired = 10⁶ / K", 312.50, "mired", 1e-6, [] { return mired(Kelvin{3200}).value; });
    add_row(
        "3200 K to 5600 K", "mired = 10⁶ / K", -133.93, "mired", 0,
        [] { return (mired(Kelvin{5600}) - mired(Kelvin{3200})).value; }, 0.005);
    add_row(
        "5500 K with +131 mired", "definition; the shift is common practice, no source", 3196.7, "K", 0,
        [] { return kelvin(mired(Kelvin{5500}) + Mired{131}).value; }, 0.05);
    add_row(
        "3200 K with -131 mired", "definition; the shift is common practice, no source", 5509.6, "K", 0,
        [] { return kelvin(mired(Kelvin{3200}) - Mired{131}).value; }, 0.05);
    return all;
}

}  // namespace rushlight::validation
