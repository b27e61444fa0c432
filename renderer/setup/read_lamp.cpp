#include "quantity/colour.h"
#include "setup/catalogues.h"
#include "setup/lamp_output.h"
#include "setup/readers.h"
#include "setup/words.h"

#include <cmath>

namespace rushlight {

namespace {

constexpr double least_output = 1e-3, most_output = 1e9;
constexpr std::size_t most_gels = 10;

LampShape shape_in(const LayeredTable& t) {
    const std::string word = t.word("shape");
    if (word == "hard") return LampShape::hard;
    if (word == "ball") return LampShape::ball;
    return word == "tube" ? LampShape::tube : LampShape::box;
}

struct Size {
    double width, height;
};
/// What glows when nobody measured it: common practice, no source.
Size standard_size(LampShape shape) {
    switch (shape) {
        case LampShape::hard:
            return {0.022, 0.022};  // the emitter of a point head
        case LampShape::box:
            return {0.9, 0.9};
        case LampShape::ball:
            return {0.5, 0.5};
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
    else
        lamp.height = size.size() > 1 ? size[1] : size[0];
    const bool round = lamp.shape == LampShape::ball || lamp.shape == LampShape::hard;
    if (round && size.size() > 1 && size[0] != size[1])
        t.refuse("size", "has two numbers; a " + t.word("shape") + " lamp is round and takes one");
}

/// Shares that pass one gel put before light of `base`, which it then turns into light of another kelvin.
Spectrum pass_gel(const LayeredTable& t, const toml::node& node, double& base) {
    double shift = 0, stops = 0;
    if (const auto* text = node.as_string()) {
        const GelKind* kind = kind_named(gel_kinds(), tidy(text->get()));
        if (!kind)
            throw InputError(t.context().where(node), t.title() + ": unknown gel " + in_quotes(text->get()) +
                                                          hint(text->get(), names_of(gel_kinds())));
        shift = kind->mired;
        stops = kind->stops;
    } else if (const auto* table = node.as_table()) {
        const LayeredTable g(t.context(), "gel", t.title() + " gel", {table});
        shift = g.number("mired");
        stops = g.number("stops");
    } else {
        t.refuse_kind("gel", node, "a name such as \"half orange\", a table of mired and stops, or a list of these");
    }
    const auto shares = gel_before(base, shift, stops);
    if (!shares)
        throw InputError(t.context().where(node),
                         t.title() + ": gel takes light of " + plain(std::round(base)) + " K out of 1000 to 25000 K");
    return *shares;
}

Spectrum gels_in(const LayeredTable& t, double kelvin) {
    Spectrum shares{1.0F};
    const toml::node* node = t.find("gel");
    if (!node) return shares;
    if (const auto* list = node->as_array()) {
        if (list->size() > most_gels) t.refuse("gel", "lists more than " + std::to_string(most_gels) + " gels");
        for (const toml::node& item : *list) shares *= pass_gel(t, item, kelvin);
        return shares;
    }
    return pass_gel(t, *node, kelvin);
}

void read_light(const LayeredTable& t, Lamp& lamp) {
    const toml::node* node = t.find("output");
    if (!node) throw InputError(t.where(), t.title() + " needs 'output'");
    constexpr const char* expected = "\"9000 lm\", \"20000 cd\" or \"5200 lx at 3 m\"";
    const auto typed = node->is_string() ? output_from(t.text("output")) : std::nullopt;
    if (!typed) t.refuse_kind("output", *node, expected);
    if (typed->unit == TypedOutput::Unit::lux) {
        const double reach = lamp.shape == LampShape::ball || lamp.shape == LampShape::tube
                                 ? (lamp.shape == LampShape::ball ? lamp.width : lamp.height) / 2
                                 : 0.0;
        if (typed->distance < 0.05 || typed->distance > 1000 || typed->distance <= reach)
            t.refuse("output", "is measured at " + plain(typed->distance) +
                                   " m; expected between 0.05 and 1000 m, and outside the lamp");
    }
    const LampLight light = lamp_light(lamp, *typed);
    if (!(light.amount >= least_output && light.amount <= most_output))
        t.refuse("output", "comes to " + plain(light.amount) + (light.kind == Lamp::Output::lumen ? " lm" : " cd") +
                               "; expected between 0.001 and 1e+09");
    const double kelvin = t.number("kelvin");
    lamp.output = light.kind;
    lamp.intensity_or_flux = scaled_to(white_light(Kelvin{kelvin}), light.amount);
    lamp.kelvin = kelvin;
    lamp.gel = gels_in(t, kelvin);
}

double level_in(const LayeredTable& t) {
    const toml::node* node = t.find("level");
    if (!node || !node->is_string()) return t.number("level");
    const auto level = level_from(t.text("level"));
    if (!level) t.refuse_kind("level", *node, "a share such as 0.5, \"50%\" or \"-1 stop\"");
    if (!(*level >= 0 && *level <= 1)) t.refuse_kind("level", *node, "no more than full, and not below zero");
    return *level;
}

}  // namespace

Lamp read_lamp(const LayeredTable& t, const std::vector<Mark>& marks) {
    Lamp lamp;
    lamp.name = t.text("name");
    for (const char* daylight : {"sun", "sky"})
        if (tidy(lamp.name) == daylight)
            t.refuse("name",
                     "is " + in_quotes(lamp.name) + ", as a source that daylight has already; expected another");
    lamp.shape = shape_in(t);
    lamp.at = point_in(t, "at");
    if (t.has("aim"))
        lamp.aim = direction_to(t, "aim", lamp.at, point_or_face(t, "aim", marks));
    else if (lamp.shape == LampShape::ball || lamp.shape == LampShape::tube)
        lamp.aim = Vec3(0, 0, -1);
    else
        throw InputError(t.where(), t.title() + " needs 'aim'");
    lamp.roll = t.number("roll");
    read_size(t, lamp);
    lamp.beam = t.number("beam");
    lamp.field = t.number_if_given("field").value_or(std::min(178.0, 1.5 * lamp.beam));
    lamp.grid = t.number("grid");
    if (lamp.field <= lamp.beam && lamp.shape == LampShape::hard)
        t.refuse(t.has("field") ? "field" : "beam", "makes the field " + plain(lamp.field) +
                                                        " degrees; expected wider than the beam, " + plain(lamp.beam));
    read_light(t, lamp);
    lamp.level = level_in(t);
    lamp.on = t.yes("on");
    const auto unused = [&](const char* key, bool used) {
        if (!used && t.has(key))
            t.context().remark(t.where(key),
                               lamp.name + ": " + key + " means nothing for a " + t.word("shape") + " lamp");
    };
    unused("beam", lamp.shape == LampShape::hard);
    unused("field", lamp.shape == LampShape::hard);
    unused("grid", lamp.shape == LampShape::box);
    return lamp;
}

}  // namespace rushlight
