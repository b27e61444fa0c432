#include "setup/advice/what_if.h"

#include "setup/plain/catalogues.h"
#include "setup/text/typed_values.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>

namespace rushlight {

namespace {

struct Wish {
    Lamp* lamp;
    std::string value;
};

/// "NAME=value" taken apart at the last '='.
Wish wish(const std::string& text, const char* expected, Setup& setup) {
    const std::size_t at = text.rfind('=');
    const std::string name = at == std::string::npos ? text : text.substr(0, at);
    const std::string value = at == std::string::npos ? "" : tidy(text.substr(at + 1));
    if (tidy(name).empty() || value.empty()) throw InputError(in_quotes(text) + " is not " + expected);
    auto& lamps = setup.rig.lamps;
    std::vector<Lamp*> meant;
    std::vector<std::string> alike;
    for (Lamp& l : lamps) {
        if (l.name == name) return {&l, value};
        if (tidy(l.name) != tidy(name)) continue;
        meant.push_back(&l);
        alike.push_back(l.name);
    }
    if (meant.size() > 1)
        throw InputError("the lamp " + in_quotes(name) + " may be " + in_a_list(alike) +
                         "; expected one of them letter by letter");
    if (meant.size() == 1) return {meant.front(), value};
    if (tidy(name) == "sun" || tidy(name) == "sky")
        throw InputError("the " + tidy(name) + " has no dimmer; nd, bars and curtain of an opening thin what it gives");
    std::vector<std::string> names;
    for (const Lamp& l : lamps) names.push_back(l.name);
    if (names.empty()) throw InputError("no lamp " + in_quotes(name) + ": this set-up has no lamps");
    throw InputError("no lamp " + in_quotes(name) + hint(name, names));
}

void set_level(const Wish& w) {
    if (w.value == "off" || w.value == "on") {
        w.lamp->on = w.value == "on";
        return;
    }
    auto level = level_from(w.value);
    if (!level)
        if (const auto share = level_from(w.value + "%")) level = *share * 100;  // a bare number, as in a file
    if (!level)
        throw InputError("the level " + in_quotes(w.value) + " of " + in_quotes(w.lamp->name) +
                         " is not a share such as 50%, 0.5, \"-1 stop\", on or off");
    if (!(*level >= 0 && *level <= 1 + 1e-9))
        throw InputError("the level " + in_quotes(w.value) + " of " + in_quotes(w.lamp->name) +
                         " does not lie between off and full: levels count from full output, as in the file");
    w.lamp->level = std::min(1.0, *level);
    w.lamp->on = *level > 0;
}

void set_gel(const Wish& w) {
    w.lamp->gel = Spectrum{1.0F};
    w.lamp->gel_words.clear();
    if (w.value == "none") return;
    double kelvin = w.lamp->burning_kelvin();
    for (const std::string& part : split(w.value, '+')) {
        const GelKind* kind = kind_named(gel_kinds(), tidy(part));
        if (!kind) {
            std::vector<std::string> names = names_of(gel_kinds());
            names.emplace_back("none");
            throw InputError("unknown gel " + in_quotes(tidy(part)) + hint(tidy(part), names));
        }
        const auto shares = gel_before(kelvin, *kind);
        if (!shares)
            throw InputError("gel " + in_quotes(tidy(part)) + " takes the light of " + in_quotes(w.lamp->name) +
                             " out of 1000 to 25000 K");
        w.lamp->gel *= *shares;
        w.lamp->gel_words += (w.lamp->gel_words.empty() ? "" : " + ") + std::string(kind->name);
    }
}

}  // namespace

Setup with(const WhatIf& what_if, Setup setup) {
    for (const std::string& text : what_if.levels) set_level(wish(text, "NAME=50%", setup));
    for (const std::string& text : what_if.gels) set_gel(wish(text, "NAME=\"half orange\"", setup));
    if ((what_if.iso || what_if.t_stop) && setup.camera < 0)
        throw InputError("set-up " + in_quotes(setup.name) + " has no camera whose ISO or stop could change");
    for (Camera& c : setup.rig.cameras) {
        if (what_if.iso) c.exposure.iso = *what_if.iso;
        if (what_if.t_stop) c.exposure.t_stop = *what_if.t_stop;
    }
    return setup;
}

Setup to_trace(const Setup& as_in_file, const Setup& asked) {
    Setup traced = as_in_file;
    traced.rig.cameras = asked.rig.cameras;
    for (std::size_t i = 0; i < traced.rig.lamps.size(); ++i) {
        Lamp& lamp = traced.rig.lamps[i];
        if (!lamp.burning().dark() || asked.rig.lamps.at(i).burning().dark()) continue;
        lamp.on = true;
        lamp.level = 1;
    }
    return traced;
}

}  // namespace rushlight
