#include "desk/light/sheet_json.h"
#include "desk/plan/plan_json.h"
#include "pictures/draw/display_curve.h"
#include "pictures/draw/false_colour.h"
#include "quantity/exposure.h"
#include "setup/advice/planned_key.h"
#include "setup/plain/catalogues.h"

#include <algorithm>
#include <cmath>

namespace rushlight::desk {

namespace {

JsonValue in_8_bits(const Colour& c) {
    JsonValue list = JsonValue::array();
    for (const float v : c) list.push_back(std::lround(255 * std::clamp(v, 0.0F, 1.0F)));
    return list;
}

JsonValue photometric_weights() {
    JsonValue list = JsonValue::array();
    for (const double y : y_bar) list.push_back(json_number(luminous_efficacy * y));
    return list;
}

/// The balanced linear red, green and blue of one unit in each band.
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

/// The share that each gel passes of a lamp of this kelvin.
JsonValue gels_before(double kelvin) {
    JsonValue gels = JsonValue::object();
    for (const GelKind& kind : gel_kinds()) {
        double base = kelvin;
        if (const auto share = gel_before(base, kind)) gels[std::string(kind.name)] = bands_json(*share);
    }
    return gels;
}

/// A filament's light by level, a third of a stop apart, where it is no plain share: null.
JsonValue dimmed(Lamp lamp) {
    if (lamp.light != LightKind::tungsten) return nullptr;
    JsonValue steps = JsonValue::array();
    lamp.on = true;
    lamp.gel = Spectrum{1.0F};
    for (int thirds = 0; thirds <= 24; ++thirds) {
        lamp.level = std::exp2(-thirds / 3.0);
        steps.push_back({{"level", short_number(lamp.level)}, {"bands", bands_json(lamp.burning())}});
    }
    return steps;
}

/// Bands with their edges, and where targets want the key of each person: in stops over grey, and in lux.
JsonValue scale_json(const Setup& setup, double grey) {
    JsonValue scale{{"edges", band_edges}};
    scale["keys"] = JsonValue::array();
    for (const PlannedKey& k : planned_keys(setup))
        scale["keys"].push_back(
            {{"mark", json_text(k.mark)}, {"over_grey", json_number(k.over_grey(grey))}, {"lux", json_number(k.lux)}});
    scale["bands"] = JsonValue::array();
    for (int b = 0; b < colour_bands; ++b) scale["bands"].push_back(in_8_bits(band_colour(b)));
    return scale;
}

}  // namespace

JsonValue colour_json(const Setup& setup) {
    const Camera camera = setup.its_camera() ? *setup.its_camera() : Camera{};
    const DisplayCurve curve(camera.headroom, camera.footroom);
    JsonValue j{{"bands", bands},
                {"rgb", rgb_of_bands(WhiteBalance{Kelvin{camera.white_balance}, camera.tint})},
                {"luminance", photometric_weights()},
                {"grey", json_number(grey_luminance(setup.exposure()).value)}};
    j["curve"] = {{"headroom", curve.headroom()},
                  {"footroom", curve.footroom()},
                  {"grey", curve.grey()},
                  {"upper_power", curve.upper_power()},
                  {"lower_power", curve.lower_power()}};
    j["delivery"] = camera.delivery > 0 ? json_number(camera.delivery) : JsonValue(nullptr);
    j["scale"] = scale_json(setup, grey_luminance(setup.exposure()).value);
    j["lamps"] = JsonValue::object();
    for (const Lamp& lamp : setup.rig.lamps)
        j["lamps"][json_text(lamp.name).get<std::string>()] = {
            {"kelvin", lamp.kelvin}, {"gels", gels_before(lamp.burning_kelvin())}, {"dimmed", dimmed(lamp)}};
    return j;
}

}  // namespace rushlight::desk
