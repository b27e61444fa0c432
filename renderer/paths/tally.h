// What the passes of a measurement have brought so far: sums for every batch, and what they tell of the passes to come.
//
// There are so many batches from the first pass to the last, and each counts alike however many passes it has had. They
// belong to two halves by turns. How many passes a half gets is decided by what the *other* half has seen: no mean can
// lean towards what made its own half stop.
#pragma once

#include "paths/measure.h"

#include <algorithm>

namespace rushlight {

inline constexpr std::size_t halves = 2, batches_a_half = 16, batches_in_all = halves * batches_a_half;
inline std::size_t half_of(std::size_t batch) {
    return batch % halves;
}

/// Of a number that was seen once a pass.
struct Moments {
    double count = 0, sum = 0, squares = 0;
    void add(double x) { count += 1, sum += x, squares += x * x; }
    double mean() const { return count > 0 ? sum / count : 0.0; }
    double variance() const { return count > 1 ? std::max(0.0, (squares - sum * sum / count) / (count - 1)) : 0.0; }
};

/// What one pass brought to the meters that took part, and what it cost.
struct PassLight {
    std::vector<Spectrum> light;  // [meter that took part][source]
    std::vector<double> work;     // rays, a meter that took part
};

class Tally {
public:
    Tally(std::size_t meters, std::size_t sources, std::size_t groups);

    std::size_t passes(std::size_t batch, std::size_t meter) const { return passes_[batch * meters_ + meter]; }
    void add(std::size_t batch, std::span<const std::size_t> meters, const PassLight& pass, const Wanted& wanted);
    /// Begins these anew.
    void forget(std::span<const std::size_t> meters, const Wanted& wanted);

    /// Light of all sources by one pass at a meter, or on average at the meters of a group.
    const Moments& of_meter(std::size_t half, std::size_t meter) const { return of_meters_[half * meters_ + meter]; }
    const Moments& of_group(std::size_t half, std::size_t group) const { return of_groups_[half * groups_ + group]; }
    /// Rays of a pass at the meter.
    double work(std::size_t meter) const;

    /// Of all batches in which every meter has had a pass.
    MeterResults results() const;

    void pack(Packer& to) const;
    /// Whether what was packed fits these meters.
    bool unpack(Unpacker& from);

private:
    std::size_t meters_, sources_, groups_;
    std::vector<std::uint32_t> passes_;           // [batch][meter]
    std::vector<Spectrum> light_;                 // sums, [batch][meter][source]
    std::vector<Moments> of_meters_, of_groups_;  // [half][...]
    std::vector<double> work_;                    // sums over all passes, [meter]
};

}  // namespace rushlight
