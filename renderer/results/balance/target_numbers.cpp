#include "results/balance/target_numbers.h"

#include "quantity/colour.h"
#include "quantity/exposure.h"
#include "results/light/remarks.h"
#include "results/readings/readings.h"
#include "results/readings/view_spots.h"
#include "scene/rays/camera_view.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <set>

namespace rushlight {

Measured TargetNumber::value(const MeterResults& r, double stop) const {
    if (colour) {
        Spectrum light;
        for (const std::size_t m : over) light += r.light(m);
        if (light.dark()) return {0, 0};
        return {mired(colour_temperature(tristimulus(light)).cct).value, 0};
    }
    Measured m;
    if (under.empty()) {
        m = stops_of(r.all(over));
    } else {
        m = r.stops(over, under);
    }
    m.value += shift + by_stop * stop;
    return m;
}

double TargetNumber::off(double value) const {
    const double d = value - wanted;
    return (side == Want::Side::at_least && d > 0) || (side == Want::Side::at_most && d < 0) ? 0 : d;
}

std::string TargetNumber::for_people(double v) const {
    if (!std::isfinite(v)) return "no light";
    switch (said) {
        case Said::t_stop:
            return in_words("T%.1f", std::sqrt(std::exp2(v) * t_squared_per_lux));
        case Said::lux:
            return in_words("%.0f lx", std::exp2(v));
        case Said::ratio:
            return in_words(std::exp2(v) < 9.95 ? "%.1f:1" : "%.0f:1", std::exp2(v));
        case Said::kelvin:
            return in_words("%.0f K", v > 0 ? 1e6 / v : 0);
        case Said::stops:
            break;
    }
    std::string words = in_words("%+.1f stops", v);
    if (words == "-0.0 stops" || words == "+0.0 stops") return "0.0 stops";
    if (words.front() == '-') words.replace(0, 1, "−");
    return words;
}

double stop_of_targets(const Setup& setup) {
    for (const Target& t : setup.targets)
        if (t.want.kind == Want::Kind::t_stop && t.want.side == Want::Side::exact) return t.want.value;
    return setup.exposure().t_stop;
}

TargetNumbers::TargetNumbers(const Setup& setup, const Scene& scene) : setup_(&setup) {
    for (const NamedMeter& m : meters_of(setup, scene)) {
        groups_.push_back({m.name, {meters_.size()}, {}, false});
        meters_.push_back(m.point);
    }
    for (const OutlineMeters& o : outlines_of(setup, scene)) {
        Group g{o.name, {}, {}, true};
        for (const std::size_t k : o.on) g.over.push_back(meters_.size() + k);
        for (const std::size_t k : o.behind) g.under.push_back(meters_.size() + k);
        meters_.insert(meters_.end(), o.spots.begin(), o.spots.end());
        groups_.push_back(std::move(g));
    }
    add_windows(setup, scene);
    keep_what_is_wanted();
}

/// Meters that no target asks for would only cost time.
void TargetNumbers::keep_what_is_wanted() {
    std::set<std::size_t> used;
    for (const auto& group : wanted()) used.insert(group.begin(), group.end());
    const auto all_used = [&](const Group& g) {
        return std::all_of(g.over.begin(), g.over.end(), [&](std::size_t m) { return used.count(m) > 0; });
    };
    groups_.erase(std::remove_if(groups_.begin(), groups_.end(), [&](const Group& g) { return !all_used(g); }),
                  groups_.end());
    std::vector<MeterPoint> kept;
    std::vector<std::size_t> number(meters_.size(), 0);
    for (const std::size_t m : used) {
        number[m] = kept.size();
        kept.push_back(meters_[m]);
    }
    meters_ = std::move(kept);
    for (Group& g : groups_)
        for (auto* list : {&g.over, &g.under})
            for (std::size_t& m : *list) m = number[m];
}

/// The view through each opening, as a mean of the spots that the camera sees.
void TargetNumbers::add_windows(const Setup& setup, const Scene& scene) {
    if (setup.camera < 0 || !setup.place.has_room) return;
    for (const ViewSpots& v : views_in_frame(setup, scene, CameraView::for_asking(*setup.its_camera()))) {
        Group group{v.opening, {}, {}, true};
        for (const MeterPoint& spot : v.spots) {
            group.over.push_back(meters_.size());
            meters_.push_back(spot);
        }
        groups_.push_back(std::move(group));
    }
}

const TargetNumbers::Group* TargetNumbers::group(const std::string& name) const {
    for (const Group& g : groups_)
        for (const char* ending : {"", " over background"})
            if (tidy(g.name) == tidy(name + ending)) return &g;
    if (tidy(name) == "window")
        for (const Opening& o : setup_->place.room.openings)
            for (const Group& g : groups_)
                if (g.name == o.name) return &g;
    return nullptr;
}

/// The meters that a name means; a key or fill cheek, or both, by the light as found.
TargetNumbers::Group TargetNumbers::needed(const std::string& name, const Target& target,
                                           const MeterResults& found) const {
    if (const Group* g = group(name)) return *g;
    std::vector<std::string> names{"window"};
    for (const Group& g : groups_) names.push_back(g.name);
    for (const Mark& m : setup_->rig.marks) {
        const Group* near = group(m.name + (setup_->camera >= 0 ? " near cheek" : " left cheek"));
        const Group* far = group(m.name + (setup_->camera >= 0 ? " far cheek" : " right cheek"));
        for (const char* role : {" key cheek", " fill cheek", " cheeks", ""}) {
            names.push_back(m.name + role);
            if (tidy(name) != tidy(m.name + role) || near == nullptr || far == nullptr) continue;
            const bool known = found.batches() > 0;
            const bool far_is_key = known && found.all(far->over).value > found.all(near->over).value;
            const Group& key = far_is_key ? *far : *near;
            const Group& fill = far_is_key ? *near : *far;
            if (std::string(role) == " key cheek") return key;
            if (std::string(role) == " fill cheek") return fill;
            return {m.name + " cheeks", key.over, fill.over, false};
        }
    }
    throw InputError(target.where, "[[target]]: no reading " + in_quotes(name) + " in set-up " +
                                       in_quotes(setup_->name) + hint(name, names));
}

Wanted TargetNumbers::wanted() const {
    Wanted w;
    for (const Target& t : setup_->targets)
        for (const std::string& name : {t.reading, t.want.kind == Want::Kind::over ? t.want.other : std::string()}) {
            if (name.empty() || name == "grey") continue;
            const Group g = needed(name, t, MeterResults(0, 0));
            w.push_back(g.over);
            if (!g.under.empty()) w.push_back(g.under);
        }
    // Either cheek may turn out to be the key's.
    for (const Group& g : groups_)
        if (g.name.size() > 6 && g.name.ends_with(" cheek")) w.push_back(g.over);
    return w;
}

TargetNumber TargetNumbers::number_of(const Target& t, const MeterResults& found,
                                      const std::vector<Sheet>& others) const {
    const Want& want = t.want;
    Exposure exposure = setup_->exposure();
    exposure.t_stop = stop_of_targets(*setup_);
    const Group g = needed(t.reading, t, found);
    const auto refuse = [&](const std::string& why) -> void {
        throw InputError(t.where, "[[target]] " + in_quotes(t.reading) + ", " + in_quotes(t.text) + ": " + why);
    };
    TargetNumber n;
    n.name = g.name;
    n.want = t.text;
    n.over = g.over;
    n.under = g.under;
    n.wanted = want.value;
    n.within = want.within;
    n.side = want.side;
    using Kind = Want::Kind;
    const bool pair = !g.under.empty();
    if ((want.kind == Kind::t_stop || want.kind == Kind::lux || want.kind == Kind::kelvin) && (pair || g.luminance))
        refuse("T, lx and K are what a light meter shows; ask cheeks for a ratio such as \"4:1\", hair and windows for "
               "\"1 over\"");
    switch (want.kind) {
        case Kind::t_stop: {
            Exposure e = exposure;
            e.t_stop = want.value;
            n.wanted = std::log2(metered_illuminance(e).value);
            n.said = TargetNumber::Said::t_stop;
            n.t_squared_per_lux = want.value * want.value / metered_illuminance(e).value;
            break;
        }
        case Kind::lux:
            n.wanted = std::log2(want.value);
            n.said = TargetNumber::Said::lux;
            break;
        case Kind::kelvin:
            n.colour = true;
            n.wanted = 1e6 / want.value;
            n.said = TargetNumber::Said::kelvin;
            break;
        case Kind::ratio:
            if (!pair) refuse("a ratio is of \"A cheeks\"; of other readings say \"2 over\" and the other's name");
            n.said = TargetNumber::Said::ratio;
            break;
        case Kind::over:
            if (!want.other.empty() && tidy(want.other) != "grey") {
                if (pair) refuse("that is a difference already; expected \"1 over\" alone");
                const Group other = needed(want.other, t, found);
                if (!other.under.empty() || other.luminance != g.luminance) refuse("the two are not of one kind");
                n.name += " over " + other.name;
                n.under = other.over;
            } else if (!pair) {
                n.name += " over grey";
                n.shift =
                    -std::log2(g.luminance ? grey_luminance(exposure).value : metered_illuminance(exposure).value);
                n.by_stop = -1;
            }
            break;
        case Kind::match: {
            const auto sheet =
                std::find_if(others.begin(), others.end(), [&](const Sheet& s) { return s.setup == want.other; });
            const std::string name = want.other_reading.empty() ? g.name : want.other_reading;
            n.said = pair && !g.luminance ? TargetNumber::Said::ratio
                     : pair               ? TargetNumber::Said::stops
                                          : TargetNumber::Said::lux;
            double value = NAN;
            if (sheet != others.end()) {
                for (const Reading& r : sheet->readings)
                    if (!pair && (tidy(r.name) == tidy(name) || tidy(r.mark + " " + r.side + " cheek") == tidy(name)))
                        value = std::log2(r.lux.value);
                for (const Ratio& r : sheet->ratios)
                    if (pair && !g.luminance && tidy(r.name).rfind(tidy(name), 0) == 0) value = r.stops.value;
                for (const Separation& s : sheet->separations)
                    if (pair && g.luminance &&
                        (tidy(s.name) == tidy(name) || tidy(s.name) == tidy(name + " over background")))
                        value = s.stops.value;
            }
            if (!std::isfinite(value))
                refuse("set-up " + in_quotes(want.other) + " has no lit reading " + in_quotes(name) + " of that kind");
            n.wanted = value;
            break;
        }
    }
    return n;
}

void TargetNumbers::expect_each_of_its_kind() const {
    for (const Target& t : setup_->targets)
        if (t.want.kind != Want::Kind::match) number_of(t, MeterResults(0, 0), {});
}

void TargetNumbers::settle(const MeterResults& found, const std::vector<Sheet>& others) {
    numbers_.clear();
    for (const Target& t : setup_->targets) numbers_.push_back(number_of(t, found, others));
}

}  // namespace rushlight
