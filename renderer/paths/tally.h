// What the passes of a measurement have brought so far: sums for every batch, and what they tell of the passes to come.
//
// There are so many batches from the first pass to the last, and each counts alike however many passes it has had. They
// belong to two halves by turns. How many passes a half gets is decided by what the *other* half has seen: no mean can
// lean towards what made its own half stop.
#pragma once

#include "paths/measure.h"

#include <algorithm>
#include <bit>

namespace rushlight {

inline constexpr std::size_t halves = 2, batches_a_half = 16, batches_in_all = halves * batches_a_half;
inline std::size_t half_of(std::size_t batch) {
    return batch % halves;
}

/// Of what a pass brings, seen as means over lots of passes. The mean of n passes counts n times: it scatters by the
/// variance of a pass over n, or by less where walks of one lot lie evenly.
struct Moments {
    double count = 0, sum = 0, squares = 0, lots = 0;
    void add(double x, double passes) {
        count += passes, sum += passes * x, squares += passes * x * x;
        lots += 1;
    }
    double mean() const { return count > 0 ? sum / count : 0.0; }
    /// Of a single pass.
    double variance() const { return lots > 1 ? std::max(0.0, (squares - sum * sum / count) / (lots - 1)) : 0.0; }
};

/// Passes of a batch are traced in lots, the larger the more there have been: walks of one lot lie evenly and share
/// their light paths. Returns the passes in the lot that begins after so many.
inline std::size_t lot_after(std::size_t passes) {
    constexpr std::size_t largest = 16;
    return std::clamp<std::size_t>(std::bit_floor(passes) / 2, 1, largest);
}

/// What a lot of passes brought to the meters that took part, and what it cost.
struct PassLight {
    std::vector<Spectrum> light;  // mean over the lot, [meter that took part][source]
    std::vector<double> work;     // rays of the whole lot, a meter that took part
};

class Tally {
public:
    Tally(std::size_t meters, std::size_t sources, std::size_t groups);

    std::size_t passes(std::size_t batch, std::size_t meter) const { return passes_[batch * meters_ + meter]; }
    void add(std::size_t batch, std::span<const std::size_t> meters, const PassLight& found, std::size_t passes,
             const Wanted& wanted);

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
