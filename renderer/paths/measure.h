// Meters measured until they are sure. Work is done in batches, each an independent estimate of every meter;
// the spread between batches is the error. Each meter gets as many passes as its own number needs (plan.h).
#pragma once

#include "paths/walk/camera_paths.h"
#include "paths/work/effort.h"
#include "quantity/content.h"
#include "quantity/measured.h"
#include "quantity/packed.h"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace rushlight {

class MeterResults {
public:
    MeterResults(std::size_t meters, std::size_t sources);

    std::size_t meters() const { return meters_; }
    std::size_t sources() const { return sources_; }
    std::size_t batches() const { return batches_.size(); }
    /// Passes that a meter has had on average: how much these results weigh beside others.
    double passes() const { return passes_; }

    /// Photometric reading (lux, or cd/m2 for a spot), all sources or one.
    Measured all(std::size_t meter) const { return all(std::span(&meter, 1)); }
    /// Mean over several meters.
    Measured all(std::span<const std::size_t> meters) const;
    /// The brightest of several meters. Each half of the batches reads the one that the other half found brightest: the
    /// highest of noisy numbers would lean upward.
    Measured brightest(std::span<const std::size_t> meters) const;
    Measured of(std::size_t meter, std::size_t source) const { return of(meter, std::span(&source, 1)); }
    /// Several sources summed, and the mean over several meters.
    Measured of(std::span<const std::size_t> meters, std::span<const std::size_t> sources) const;
    Measured of(std::size_t meter, std::span<const std::size_t> sources) const {
        return of(std::span(&meter, 1), sources);
    }
    /// The mean of one batch alone. Batches are independent, and of equal weight.
    float of(std::size_t meter, std::size_t source, std::size_t batch) const {
        return batches_[batch].lux[meter * sources_ + source];
    }
    /// Mean light at the meter from one source, in bands.
    Spectrum light(std::size_t meter, std::size_t source) const;
    Spectrum light(std::size_t meter) const;
    /// log2(over / under) of two meters or of the means of two groups, its error with what they have in common
    /// (delete-one jackknife, which also takes off what a logarithm of few samples leans: Quenouille 1956).
    Measured stops(std::span<const std::size_t> over, std::span<const std::size_t> under) const;
    Measured stops(std::size_t over, std::size_t under) const {
        return stops(std::span(&over, 1), std::span(&under, 1));
    }

    /// As if every source's light passed `share`, band by band. The mean is exact; the batches, which hold one number
    /// a source, are taken to have the colour of their mean.
    MeterResults relit(std::span<const Spectrum> share) const;
    /// Memory that it takes.
    std::size_t bytes() const;
    void pack(Packer& to) const;
    /// Returns nothing where the bytes are no results.
    static std::optional<MeterResults> unpack(Unpacker& from);

    double seconds = 0;
    bool cut_short = false;  // stopped from outside, or by the longest time allowed
    double reached = 0;      // see error_reached()

    /// One more batch: its mean light, [meter][source], from so many passes a meter.
    void add(std::span<const Spectrum> light, double passes);
    /// Errors of what may not have been met, lx, [meter][source], beside those by the spread: see unmet_light.h.
    void may_miss(std::vector<float> errors) { unmet_ = std::move(errors); }

private:
    double batch_mean(std::size_t batch, std::span<const std::size_t> meters) const;
    Measured mean_over_batches(std::span<const double> estimates) const;
    /// Of the mean over several meters of these sources, or of all.
    double unmet(std::span<const std::size_t> meters, std::span<const std::size_t> sources = {}) const;
    struct Batch {
        std::vector<float> lux;  // [meter][source]
    };
    std::size_t meters_, sources_;
    std::vector<Batch> batches_;
    std::vector<std::array<double, bands>> light_;  // summed over batches
    std::vector<float> unmet_;                      // lx, [meter][source]; empty: none
    double passes_ = 0;
};

/// Work shares that suit a scene: how many vertices its light paths have, found by a few of them.
Sharing sharing_for(const Scene& scene, std::uint64_t seed, std::uint32_t light_paths, std::uint32_t camera_paths);

/// The numbers that must be sure, each the mean of some meters; where there are none, every meter by itself.
using Wanted = std::vector<std::vector<std::size_t>>;
Wanted or_each(Wanted wanted, std::size_t meters);

/// The relative error of the least sure number that is wanted, of its value and what its meters read besides. Those
/// that need not be so sure (MeterPoint::enough, and what is all but dark) count by what they may be off.
double error_reached(const MeterResults& results, const std::vector<MeterPoint>& meters, const Wanted& wanted,
                     double relative_error);

/// Adds what tells these meters, and what is wanted of them, from others.
void add_content(Content& content, const std::vector<MeterPoint>& meters, const Wanted& wanted,
                 const LastSurfaces* last_surfaces);

/// With `last_surfaces`, results hold every source once for each group of last surfaces: see collect_at_meter().
MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                     Wanted wanted = {}, const LastSurfaces* last_surfaces = nullptr);
/// With the work shared as told: for tests and benchmarks.
MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                     const Sharing& sharing, Wanted wanted = {}, const LastSurfaces* last_surfaces = nullptr);

}  // namespace rushlight
