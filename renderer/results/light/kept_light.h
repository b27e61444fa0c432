// Where answers get their light from: traced, or from layers kept of an earlier trace, put under the levels and gels
// that are asked for.
#pragma once

#include "paths/field.h"
#include "paths/measure.h"
#include "quantity/content.h"
#include "results/light/layer_cache.h"
#include "setup/plain/setup.h"

namespace rushlight {

/// The share of its full light that each source gives in this set-up, by name and band by band; 1 for sun and sky.
std::vector<Spectrum> burning(const Setup& setup, const std::vector<std::string>& sources);

class KeptLight {
public:
    /// Always traces, and keeps nothing.
    KeptLight() = default;
    /// `traced` is what the scene was built from, `asked` what is wanted now: the same but for levels and gels (see
    /// to_trace()). With `fresh`, what is there is not used, but replaced.
    KeptLight(const Setup& traced, const Setup& asked, LayerCache cache, bool fresh = false);

    MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                         Wanted wanted = {}, const LastSurfaces* last_surfaces = nullptr);
    /// `points` is the content that tells these points from others. The layers are held if there is room in the cache,
    /// or if another light is asked for than was traced.
    Field field(const Scene& scene, std::size_t count, const Content& points, bool must_hold_layers,
                const CollectAtPoint& collect, const Effort& effort);
    bool holds_layers(std::size_t points, std::size_t sources) const;

    /// True if the light asked for differs from the light that was traced.
    bool changed() const { return changed_; }
    /// True if everything so far came from kept layers.
    bool nothing_traced() const { return from_cache_ > 0 && traced_ == 0; }
    /// Sentences for people: where the light came from, and where it is less sure than was wanted. True if changed
    /// levels left a reading with a larger error than was asked for.
    bool less_sure() const;
    std::vector<std::string> remarks() const;

private:
    std::optional<std::vector<Spectrum>> change_from(const std::vector<Spectrum>& before, const Scene& scene) const;
    std::string fingerprint(const char* kind, const Content& points, const Effort& effort) const;

    LayerCache cache_{std::filesystem::path()};
    bool fresh_ = false, changed_ = false, has_setup_ = false;
    Setup traced_setup_, asked_setup_;
    std::string setup_fingerprint_;
    int from_cache_ = 0, traced_ = 0;
    double seconds_then_ = 0;
    /// Remembers the answer whose error exceeds the wanted one most.
    void note(double worst, const Effort& effort);
    double worst_ = 0, wanted_ = 1;
};

}  // namespace rushlight
