#include "desk/plan_json.h"
#include "desk/sheet_json.h"
#include "pictures/display_curve.h"
#include "quantity/exposure.h"
#include "setup/catalogues.h"

namespace rushlight::desk {

namespace {

/// What each band of one unit gives in balanced linear red, green, blue.
JsonValue rgb_of_bands(const WhiteBalance& balanced) {
    JsonValue list = JsonValue::array();
    for (int b = 0; b < bands; ++b) {
        Spectrum one;
        one[b] = 1;
        const LinearRgb c = balanced(tristimulus(one));
        list.push_back({json_number(static_cast<double>(c.r)), json_number(static_cast<double>(c.g)),
                        json_number(static_cast<double>(c.b))});
    }
    return list;
}

/// What a lamp of this kelvin passes through each gel.
JsonValue gels_before(double kelvin) {
    JsonValue gels = JsonValue::object();
    for (const GelKind& kind : gel_kinds()) {
        double base = kelvin;
        if (const auto share = gel_before(base, kind)) gels[std::string(kind.name)] = bands_json(*share);
    }
    return gels;
}

/// A filament's light by level, where it is no plain share: from full down, half a stop apart.
JsonValue dimmed(Lamp lamp) {
    JsonValue steps = JsonValue::array();
    lamp.on = true;
    lamp.gel = Spectrum{1.0F};
    for (int half_stops = 0; half_stops <= 20; ++half_stops) {
        lamp.level = std::exp2(-0.5 * half_stops);
        steps.push_back({{"level", short_number(lamp.level)}, {"bands", bands_json(lamp.burning())}});
    }
    return steps;
}

}  // namespace

JsonValue colour_json(const Setup& setup) {
    const Camera camera = setup.its_camera() ? *setup.its_camera() : Camera{};
    const DisplayCurve curve(camera.headroom, camera.footroom);
    JsonValue j{{"bands", bands},
                {"rgb", rgb_of_bands(WhiteBalance{Kelvin{camera.white_balance}, camera.tint})},
                {"grey", json_number(grey_luminance(setup.exposure()).value)},
                {"grey_reflectance", grey_reflectance}};
    j["luminance"] = JsonValue::array();
    for (const double y : y_bar) j["luminance"].push_back(luminous_efficacy * y);
    j["curve"] = {{"headroom", curve.headroom()},
                  {"footroom", curve.footroom()},
                  {"grey", curve.grey()},
                  {"upper_power", curve.upper_power()},
                  {"lower_power", curve.lower_power()}};
    j["gels"] = gels_before(5600);
    j["lamps"] = JsonValue::object();
    for (const Lamp& lamp : setup.rig.lamps) {
        JsonValue one{{"kelvin", lamp.kelvin}, {"gels", gels_before(lamp.kelvin)}};
        if (lamp.light == LightKind::tungsten) one["dimmed"] = dimmed(lamp);
        j["lamps"][json_text(lamp.name).get<std::string>()] = std::move(one);
    }
    return j;
}

}  // namespace rushlight::desk
