#include "pictures/tables/people_table.h"

#include "pictures/words/columns.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"
#include "quantity/exposure.h"
#include "results/glint/glasses_glare.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

constexpr int widest_name = 34;

std::string luminance_text(double v) {
    return v >= 9.95 ? lux_text(v) : fixed(v, v >= 0.995 ? 1 : 2);
}

std::string listed(const std::vector<std::string>& names) {
    std::string text;
    for (std::size_t i = 0; i < names.size(); ++i)
        text += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    return text;
}

/// Where on an iris, as on a clock face.
std::string on_a_clock_face(double hours) {
    const int hour = static_cast<int>(std::lround(hours)) % 12;
    return std::to_string(hour == 0 ? 12 : hour) + " o'clock";
}

std::string sentence(const std::string& text) {
    return wrapped(utf8(code_points(text)), "  ", "    ");
}

std::string spots_block(const PersonReadings& p) {
    Column name{"Spot from the lens", true, {}}, luminance{"cd/m2", false, {}}, over{"over grey", false, {}},
        sensor{"on the sensor", false, {}}, state{"", true, {}};
    bool filtered = false;
    for (const SpotReading& s : p.spots) {
        const bool key = s.name == p.key_side + " cheek";
        name.cells.push_back(cut_to(s.name + (key ? " (key)" : ""), widest_name));
        luminance.cells.push_back(luminance_text(s.luminance.value));
        over.cells.push_back(with_error(s.over_grey));
        sensor.cells.push_back(s.on_sensor ? with_error(*s.over_grey_on_sensor) : "-");
        filtered = filtered || s.on_sensor;
        state.cells.push_back(s.state == "lost" ? "under the footroom" : s.state);
    }
    if (p.spots.empty()) return "";
    return filtered ? side_by_side({name, luminance, over, sensor, state})
                    : side_by_side({name, luminance, over, state});
}

std::string ratios_block(const PersonReadings& p) {
    Column name{"Key to fill", true, {}}, stops{"stops", false, {}}, ratio{"ratio", false, {}};
    for (const Ratio& r : p.key_to_fill) {
        name.cells.push_back(cut_to(r.name, widest_name));
        stops.cells.push_back(with_error(fixed(r.stops.value, 1), r.stops.error));
        ratio.cells.push_back(ratio_text(r.ratio));
    }
    return p.key_to_fill.empty() ? "" : side_by_side({name, stops, ratio});
}

std::string skin_text(const PersonReadings& p) {
    std::string text;
    for (const SpotReading& s : p.spots)
        if (s.name == p.key_side + " cheek") text = "Skin sits at " + stops_text(s.placed().value) + " on the key side";
    for (const SpotReading& s : p.spots)
        if (!text.empty() && s.name == (p.key_side == "near" ? "far cheek" : "near cheek"))
            text += ", " + stops_text(s.placed().value) + " on the fill side";
    for (const SpotReading& s : p.spots)
        if (!text.empty() && s.name == "front") text += ", " + stops_text(s.placed().value) + " at the front";
    return text.empty() ? "" : sentence(text + " (stops over grey).");
}

std::string over_or_under(const Measured& step) {
    return with_error(fixed(std::abs(step.value), 1), step.error) + " stops " + (step.value < 0 ? "under" : "over") +
           " the key cheek";
}

std::string background_text(const PersonReadings& p) {
    if (!p.background_step) return "";
    std::string text = "Background " + over_or_under(*p.background_step);
    if (p.background_step_on_sensor) text += "; on the sensor " + over_or_under(*p.background_step_on_sensor);
    return sentence(text + ".");
}

std::string glasses_text(const PersonReadings& p) {
    if (!p.glasses_seen) return "";
    if (p.glasses_glare.empty()) return sentence("Glasses: no reflection that shows beside the skin.");
    constexpr std::size_t most = 3;
    constexpr double point = 8;  // stops over the skin: as of an eye light
    std::string text = "Glasses mirror ";
    for (std::size_t i = 0; i < std::min(most, p.glasses_glare.size()); ++i) {
        const GlassesGlare& g = p.glasses_glare[i];
        const bool small = g.share < 0.01;
        text += (i > 0 ? "; " : "") + named_light(g.source, g.by) + ", ";
        if (g.over_skin >= point)
            text += "a bright point";
        else
            text += (small ? "a point " : "") + fixed(std::abs(g.over_skin), 1) + " stops " +
                    (g.over_skin < 0 ? "under" : "over") + " the skin" +
                    (small ? "" : ", over " + percent_text(g.share) + " of a lens");
    }
    return sentence(text + ".");
}

std::string eye_text(const PersonReadings& p) {
    if (!p.eye_seen) return sentence("Eye light: the lens sees neither eye.");
    if (p.eye_lights.empty()) return sentence("Eye light: none.");
    constexpr std::size_t most = 3;
    constexpr double point = 8;  // stops over the iris: only bare emitters are so bright, and their images are points
    std::string text = "Eye light: ";
    for (std::size_t i = 0; i < std::min(most, p.eye_lights.size()); ++i) {
        const EyeLight& e = p.eye_lights[i];
        text += (i > 0 ? "; " : "") + named_light(e.source, e.by) + " at " + on_a_clock_face(e.clock) + ", " +
                (e.over_iris < point ? stops_text(e.over_iris) + " over the iris" : "a bright point");
    }
    if (p.eye_lights.size() > most) text += "; " + std::to_string(p.eye_lights.size() - most) + " more, weaker";
    return sentence(text + ".");
}

std::string key_text(const PersonReadings& p) {
    if (p.key_source.empty()) return "";
    std::string text = "Key: " + p.key_source + ", " + percent_text(p.key_share) + " of the " + p.key_side + " cheek";
    if (p.softness > 0)
        text += "; softness " + fixed(p.softness, p.softness < 0.095 ? 3 : 2) +
                " (width over distance): a nose shadow 30 mm away has an edge of " +
                fixed(p.shadow_edge, p.shadow_edge < 9.95 ? 1 : 0) + " mm";
    else
        text += ", most of it off or through something";
    return sentence(text + ".");
}

std::string person_block(const PersonReadings& p) {
    std::string text = "\n" + cut_to(p.mark, widest_name) + ", as the camera sees them\n";
    text += spots_block(p) + ratios_block(p) + key_text(p) + skin_text(p) + background_text(p) + eye_text(p) +
            glasses_text(p);
    if (!p.not_seen.empty()) text += sentence("Not seen by the lens: " + listed(p.not_seen) + ".");
    return text;
}

std::string window_text(const WindowInView& w, const CameraReadings& c) {
    std::string text = w.name + ": " + luminance_text(w.luminance.value) + " cd/m2 at its brightest, " +
                       stops_text(w.over_grey.value) + " over grey, ";
    if (w.over_face) text += stops_text(w.over_face->value) + " over the face of " + c.subject + "; ";
    if (w.holds) return sentence(text + "holds.");
    text += "clips by " + fixed(w.over_grey.value - c.headroom, 1) + ". ND " + fixed(w.nd_to_hold, 2) + " on the glass";
    if (w.lux_to_hold > 0) text += ", or " + short_lux_text(w.lux_to_hold) + " lx on the key cheek and the iris closed";
    return sentence(text + ", would hold it.");
}

std::string camera_block(const CameraReadings& c) {
    std::string text = "\nCamera " + cut_to(c.name, widest_name) + "\n";
    text += sentence("Grey is " + luminance_text(c.grey) + " cd/m2, an 18 % card under " + short_lux_text(c.metered) +
                     " lx; holds from " + stops_text(-c.footroom) + " to " + stops_text(c.headroom) +
                     " stops. Counted from a spot meter's K = " + fixed(reflected_constant, 1) + " every spot is " +
                     fixed(over_spot_grey().value, 2) + " higher.");
    if (c.focus > 0)
        text += sentence("Focus " + fixed(c.focus, 2) + " m; sharp from " + fixed(c.sharp_from, 2) + " m " +
                         (std::isfinite(c.sharp_to) ? "to " + fixed(c.sharp_to, 2) + " m." : "on."));
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < std::min(most, c.windows.size()); ++i) text += window_text(c.windows[i], c);
    if (c.windows.size() > most)
        text += sentence(std::to_string(c.windows.size() - most) + " more openings in view, not brighter.");
    if (c.lift)
        text += sentence("Mist: the sensor gets " + c.lift->name + " " + fixed(c.lift->stops.value, 1) + " ± " +
                         fixed(c.lift->stops.error, 2) +
                         " stops brighter than a meter reads it; no other spot rises as much.");
    if (c.lens_lux.value > 0) {
        std::string into = "Into the lens: " + lux_text(c.lens_lux.value) + " lx in all";
        for (const IntoLens& in : c.into_lens)
            into += "; direct " + in.source + " on the lens, " + luminance_text(in.direct) + " lx, " +
                    (in.in_picture ? "in the picture" : "from outside the picture: shade the lens or flag it");
        if (c.into_lens.empty()) into += ", none of it direct from a source";
        text += sentence(into + ".");
    }
    return text;
}

}  // namespace

std::string people_table(const Sheet& sheet) {
    std::string text;
    for (const PersonReadings& p : sheet.people)
        if (p.in_picture) text += person_block(p);
    if (sheet.camera) text += camera_block(*sheet.camera);
    return text;
}

}  // namespace rushlight
