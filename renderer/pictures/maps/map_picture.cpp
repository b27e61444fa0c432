#include "pictures/maps/map_picture.h"

#include "pictures/draw/false_colour.h"
#include "pictures/draw/perceived.h"
#include "pictures/maps/map_parts.h"
#include "pictures/words/numbers.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

Image map_picture(const LightMap& map, MapUnit unit) {
    check(map);
    return map.plane ? map_parts::plane_map(map, unit) : map_parts::camera_map(map, unit);
}

namespace map_parts {
namespace {

std::string whose(const LightMap& map) {
    if (map.setup.empty() && map.option.empty()) return "Light map";
    if (map.option.empty()) return map.setup;
    return map.setup.empty() ? map.option : map.setup + " · " + map.option;
}

std::string what_is_shown(const LightMap& map, const Reference& reference, MapUnit unit) {
    std::string text = "Illuminance";
    if (map.plane) text += " on a level plane " + fixed(map.plane_height, 2) + " m up";
    text += unit == MapUnit::lux ? " in lux" : " in stops over ";
    if (unit == MapUnit::stops) {
        text += reference.metered ? "what the camera asks for (" : "";
        text += (reference.metered ? short_lux_text(reference.lux) : round_lux_text(reference.lux)) + " lx" +
                (reference.metered ? ")" : "");
    }
    if (!map.calm.empty()) return text + " · colours smoothed, numbers as traced";
    const double error = map.noise > 0 ? map.noise : median_relative_error(map);
    if (error > 0) text += " · ± " + (error < 0.095 ? fixed(100 * error, 1) : fixed(100 * error, 0)) + " % at a point";
    return text;
}

}  // namespace

Reference reference_of(const LightMap& map) {
    if (std::isfinite(map.metered_lux) && map.metered_lux > 0) return {map.metered_lux, true};
    const double middle = median_lux(map);
    return {middle > 0 ? round_lux(middle) : 1.0, false};
}

double round_lux(double lux) {
    const double decade = std::pow(10.0, std::floor(std::log10(lux)));
    double best = decade;
    for (double step : {2.0, 5.0, 10.0})
        if (std::abs(std::log(lux / (step * decade))) < std::abs(std::log(lux / best))) best = step * decade;
    return best;
}

double next_round_lux(double round) {
    const double lead = round / std::pow(10.0, std::floor(std::log10(round) + 1e-9));
    return lead > 4 || lead < 1.5 ? 2 * round : 2.5 * round;
}

std::string round_lux_text(double round) {
    std::string text = short_lux_text(round);
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

Page page_for(int area_height) {
    Page page;
    page.letters = std::clamp(area_height / 36, 12, 40);
    page.margin = page.letters;
    return page;
}

Colour colour_of(double stops, MapUnit unit) {
    return unit == MapUnit::stops ? band_colour(colour_band(stops)) : smooth_colour(stops);
}

std::string number_text(double lux, const Reference& reference, MapUnit unit) {
    if (!(lux > 0)) return no_light;
    return unit == MapUnit::lux ? short_lux_text(lux) : stops_text(std::log2(lux / reference.lux));
}

Lettering lettering_on(const Colour& under, int size) {
    Lettering how{size, false, Align::middle, {1, 1, 1}, Colour{0.06F, 0.06F, 0.08F}};
    if (lab_of_display(under).l > 62) std::swap(how.ink, *how.halo);
    return how;
}

Image coloured(const StopsMap& field, MapUnit unit) {
    Image image(field.width, field.height);
    for (int y = 0; y < field.height; ++y)
        for (int x = 0; x < field.width; ++x) {
            const float stops = field.value[field.at(x, y)];
            const float hatch = (x + y) % 8 < 2 ? 0.66F : 0.76F;
            image.set(x, y, std::isnan(stops) ? Colour{hatch, hatch, hatch} : colour_of(stops, unit));
        }
    return image;
}

int title_height(const Page& page, const LightMap& map) {
    return page.letters * (map.remarks.empty() ? 4 : 6);
}

void draw_title(Image& image, const Page& page, int x, int width, const LightMap& map, const Reference& reference,
                MapUnit unit) {
    Lettering heading = page.text(Align::left, true);
    heading.size += 3;
    write_text(image, x, page.letters * 2, fitted(whose(map), width, heading), heading);
    const Lettering plain = page.text();
    write_text(image, x, page.letters * 7 / 2,
               fitted(what_is_shown(map, reference, unit) + notch_text(notches_of(map, reference)), width, plain),
               plain);
    std::string remarks;
    for (const std::string& remark : map.remarks) remarks += (remarks.empty() ? "" : " ") + remark;
    write_text(image, x, page.letters * 5, fitted(remarks, width, page.small()), page.small());
}

}  // namespace map_parts
}  // namespace rushlight
