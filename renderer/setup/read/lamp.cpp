#include "quantity/lamp_spectra.h"
#include "setup/plain/catalogues.h"
#include "setup/plain/lamp_output.h"
#include "setup/read/readers.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

constexpr double least_output = 1e-3, most_output = 1e9;

LampShape shape_in(const LayeredTable& t) {
    if (!t.has("shape")) {
        if (t.has("luminaire")) return LampShape::hard;  // until its opening is known
        throw InputError(t.where(), t.title() + " needs 'shape' or 'luminaire'");
    }
    const std::string word = t.word("shape");
    if (word == "hard") return LampShape::hard;
    if (word == "ball") return LampShape::ball;
    if (word == "ring") return LampShape::ring;
    return word == "tube" ? LampShape::tube : LampShape::box;
}

struct Size {
    double width, height;
};
/// The usual glowing size of each shape, for lamps that nobody measured: common practice, no source.
Size standard_size(LampShape shape) {
    switch (shape) {
        case LampShape::hard:
            return {0.022, 0.022};  // the emitter of a point head
        case LampShape::box:
            return {0.9, 0.9};
        case LampShape::ball:
            return {0.5, 0.5};
        case LampShape::ring:
            return {0.45, 0.35};
        case LampShape::tube:
            break;
    }
    return {1.2, 0.03};
}

void read_size(const LayeredTable& t, Lamp& lamp) {
    const Size standard = standard_size(lamp.shape);
    lamp.width = standard.width;
    lamp.height = standard.height;
    if (!t.has("size")) {
        t.context().remark(t.where(), lamp.name + ": no size given; " + plain(lamp.width) + " by " +
                                          plain(lamp.height) + " m is assumed");
        return;
    }
    const std::vector<double> size = t.lengths("size", 1, 2);
    lamp.width = size[0];
    if (lamp.shape == LampShape::tube)
        lamp.height = size.size() > 1 ? size[1] : standard.height;
    else if (lamp.shape == LampShape::ring)
        lamp.height = size.size() > 1 ? size[1] : 0.75 * size[0];
    else
        lamp.height = size.size() > 1 ? size[1] : size[0];
    if (lamp.shape == LampShape::ring && lamp.height >= lamp.width)
        t.refuse("size", "has an inner diameter as large as the outer; expected [outer, inner]");
    const bool round = lamp.shape == LampShape::ball || lamp.shape == LampShape::hard;
    if (round && size.size() > 1 && size[0] != size[1])
        t.refuse("size", "has two numbers; a " + t.word("shape") + " lamp is round and takes one");
}

constexpr std::array<std::string_view, 6> light_words{"tungsten", "daylight",        "white led",
                                                      "wide led", "two-channel led", "fluorescent"};

/// The colour of the lamp at full.
Spectrum spectrum_in(const LayeredTable& t, Lamp& lamp) {
    if (t.has("light")) {
        const std::string word = t.word("light");
        const auto at = std::find(light_words.begin(), light_words.end(), word) - light_words.begin();
        lamp.light = static_cast<LightKind>(at + 1);
    }
    lamp.kelvin = lamp.light == LightKind::tungsten && !t.has("kelvin") ? 3200 : t.number("kelvin");
    const auto colour = lamp_spectrum(lamp.light, Kelvin{lamp.kelvin}, t.number_if_given("tint"));
    if (colour) return *colour;
    const std::string what =
        "is " + plain(lamp.kelvin) + " K" + (t.has("tint") ? " with a tint of " + plain(t.number("tint")) : "");
    t.refuse("kelvin", what + ", which light = " + in_quotes(t.has("light") ? t.word("light") : "plain") +
                           " cannot reach; expected " +
                           (lamp.light == LightKind::two_channel_led ? "2700 to 6500 K" : "a more usual white"));
}

void take_light(const LayeredTable& t, Lamp& lamp, const LampLight& light) {
    if (!(light.amount >= least_output && light.amount <= most_output))
        t.refuse(t.has("output") ? "output" : "luminaire", "comes to " + plain(light.amount) +
                                                               (light.kind == Lamp::Output::lumen ? " lm" : " cd") +
                                                               "; expected between 0.001 and 1e+09");
    lamp.output = light.kind;
    const Spectrum colour = spectrum_in(t, lamp);
    lamp.intensity_or_flux = scaled_to(colour, light.amount);
    lamp.gel = gels_in(t, "gel", lamp.burning_kelvin());
    lamp.gel_words = gel_words_in(t, "gel");
}

void read_light(const LayeredTable& t, Lamp& lamp) {
    const toml::node* node = t.find("output");
    if (!node && lamp.luminaire) {
        take_light(t, lamp, {Lamp::Output::lumen, luminaire_lumens(lamp)});
        return;
    }
    if (!node) throw InputError(t.where(), t.title() + " needs 'output'");
    constexpr const char* expected = "\"9000 lm\", \"20000 cd\", \"800 cd/m2\" or \"5200 lx at 3 m\"";
    const auto typed = node->is_string() ? output_from(t.text("output")) : std::nullopt;
    if (!typed) t.refuse_kind("output", *node, expected);
    if (typed->unit == TypedOutput::Unit::luminance && lamp.luminaire)
        t.refuse("output",
                 "is a luminance, which no one number is over the face of a lamp with a luminaire file; "
                 "expected lm, cd or lx at a distance");
    if (typed->unit == TypedOutput::Unit::lux) {
        const double reach = lamp.luminaire ? lamp.depth / 2
                             : lamp.shape == LampShape::ball || lamp.shape == LampShape::tube
                                 ? (lamp.shape == LampShape::ball ? lamp.width : lamp.height) / 2
                                 : 0.0;
        if (typed->distance < 0.05 || typed->distance > 1000 || typed->distance <= reach)
            t.refuse("output", "is measured at " + plain(typed->distance) +
                                   " m; expected between 0.05 and 1000 m, and outside the lamp");
    }
    take_light(t, lamp, lamp_light(lamp, *typed));
}

double level_in(const LayeredTable& t) {
    const toml::node* node = t.find("level");
    if (!node || !node->is_string()) return t.number("level");
    const auto level = level_from(t.text("level"));
    if (!level) t.refuse_kind("level", *node, "a share such as 0.5, \"50%\" or \"-1 stop\"");
    if (!(*level >= 0 && *level <= 1)) t.refuse_kind("level", *node, "no more than full, and not below zero");
    return *level;
}

Shade read_shade(const LayeredTable& t, const Lamp& lamp) {
    Shade shade;
    shade.bottom = t.length("bottom");
    shade.top = t.has("top") ? t.length("top") : shade.bottom;
    shade.height = t.length("height");
    shade.lift = t.length("lift");
    if (lamp.shape != LampShape::ball)
        throw InputError(t.where(), t.title() + " hangs round a bulb; expected shape = \"ball\"");
    // The bulb fits in, level with its middle and with its ends, as far as the shade reaches.
    const double bulb = lamp.width / 2;
    for (const double z : {-bulb, 0.0, bulb}) {
        const double up = (z - shade.lift) / shade.height + 0.5;
        if (up < 0 || up > 1) continue;
        const double room = (shade.bottom + up * (shade.top - shade.bottom)) / 2;
        if (room <= std::sqrt(bulb * bulb - z * z) + 0.002)
            t.refuse("bottom", "and top leave no room for a bulb of " + plain(lamp.width) + " m");
    }
    if (t.has("finish")) {
        if (t.has("passes")) t.refuse("passes", "can't go with finish; expected one of the two");
        shade.finish = finish_in(t, "finish");
        return shade;
    }
    const double passes = t.number("passes");
    const std::string hue = t.has("hue") ? hue_in(t, "hue") : "cream";
    // Common practice, no source: of what a pale shade does not pass, three quarters stay in the room of the bulb.
    shade.finish.name = "shade";
    shade.finish.through = reflectance_of(hue, passes).value();
    shade.finish.reflectance = reflectance_of(hue, 0.75 * (1 - passes)).value();
    return shade;
}

}  // namespace

Lamp read_lamp(const LayeredTable& t, const std::vector<Mark>& marks, Luminaires& luminaires) {
    Lamp lamp;
    lamp.name = t.text("name");
    for (const char* daylight : {"sun", "sky"})
        if (tidy(lamp.name) == daylight)
            t.refuse("name",
                     "is " + in_quotes(lamp.name) + ", as a source that daylight has already; expected another");
    lamp.shape = shape_in(t);
    lamp.at = point_in(t, "at");
    if (t.has("aim")) {
        lamp.aimed_at = point_or_face(t, "aim", marks, lamp.at);
        lamp.aim = direction_to(t, "aim", lamp.at, *lamp.aimed_at);
    } else if (lamp.shape == LampShape::ball || lamp.shape == LampShape::tube || t.has("luminaire"))
        lamp.aim = Vec3(0, 0, -1);
    else
        throw InputError(t.where(), t.title() + " needs 'aim'");
    lamp.roll = t.number("roll");
    lamp.beam = t.number("beam");
    lamp.field = t.number_if_given("field").value_or(std::min(178.0, 1.5 * lamp.beam));
    const bool from_file = t.has("luminaire");
    if (from_file)
        wear_luminaire(lamp, t, luminaires.read(t));
    else
        read_size(t, lamp);
    lamp.grid = t.number("grid");
    if (lamp.field <= lamp.beam && lamp.shape == LampShape::hard && !from_file)
        t.refuse(t.has("field") ? "field" : "beam", "makes the field " + plain(lamp.field) +
                                                        " degrees; expected wider than the beam, " + plain(lamp.beam));
    lamp.level = level_in(t);
    read_light(t, lamp);
    if (const auto shade = t.table("shade", "[[lamp]] shade")) lamp.shade = read_shade(*shade, lamp);
    lamp.on = t.yes("on");
    lamp.kit_item = item_name_in(t);
    lamp.watts = t.number_if_given("watts").value_or(from_file ? lamp.luminaire->watts : t.number("watts"));
    lamp.circuit = t.text("circuit");
    const auto unused = [&](const char* key, bool used) {
        if (!used && t.has(key))
            t.context().remark(t.where(key),
                               lamp.name + ": " + key + " means nothing for a " +
                                   (from_file ? "lamp with a luminaire file" : t.word("shape") + " lamp"));
    };
    unused("beam", lamp.shape == LampShape::hard && !from_file);
    unused("field", lamp.shape == LampShape::hard && !from_file);
    unused("grid", lamp.shape == LampShape::box && !from_file);
    return lamp;
}

}  // namespace rushlight
