#include "results/balance/missing_lamp.h"

#include "results/glint/eye_light.h"
#include "results/readings/readings.h"
#include "setup/advice/kit_use.h"
#include "setup/plain/lamp_output.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// Lux on the aim at `distance`, about.
double lux_at(const Lamp& l, double distance) {
    const double amount = photometric(l.intensity_or_flux) * luminous_share(l.gel, equal_energy());
    if (l.luminaire) return luminaire_lux(l, distance);
    if (l.output == Lamp::Output::candela) return amount / (distance * distance);
    if (l.shape == LampShape::hard) return amount / beam_solid_angle(l.beam) / (distance * distance);
    return amount / flux_per_luminance(l) * lux_per_luminance(l, distance);
}

bool suits(const Lamp& l, LampJob job) {
    switch (job) {
        case LampJob::key:
            return l.shape == LampShape::box && std::min(l.width, l.height) >= 0.5;
        case LampJob::hair:
            return l.shape == LampShape::hard && l.field <= 70 && l.watts > 0;
        case LampJob::eye:
            break;
    }
    return (l.shape == LampShape::box || l.shape == LampShape::ring) && std::max(l.width, l.height) <= 0.65;
}

struct Candidate {
    const KitItem* item;
    double lux;  // at the place
};

/// Weakest first; of eye lights the smallest.
std::vector<Candidate> candidates(const Setup& setup, const Kit& kit, LampJob job, double distance) {
    const KitList used = kit_list(setup, kit);
    const auto left = [&](const KitItem& item) {
        for (const KitUse& u : used.items)
            if (u.name == item.name && !u.is_part && item.count && u.used >= *item.count) return false;
        return !item.count || *item.count > 0;
    };
    std::vector<Candidate> all;
    for (const bool only_what_suits : {true, false}) {
        for (const KitItem* item : kit.items()) {
            if (item->kind != ThingKind::lamp || item->generic == kit.owned() || !left(*item)) continue;
            if (only_what_suits && !suits(item->lamp, job)) continue;
            const double lux = lux_at(item->lamp, distance);
            if (std::isfinite(lux) && lux > 0) all.push_back({item, lux});
        }
        if (!all.empty()) break;
    }
    // Of two that give the face as much, the smaller one shows brighter in the eye.
    const auto area = [](const Candidate& c) { return c.item->lamp.width * c.item->lamp.height; };
    std::stable_sort(all.begin(), all.end(), [&](const Candidate& a, const Candidate& b) {
        return job == LampJob::eye ? area(a) < area(b) : a.lux < b.lux;
    });
    return all;
}

Lamp placed(const KitItem& item, const LampPlace& place, LampJob job, const Setup& setup, std::size_t mark) {
    Lamp l = item.lamp;
    const std::string name = std::string(word_of(job)) + " for " + setup.rig.marks[mark].name;
    l.name = name;
    for (int n = 2; std::any_of(setup.rig.lamps.begin(), setup.rig.lamps.end(),
                                [&](const Lamp& other) { return other.name == l.name; });
         ++n)
        l.name = name + " " + std::to_string(n);
    l.kit_item = item.name;
    l.at = place.at;
    l.aimed_at = place.aimed_at;
    l.aim = (place.aimed_at - place.at).normalized();
    l.circuit.clear();
    l.on = true;
    l.level = 1;
    return l;
}

Setup with_lamp(Setup s, Lamp l) {
    s.rig.lamps.push_back(std::move(l));
    return s;
}

Effort rough(const Effort& effort, double error) {
    Effort own = effort;
    own.relative_error = std::max(error, effort.relative_error);
    own.tell = nullptr;
    own.show = nullptr;
    return own;
}

/// How many times this lamp at full the target asks for; nothing where no amount of it brings it.
std::optional<double> times_needed(const Reckoning& r, const TargetNumber& n, double off) {
    const auto& sources = r.scene.lights.sources();
    const auto sum = [&](const std::vector<std::size_t>& meters, bool own) {
        double s = 0;
        for (const std::size_t m : meters)
            for (std::size_t source = 0; source < sources.size(); ++source)
                if ((sources[source] == r.setup.rig.lamps.back().name) == own)
                    s +=
                        static_cast<double>(photometric(r.found.light(m, source))) / static_cast<double>(meters.size());
        return s;
    };
    const double over = sum(n.over, false), gained = sum(n.over, true);
    const double wanted = std::exp2(-off);  // times what there is
    if (n.under.empty()) return gained > 0 ? std::optional(over * (wanted - 1) / gained) : std::nullopt;
    const double under = sum(n.under, false), spilt = sum(n.under, true);
    const double net = gained - wanted * over / under * spilt;
    if (!(net > 0) || !(under > 0)) return std::nullopt;
    return over * (wanted - 1) / net;
}

double stop_from_targets(const Setup& s) {
    return 2 * std::log2(s.exposure().t_stop / stop_of_targets(s));
}

}  // namespace

std::optional<LampLack> lack_of(const Setup& setup, const TargetNumber& n, double value) {
    if (n.colour || !(n.off(value) < 0)) return std::nullopt;
    const std::string name = tidy(n.name);
    const auto& marks = setup.rig.marks;
    for (std::size_t m = 0; m < marks.size(); ++m) {
        const std::string whose = tidy(marks[m].name) + " ";
        if (name.rfind(whose, 0) != 0) continue;
        const std::string what = name.substr(whose.size());
        if (what.rfind("hair", 0) == 0) return LampLack{LampJob::hair, m};
        for (const char* face :
             {"near cheek", "far cheek", "key cheek", "left cheek", "right cheek", "cheeks", "front", "dome"})
            if (what.rfind(face, 0) == 0) return LampLack{LampJob::key, m};
    }
    return std::nullopt;
}

MissingLamp lamp_for_target(const Setup& setup, const LampLack& lack, std::size_t k, const Kit& kit,
                            const std::vector<Sheet>& others, const Effort& effort, const LayerCache& cache) {
    MissingLamp missing;
    missing.job = lack.job;
    missing.person = setup.rig.marks[lack.mark].name;
    const Effort own = rough(effort, 0.02);
    const double stop = stop_from_targets(setup);
    const Reckoning before(setup, {}, others, own, cache);
    const TargetNumber& asked = before.numbers.all().at(k);
    if (const double now = asked.value(before.as_found, stop).value; asked.off(now) >= 0) {
        missing.trouble = "none is needed: " + asked.name + " is " + asked.for_people(now) + ", wanted " + asked.want;
        return missing;
    }
    const Vec3 lit = before.numbers.meters()[asked.over.front()].facing;
    const auto place = place_for(setup, before.scene, lack.job, lack.mark, lit);
    if (!place) {
        missing.trouble = "no place for it is inside the room, clear of everything and out of frame";
        return missing;
    }
    missing.place = *place;
    const std::vector<Candidate> of_the_kit = candidates(setup, kit, lack.job, place->distance);
    if (of_the_kit.empty()) {
        missing.trouble = "the kit has no lamp left for it";
        return missing;
    }
    // The smallest tells how much is needed; then the smallest that has it.
    const std::size_t added = setup.rig.lamps.size();
    const Candidate* chosen = &of_the_kit.front();
    for (int round = 0;; ++round) {
        Lamp lamp = placed(*chosen->item, *place, lack.job, setup, lack.mark);
        lamp.on = false;
        const Reckoning with(with_lamp(setup, lamp), {added}, others, own, cache);
        const double off = asked.off(asked.value(before.as_found, stop).value);
        const auto times = times_needed(with, with.numbers.all()[k], off);
        if (!times) {
            missing.trouble = "from anywhere it could stand, it lights the background as much";
            return missing;
        }
        if (round == 0 && *times > 1) {
            const auto enough = std::find_if(of_the_kit.begin(), of_the_kit.end(), [&](const Candidate& c) {
                return c.lux >= 1.1 * *times * of_the_kit.front().lux;
            });
            chosen = enough != of_the_kit.end() ? &*enough : &of_the_kit.back();
            if (chosen != &of_the_kit.front()) continue;
        }
        lamp.on = true;
        lamp.level = std::clamp(std::round(1000 * *times) / 1000, lowest_level, 1.0);
        missing.lamp = std::move(lamp);
        missing.field = missing.lamp.shape == LampShape::hard ? missing.lamp.field : 180;
        missing.brings_it = *times <= 1;
        return missing;
    }
}

MissingLamp eye_light_for(const Setup& setup, std::size_t mark, const Kit& kit, const Effort& effort,
                          const LayerCache& cache) {
    constexpr double most_added = 0.1;  // stops, common practice, no source
    MissingLamp missing;
    missing.job = LampJob::eye;
    missing.person = setup.rig.marks[mark].name;
    const Scene scene = build_scene(setup);
    const auto place = place_for(setup, scene, LampJob::eye, mark, scene.figures.at(mark).nose);
    if (!place) {
        missing.trouble = "no place for it is inside the room, clear of everything and out of frame";
        return missing;
    }
    missing.place = *place;
    const std::vector<Candidate> of_the_kit = candidates(setup, kit, LampJob::eye, place->distance);
    if (of_the_kit.empty()) {
        missing.trouble = "the kit has no lamp left for it";
        return missing;
    }
    const Effort own = rough(effort, 0.03);
    const Figure& figure = scene.figures.at(mark);
    double front = 0;
    if (scene.lights.count() > 0) {
        const MeterPoint meter{MeterKind::flat, figure.front.at, figure.front.facing, 0};
        front = KeptLight(setup, setup, cache).measure(scene, {meter}, own).all(0).value;
    }
    missing.lamp = placed(*of_the_kit.front().item, *place, LampJob::eye, setup, mark);
    missing.field = 180;
    if (front > 0) {
        const double level = front * (std::exp2(most_added) - 1) / of_the_kit.front().lux;
        missing.lamp.level = std::clamp(std::round(1000 * level) / 1000, 0.001, 1.0);
    }
    if (setup.camera < 0) return missing;
    const CameraView view = CameraView::for_asking(*setup.its_camera());
    PersonReadings person;
    const double iris = (front > 0 ? front : of_the_kit.front().lux) * iris_reflectance / pi;
    find_eye_lights(build_scene(with_lamp(setup, missing.lamp)), view, static_cast<int>(mark), iris, own, person);
    for (const EyeLight& e : person.eye_lights)
        if (e.source == missing.lamp.name && e.by == missing.lamp.name) missing.over_iris = e.over_iris;
    missing.brings_it = missing.over_iris.has_value();
    if (!missing.brings_it && person.eye_seen)
        missing.trouble =
            "At this level it does not read in the eyes; try the lens from another side, or turn the head";
    if (!person.eye_seen) missing.trouble = "The lens does not see the eyes";
    return missing;
}

}  // namespace rushlight
