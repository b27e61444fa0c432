// Sums, means and errors over batches of measurements.
#include "paths/tally.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rushlight {

MeterResults::MeterResults(std::size_t meters, std::size_t sources)
    : meters_(meters), sources_(sources), light_(meters * sources) {}

std::size_t MeterResults::bytes() const {
    // Batches are many and small: each takes what the allocator gives at the least.
    constexpr std::size_t step = 16;
    const std::size_t batch = (meters_ * sources_ * sizeof(float) + step - 1) / step * step + step;
    return sizeof *this + batches_.capacity() * sizeof(Batch) + batches_.size() * batch +
           light_.capacity() * sizeof light_[0] + unmet_.capacity() * sizeof(float);
}

double MeterResults::batch_mean(std::size_t batch, std::span<const std::size_t> meters) const {
    double sum = 0;
    for (const std::size_t m : meters)
        for (std::size_t s = 0; s < sources_; ++s) sum += static_cast<double>(batches_[batch].lux[m * sources_ + s]);
    return sum / static_cast<double>(meters.size());
}

void MeterResults::add(std::span<const Spectrum> light, double passes) {
    Batch batch;
    batch.lux.reserve(light.size());
    for (std::size_t i = 0; i < light.size(); ++i) {
        for (std::size_t b = 0; b < bands; ++b) light_[i][b] += static_cast<double>(light[i].band[b]);
        batch.lux.push_back(photometric(light[i]));
    }
    batches_.push_back(std::move(batch));
    passes_ += passes;
}

Measured MeterResults::mean_over_batches(std::span<const double> estimates) const {
    Measured m = mean_of(estimates);
    m.error *= students_widening(batches_.size());
    return m;
}

double MeterResults::unmet(std::span<const std::size_t> meters, std::span<const std::size_t> sources) const {
    if (unmet_.empty()) return 0;
    // Meters side by side miss the same; sources do not.
    double squares = 0;
    const auto add = [&](std::size_t source) {
        double sum = 0;
        for (const std::size_t m : meters) sum += static_cast<double>(unmet_[m * sources_ + source]);
        squares += std::pow(sum / static_cast<double>(meters.size()), 2);
    };
    for (const std::size_t s : sources) add(s);
    if (sources.empty())
        for (std::size_t s = 0; s < sources_; ++s) add(s);
    return std::sqrt(squares);
}

Measured MeterResults::all(std::span<const std::size_t> meters) const {
    std::vector<double> estimates(batches_.size());
    for (std::size_t b = 0; b < batches_.size(); ++b) estimates[b] = batch_mean(b, meters);
    Measured mean = mean_over_batches(estimates);
    mean.error = std::hypot(mean.error, unmet(meters));
    return mean;
}

Measured MeterResults::brightest(std::span<const std::size_t> meters) const {
    std::array<std::size_t, halves> chosen{};
    std::array<double, halves> most{-1, -1};
    for (const std::size_t m : meters) {
        std::array<double, halves> sum{};
        for (std::size_t b = 0; b < batches_.size(); ++b) sum[half_of(b)] += batch_mean(b, std::span(&m, 1));
        for (std::size_t half = 0; half < halves; ++half)
            if (sum[half] > most[half]) most[half] = sum[half], chosen[half] = m;
    }
    std::vector<double> estimates(batches_.size());
    for (std::size_t b = 0; b < batches_.size(); ++b)
        estimates[b] = batch_mean(b, std::span(&chosen[1 - half_of(b)], 1));
    Measured found = mean_over_batches(estimates);
    // Where several are as bright, halves that chose the same one both had it too high: they have that in common, at
    // most (two meters, whose higher one is expected 1 / sqrt(pi) errors above) a share of 1 / pi.
    constexpr double clearly = 3;
    const auto rivals = std::count_if(meters.begin(), meters.end(), [&](std::size_t m) {
        const Measured other = all(m);
        return other.value > found.value - clearly * std::hypot(found.error, other.error);
    });
    if (rivals > 1) found.error *= std::sqrt(1 + 1 / std::numbers::pi);
    found.error = std::hypot(found.error, unmet(chosen));
    return found;
}

Measured MeterResults::of(std::span<const std::size_t> meters, std::span<const std::size_t> sources) const {
    std::vector<double> estimates(batches_.size());
    for (std::size_t b = 0; b < batches_.size(); ++b) {
        for (const std::size_t m : meters)
            for (const std::size_t s : sources) estimates[b] += static_cast<double>(batches_[b].lux[m * sources_ + s]);
        estimates[b] /= static_cast<double>(meters.size());
    }
    Measured mean = mean_over_batches(estimates);
    if (!sources.empty()) mean.error = std::hypot(mean.error, unmet(meters, sources));
    return mean;
}

Spectrum MeterResults::light(std::size_t meter, std::size_t source) const {
    Spectrum mean;
    for (int b = 0; b < bands; ++b)
        mean[b] = batches_.empty() ? 0.0F
                                   : static_cast<float>(light_[meter * sources_ + source][static_cast<std::size_t>(b)] /
                                                        static_cast<double>(batches_.size()));
    return mean;
}

Spectrum MeterResults::light(std::size_t meter) const {
    Spectrum sum;
    for (std::size_t s = 0; s < sources_; ++s) sum += light(meter, s);
    return sum;
}

Measured MeterResults::stops(std::span<const std::size_t> over, std::span<const std::size_t> under) const {
    const auto n = static_cast<double>(batches_.size());
    std::vector<double> a(batches_.size());
    std::vector<double> b(batches_.size());
    double sum_a = 0;
    double sum_b = 0;
    for (std::size_t i = 0; i < batches_.size(); ++i) {
        sum_a += a[i] = batch_mean(i, over);
        sum_b += b[i] = batch_mean(i, under);
    }
    Measured m{std::log2(sum_a / sum_b), INFINITY};
    if (batches_.size() < 2) return m;
    double mean = 0;
    std::vector<double> without(batches_.size());
    for (std::size_t i = 0; i < batches_.size(); ++i)
        mean += (without[i] = std::log2((sum_a - a[i]) / (sum_b - b[i]))) / n;
    if (!std::isfinite(mean)) return m;  // one batch has all of it
    double squares = 0;
    for (const double w : without) squares += (w - mean) * (w - mean);
    m.error = std::sqrt(squares * (n - 1) / n) * students_widening(batches_.size());
    const double relative = std::hypot(unmet(over) * n / sum_a, unmet(under) * n / sum_b);
    m.error = std::hypot(m.error, relative / std::numbers::ln2);
    if (const double unbiased = n * m.value - (n - 1) * mean; std::isfinite(unbiased)) m.value = unbiased;
    return m;
}

MeterResults MeterResults::relit(std::span<const Spectrum> share) const {
    MeterResults relit = *this;
    for (std::size_t i = 0; i < light_.size(); ++i) {
        const Spectrum& passed = share[i % sources_];
        if (passed == Spectrum{1.0F}) continue;
        double before = 0;
        double after = 0;
        for (std::size_t b = 0; b < bands; ++b) {
            const double weight = luminous_efficacy * y_bar[b];
            before += weight * light_[i][b];
            relit.light_[i][b] = light_[i][b] * static_cast<double>(passed.band[b]);
            after += weight * relit.light_[i][b];
        }
        const double ratio = before > 0 ? after / before : 0.0;
        for (Batch& batch : relit.batches_)
            batch.lux[i] = static_cast<float>(static_cast<double>(batch.lux[i]) * ratio);
        if (!unmet_.empty()) relit.unmet_[i] *= passed.largest();
    }
    return relit;
}

void MeterResults::pack(Packer& to) const {
    to.put(meters_);
    to.put(sources_);
    to.put(seconds);
    to.put(reached);
    to.put(passes_);
    to.put(light_);
    to.put(unmet_);
    to.put(batches_.size());
    for (const Batch& b : batches_) to.put(b.lux);
}

std::optional<MeterResults> MeterResults::unpack(Unpacker& from) {
    constexpr std::size_t most_batches = 4096;
    const auto meters = from.get<std::size_t>();
    const auto sources = from.get<std::size_t>();
    if (!from.sound() || meters > 10'000'000 || sources > 1'000'000) return std::nullopt;
    MeterResults results(0, 0);
    results.meters_ = meters;
    results.sources_ = sources;
    results.seconds = from.get<double>();
    results.reached = from.get<double>();
    results.passes_ = from.get<double>();
    results.light_ = from.list<std::array<double, bands>>();
    results.unmet_ = from.list<float>();
    const auto batches = from.get<std::size_t>();
    if (results.light_.size() != meters * sources || batches > most_batches) return std::nullopt;
    if (!results.unmet_.empty() && results.unmet_.size() != meters * sources) return std::nullopt;
    for (std::size_t i = 0; i < batches; ++i) {
        results.batches_.push_back({from.list<float>()});
        if (results.batches_.back().lux.size() != meters * sources) return std::nullopt;
    }
    if (!from.sound()) return std::nullopt;
    return results;
}

}  // namespace rushlight
