// Meters measured until they are sure. Work is done in batches, each an independent estimate of every meter;
// the spread between batches is the error.
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
    /// Batches that were added, before neighbours were averaged: how much these results weigh beside others.
    std::size_t added() const { return added_; }

    /// Photometric reading (lux, or cd/m2 for a spot), all sources or one.
    Measured all(std::size_t meter) const { return all(std::span(&meter, 1)); }
    /// Mean over several meters.
    Measured all(std::span<const std::size_t> meters) const;
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
    /// (delete-one jackknife).
    Measured stops(std::span<const std::size_t> over, std::span<const std::size_t> under) const;
    Measured stops(std::size_t over, std::size_t under) const {
        return stops(std::span(&over, 1), std::span(&under, 1));
    }

    /// As if every source's light passed `share`, band by band. The mean is exact; the batches, which hold one number
    /// a source, are taken to have the colour of their mean.
    MeterResults relit(std::span<const Spectrum> share) const;
    /// The largest relative error of the numbers wanted: each the mean of some meters.
    double worst_error(std::span<const std::vector<std::size_t>> wanted) const;

    /// The memory it takes, in bytes.
    std::size_t bytes() const;
    void pack(Packer& to) const;
    /// Returns nothing where the bytes are no results.
    static std::optional<MeterResults> unpack(Unpacker& from);

    double seconds = 0;
    bool cut_short = false;  // stopped from outside, or by the longest time allowed
    double reached = 0;      // relative error of the worst number wanted

    struct Batch {
        std::vector<float> lux;  // [meter][source]
    };
    void add(Batch batch, std::vector<Spectrum> light);

private:
    double batch_mean(std::size_t batch, std::span<const std::size_t> meters) const;
    /// Past this many, neighbours are averaged in pairs: memory stays bounded.
    std::size_t most_batches() const;
    std::size_t meters_, sources_;
    std::vector<Batch> batches_;
    std::vector<double> pending_;
    std::size_t per_batch_ = 1, pending_count_ = 0;
    std::vector<std::array<double, bands>> light_;
    std::size_t added_ = 0;
};

/// Work shares that suit a scene: how many vertices its light paths have, found by a few of them.
Sharing sharing_for(const Scene& scene, std::uint64_t seed, std::uint32_t light_paths, std::uint32_t camera_paths);

/// The numbers that must be sure, each the mean of some meters; where there are none, every meter by itself.
using Wanted = std::vector<std::vector<std::size_t>>;
Wanted or_each(Wanted wanted, std::size_t meters);

/// Adds everything that distinguishes these meters, and the errors wanted of them, from others.
void add_content(Content& content, const std::vector<MeterPoint>& meters, const Wanted& wanted,
                 const LastSurfaces* last_surfaces);

/// With `last_surfaces`, results hold every source once for each group of last surfaces: see collect_at_meter().
MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                     Wanted wanted = {}, const LastSurfaces* last_surfaces = nullptr);
/// With the work shared as told: for tests and benchmarks.
MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                     const Sharing& sharing, Wanted wanted = {}, const LastSurfaces* last_surfaces = nullptr);

}  // namespace rushlight
