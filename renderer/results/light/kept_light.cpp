#include "results/light/kept_light.h"

#include "setup/plain/content.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rushlight {

namespace {

// An answer about other levels is given at once, if it is at least this near to the error that was wanted. Without
// such a question the wanted error is kept to.
constexpr double reused_within = 3;

bool by_error(const Effort& effort) {
    return effort.seconds <= 0 && effort.relative_error > 0;
}

std::vector<Spectrum> repeated(const std::vector<Spectrum>& shares, std::size_t times) {
    std::vector<Spectrum> all;
    for (std::size_t i = 0; i < times; ++i) all.insert(all.end(), shares.begin(), shares.end());
    return all;
}

}  // namespace

KeptLight::KeptLight(const Setup& traced, const Setup& asked, LayerCache cache, bool fresh)
    : cache_(std::move(cache)), fresh_(fresh), has_setup_(true), traced_setup_(traced), asked_setup_(asked) {
    for (std::size_t i = 0; i < traced.rig.lamps.size(); ++i)
        changed_ = changed_ || traced.rig.lamps[i].burning() != asked.rig.lamps.at(i).burning();
    Content content;
    content << program_fingerprint();
    add_content(content, traced);
    setup_fingerprint_ = content.fingerprint();
}

std::vector<Spectrum> burning(const Setup& setup, const std::vector<std::string>& sources) {
    std::vector<Spectrum> shares;
    for (const std::string& source : sources) {
        const auto& lamps = setup.rig.lamps;
        const auto lamp = std::find_if(lamps.begin(), lamps.end(), [&](const Lamp& l) { return l.name == source; });
        shares.push_back(lamp != lamps.end() ? lamp->burning() : Spectrum{1.0F});
    }
    return shares;
}

/// Band by band, now over then. Nothing where light is wanted of which none was traced.
std::optional<std::vector<Spectrum>> KeptLight::change_from(const std::vector<Spectrum>& before,
                                                            const Scene& scene) const {
    std::vector<Spectrum> change = burning(asked_setup_, scene.lights.sources());
    if (before.size() != change.size()) return std::nullopt;
    for (std::size_t s = 0; s < change.size(); ++s)
        for (int b = 0; b < bands; ++b) {
            constexpr float too_dark = 1e-9F;
            if (change[s][b] > 0 && before[s][b] < too_dark) return std::nullopt;
            change[s][b] = change[s][b] == before[s][b] ? 1.0F : change[s][b] / before[s][b];
        }
    // A lamp that stays dark has nothing to be changed: 0 / 0 was set to 1 above.
    return change;
}

std::string KeptLight::fingerprint(const char* kind, const Content& points, const Effort& effort) const {
    Content content;
    content << kind << setup_fingerprint_ << points.fingerprint() << effort.relative_error << effort.seconds
            << effort.most_seconds << effort.seed;
    return content.fingerprint();
}

MeterResults KeptLight::measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                                Wanted wanted, const LastSurfaces* last_surfaces) {
    if (!has_setup_ || meters.empty())
        return rushlight::measure(scene, meters, effort, std::move(wanted), last_surfaces);
    wanted = or_each(std::move(wanted), meters.size());
    Content points;
    add_content(points, meters, wanted, last_surfaces);
    const std::size_t groups = last_surfaces != nullptr ? last_surfaces->names.size() : 1;
    const std::string name = fingerprint("meters", points, effort);

    if (const auto bytes = fresh_ ? std::nullopt : cache_.find(name)) {
        Unpacker from(*bytes);
        const auto before = from.list<Spectrum>();
        const auto kept = MeterResults::unpack(from);
        const auto change = change_from(before, scene);
        if (kept && from.finished() && change && kept->meters() == meters.size() &&
            kept->sources() == groups * scene.lights.count()) {
            MeterResults relit = kept->relit(repeated(*change, groups));
            const double worst = error_reached(relit, meters, wanted, effort.relative_error);
            if (!by_error(effort) || !changed_ || worst <= reused_within * effort.relative_error) {
                ++from_cache_;
                seconds_then_ += relit.seconds;
                note(worst, effort);
                return relit;
            }
        }
    }
    ++traced_;
    const MeterResults results = rushlight::measure(scene, meters, effort, wanted, last_surfaces);
    const std::vector<Spectrum> shares = burning(traced_setup_, scene.lights.sources());
    if (!results.cut_short && results.batches() > 1) {
        Packer to;
        to.put(shares);
        results.pack(to);
        cache_.keep(name, to.bytes);
    }
    const auto change = change_from(shares, scene);
    if (!change || results.batches() == 0) return results;
    MeterResults relit = results.relit(repeated(*change, groups));
    note(error_reached(relit, meters, wanted, effort.relative_error), effort);
    return relit;
}

void KeptLight::note(double worst, const Effort& effort) {
    if (!by_error(effort) || worst * wanted_ <= worst_ * effort.relative_error) return;
    worst_ = worst;
    wanted_ = effort.relative_error;
}

bool KeptLight::holds_layers(std::size_t points, std::size_t sources) const {
    return changed_ || (cache_.keeps() && field_bytes(points, sources, true) <= cache_.largest());
}

Field KeptLight::field(const Scene& scene, std::size_t count, const Content& points, bool must_hold_layers,
                       const CollectAtPoint& collect, const Effort& effort) {
    const bool hold = must_hold_layers || holds_layers(count, scene.lights.count());
    if (!has_setup_) return trace_field(scene, count, must_hold_layers, collect, effort, points.fingerprint());
    const std::string name = fingerprint("field", points, effort);
    if (const auto bytes = fresh_ || !hold ? std::nullopt : cache_.find(name)) {
        Unpacker from(*bytes);
        const auto before = from.list<Spectrum>();
        auto kept = unpack_field(from);
        const auto change = change_from(before, scene);
        if (kept && from.finished() && change && kept->points == count && kept->sources == scene.lights.count()) {
            Field now = relit(std::move(*kept), *change);
            if (!by_error(effort) || changed_ || now.noise <= effort.relative_error) {
                ++from_cache_;
                seconds_then_ += now.seconds;
                return now;
            }
        }
    }
    ++traced_;
    Field traced = trace_field(scene, count, hold, collect, effort, points.fingerprint());
    if (!hold || traced.sources == 0) return traced;
    const std::vector<Spectrum> shares = burning(traced_setup_, scene.lights.sources());
    if (!traced.cut_short && field_bytes(count, traced.sources, true) <= cache_.largest() && cache_.keeps()) {
        Packer to;
        to.put(shares);
        pack(traced, to);
        cache_.keep(name, to.bytes);
    }
    const auto change = change_from(shares, scene);
    return change ? relit(std::move(traced), *change) : std::move(traced);
}

bool KeptLight::less_sure() const {
    return changed_ && worst_ > 1.05 * wanted_;
}

std::vector<std::string> KeptLight::remarks() const {
    std::vector<std::string> say;
    char text[200];
    if (nothing_traced()) {
        std::snprintf(text, sizeof text, "From layers kept of an earlier run, which took %.1f s.", seconds_then_);
        say.emplace_back(text);
    }
    if (less_sure()) {
        std::snprintf(text, sizeof text,
                      "At these levels the least accurate reading has an error of %.1f %% instead of %.1f %%.",
                      100 * worst_, 100 * wanted_);
        say.emplace_back(text);
    }
    return say;
}

}  // namespace rushlight
