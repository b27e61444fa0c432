#include "paths/measure.h"

#include "paths/workers.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

// Batches in the first round; each round after adds half of what there is.
constexpr std::size_t first_round = 32;
// A batch's walks, found by trying: more light paths spread more evenly, more meter walks see more lamps.
constexpr std::uint32_t light_paths_a_batch = 256, camera_paths_a_batch = 16;

MeterResults::Batch measure_batch(const Scene& scene, const std::vector<MeterPoint>& meters, const Sharing& sharing,
                                  std::uint64_t key, std::vector<Spectrum>& light) {
    const std::size_t sources = scene.lights.count();
    light.assign(meters.size() * sources, Spectrum{});
    LightPaths pool;
    if (sharing.light_paths > 0)
        pool = trace_light_paths(scene, key_of(key, 0), 0, sharing.light_paths, sharing.join_samples);

    std::vector<Spectrum> layers(sources);
    for (std::size_t m = 0; m < meters.size(); ++m) {
        const std::span<Spectrum> sum(&light[m * sources], sources);
        if (sharing.look_samples() > 0) {
            std::fill(layers.begin(), layers.end(), Spectrum{});
            look_at_light_paths(scene, meters[m], pool, sharing, Sampler(key_of(key, meters.size() + m + 1), 0), layers);
            for (std::size_t s = 0; s < sources; ++s) sum[s] += layers[s] * (1.0F / static_cast<float>(sharing.light_paths));
        }
        std::fill(layers.begin(), layers.end(), Spectrum{});
        const std::uint64_t walk_key = key_of(key, m + 1);
        for (std::uint32_t i = 0; i < sharing.camera_paths; ++i)
            collect_at_meter(scene, meters[m], pool, sharing, Sampler(walk_key, i), layers);
        for (std::size_t s = 0; s < sources; ++s) sum[s] += layers[s] * (1.0F / static_cast<float>(sharing.camera_paths));
    }
    MeterResults::Batch batch;
    batch.lux.reserve(light.size());
    for (const Spectrum& s : light) batch.lux.push_back(photometric(s));
    return batch;
}

/// A first look at every meter, so that later rays know what is worth tracing.
std::vector<MeterPoint> with_expectations(const Scene& scene, std::vector<MeterPoint> meters, std::uint64_t seed,
                                          Sharing sharing) {
    sharing.camera_paths = std::min(sharing.camera_paths, 16U);
    sharing.light_paths = std::min(sharing.light_paths, 64U);
    std::vector<Spectrum> light;
    const MeterResults::Batch first = measure_batch(scene, meters, sharing, key_of(seed, 0x66697273U), light);
    const std::size_t sources = scene.lights.count();
    for (std::size_t m = 0; m < meters.size(); ++m)
        for (std::size_t s = 0; s < sources; ++s) meters[m].expected += first.lux[m * sources + s];
    return meters;
}

}  // namespace

double MeterResults::batch_sum(std::size_t batch, std::size_t meter) const {
    double sum = 0;
    for (std::size_t s = 0; s < sources_; ++s) sum += static_cast<double>(batches_[batch].lux[meter * sources_ + s]);
    return sum;
}

void MeterResults::add(Batch batch, std::vector<Spectrum> light) {
    for (std::size_t i = 0; i < light.size(); ++i)
        for (std::size_t b = 0; b < bands; ++b) light_[i][b] += static_cast<double>(light[i].band[b]);
    ++added_;

    pending_.resize(batch.lux.size(), 0.0);
    for (std::size_t i = 0; i < batch.lux.size(); ++i) pending_[i] += static_cast<double>(batch.lux[i]);
    if (++pending_count_ < per_batch_) return;
    for (std::size_t i = 0; i < batch.lux.size(); ++i)
        batch.lux[i] = static_cast<float>(pending_[i] / static_cast<double>(per_batch_));
    std::fill(pending_.begin(), pending_.end(), 0.0);
    pending_count_ = 0;
    batches_.push_back(std::move(batch));
    if (batches_.size() < most_batches) return;
    for (std::size_t i = 0; i < batches_.size() / 2; ++i)
        for (std::size_t k = 0; k < batches_[i].lux.size(); ++k)
            batches_[i].lux[k] = 0.5F * (batches_[2 * i].lux[k] + batches_[2 * i + 1].lux[k]);
    batches_.resize(batches_.size() / 2);
    per_batch_ *= 2;
}

Measured MeterResults::all(std::size_t meter) const {
    std::vector<double> estimates(batches_.size());
    for (std::size_t b = 0; b < batches_.size(); ++b) estimates[b] = batch_sum(b, meter);
    return mean_of(estimates);
}

Measured MeterResults::of(std::size_t meter, std::size_t source) const {
    std::vector<double> estimates(batches_.size());
    for (std::size_t b = 0; b < batches_.size(); ++b)
        estimates[b] = static_cast<double>(batches_[b].lux[meter * sources_ + source]);
    return mean_of(estimates);
}

Spectrum MeterResults::light(std::size_t meter, std::size_t source) const {
    Spectrum mean;
    for (int b = 0; b < bands; ++b)
        mean[b] = added_ > 0 ? static_cast<float>(light_[meter * sources_ + source][static_cast<std::size_t>(b)] /
                                                  static_cast<double>(added_))
                             : 0.0F;
    return mean;
}

Spectrum MeterResults::light(std::size_t meter) const {
    Spectrum sum;
    for (std::size_t s = 0; s < sources_; ++s) sum += light(meter, s);
    return sum;
}

Measured MeterResults::stops(std::span<const std::size_t> over, std::span<const std::size_t> under) const {
    const auto sum_of = [&](std::size_t batch, std::span<const std::size_t> meters) {
        double sum = 0;
        for (const std::size_t m : meters) sum += batch_sum(batch, m);
        return sum / static_cast<double>(meters.size());
    };
    const auto n = static_cast<double>(batches_.size());
    std::vector<double> a(batches_.size());
    std::vector<double> b(batches_.size());
    double sum_a = 0;
    double sum_b = 0;
    for (std::size_t i = 0; i < batches_.size(); ++i) {
        sum_a += a[i] = sum_of(i, over);
        sum_b += b[i] = sum_of(i, under);
    }
    Measured m{std::log2(sum_a / sum_b), INFINITY};
    if (batches_.size() < 2) return m;
    double squares = 0;
    for (std::size_t i = 0; i < batches_.size(); ++i) {
        const double without = std::log2((sum_a - a[i]) / (sum_b - b[i]));
        squares += (without - m.value) * (without - m.value);
    }
    m.error = std::sqrt(squares * (n - 1) / n);
    return m;
}

Sharing sharing_for(const Scene& scene, std::uint64_t seed, std::uint32_t light_paths, std::uint32_t camera_paths) {
    Sharing sharing{light_paths, camera_paths, 1.0F};
    bool any = false;
    for (std::size_t i = 0; i < scene.lights.count(); ++i) any = any || scene.lights.start_chance(i) > 0;
    if (light_paths == 0 || !any) return Sharing{0, camera_paths, 0, false};
    constexpr std::uint32_t pilots = 256;
    const LightPaths pilot = trace_light_paths(scene, key_of(seed, 0x70696C6FU), 0, pilots, 1.0F);
    if (pilot.vertices.empty()) return Sharing{0, camera_paths, 0, false};
    sharing.join_samples = static_cast<float>(pilots) / static_cast<float>(pilot.vertices.size());
    return sharing;
}

MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort) {
    return measure(scene, meters, effort, sharing_for(scene, effort.seed, light_paths_a_batch, camera_paths_a_batch));
}

MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                     const Sharing& sharing) {
    const Clock clock;
    MeterResults results(meters.size(), scene.lights.count());
    if (meters.empty() || scene.lights.count() == 0) return results;

    std::size_t done = 0;
    std::size_t round = first_round;
    const std::vector<MeterPoint> expecting = with_expectations(scene, meters, effort.seed, sharing);
    while (true) {
        std::vector<MeterResults::Batch> batches(round);
        std::vector<std::vector<Spectrum>> light(round);
        for_each_piece(effort, round, [&](std::size_t i) {
            batches[i] = measure_batch(scene, expecting, sharing, key_of(effort.seed, done + i), light[i]);
        });
        for (std::size_t i = 0; i < round; ++i) results.add(std::move(batches[i]), std::move(light[i]));
        done += round;

        results.reached = 0;
        for (std::size_t m = 0; m < meters.size(); ++m) {
            const Measured r = results.all(m);
            results.reached = std::max(results.reached, r.relative_error());
        }
        results.seconds = clock.seconds();
        const double per_batch = results.seconds / static_cast<double>(done);
        const double limit = effort.seconds > 0 ? effort.seconds : effort.most_seconds;

        // How many batches in all the wanted error needs, by the square law.
        double needed = static_cast<double>(done) * 1.5;
        if (effort.relative_error > 0) {
            const double ratio = results.reached / effort.relative_error;
            if (ratio <= 1.0 && effort.seconds <= 0) break;
            needed = static_cast<double>(done) * ratio * ratio;
        }
        const double affordable = limit / per_batch;
        const double goal = effort.seconds > 0 ? affordable : std::min(needed, affordable);
        if (effort.tell)
            effort.tell({std::min(1.0, static_cast<double>(done) / goal),
                         std::max(0.0, (goal - static_cast<double>(done)) * per_batch), results.reached});
        if (effort.stopped()) {
            results.cut_short = true;
            break;
        }
        if (results.seconds >= limit || static_cast<double>(done) + 1 > affordable) {
            results.cut_short = effort.seconds <= 0;
            break;
        }
        // Half of what there is, so that checks stay few; in time runs, no more than the time holds.
        const double step = std::min(static_cast<double>(done) * 0.5, effort.seconds > 0 ? affordable - static_cast<double>(done) : 1e9);
        round = static_cast<std::size_t>(std::clamp(step, 8.0, 4096.0));
    }
    return results;
}

}  // namespace rushlight
