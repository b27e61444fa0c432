// Sums, means and errors over batches of measurements.
#include "paths/measure.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

MeterResults::MeterResults(std::size_t meters, std::size_t sources)
    : meters_(meters), sources_(sources), light_(meters * sources) {}

std::size_t MeterResults::most_batches() const {
    constexpr std::size_t fewest = 128, most = 4096, most_numbers = 8'000'000;
    const std::size_t fits = most_numbers / std::max<std::size_t>(1, meters_ * sources_);
    return std::clamp(fits / 2 * 2, fewest, most);
}

std::size_t MeterResults::bytes() const {
    // Batches are many and small: each takes what the allocator gives at the least.
    constexpr std::size_t step = 16;
    const std::size_t batch = (meters_ * sources_ * sizeof(float) + step - 1) / step * step + step;
    return sizeof *this + batches_.capacity() * sizeof(Batch) + batches_.size() * batch +
           pending_.capacity() * sizeof(double) + light_.capacity() * sizeof light_[0];
}

double MeterResults::batch_mean(std::size_t batch, std::span<const std::size_t> meters) const {
    double sum = 0;
    for (const std::size_t m : meters)
        for (std::size_t s = 0; s < sources_; ++s) sum += static_cast<double>(batches_[batch].lux[m * sources_ + s]);
    return sum / static_cast<double>(meters.size());
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
    if (batches_.size() < most_batches()) return;
    for (std::size_t i = 0; i < batches_.size() / 2; ++i)
        for (std::size_t k = 0; k < batches_[i].lux.size(); ++k)
            batches_[i].lux[k] = 0.5F * (batches_[2 * i].lux[k] + batches_[2 * i + 1].lux[k]);
    batches_.resize(batches_.size() / 2);
    per_batch_ *= 2;
}

Measured MeterResults::all(std::span<const std::size_t> meters) const {
    std::vector<double> estimates(batches_.size());
    for (std::size_t b = 0; b < batches_.size(); ++b) estimates[b] = batch_mean(b, meters);
    return mean_of(estimates);
}

Measured MeterResults::of(std::span<const std::size_t> meters, std::span<const std::size_t> sources) const {
    std::vector<double> estimates(batches_.size());
    for (std::size_t b = 0; b < batches_.size(); ++b) {
        for (const std::size_t m : meters)
            for (const std::size_t s : sources) estimates[b] += static_cast<double>(batches_[b].lux[m * sources_ + s]);
        estimates[b] /= static_cast<double>(meters.size());
    }
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
    double squares = 0;
    for (std::size_t i = 0; i < batches_.size(); ++i) {
        const double without = std::log2((sum_a - a[i]) / (sum_b - b[i]));
        squares += (without - m.value) * (without - m.value);
    }
    m.error = std::sqrt(squares * (n - 1) / n);
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
    }
    return relit;
}

double MeterResults::worst_error(std::span<const std::vector<std::size_t>> wanted) const {
    double worst = 0;
    for (const auto& group : wanted) worst = std::max(worst, all(group).relative_error());
    return worst;
}

void MeterResults::pack(Packer& to) const {
    to.put(meters_);
    to.put(sources_);
    to.put(seconds);
    to.put(reached);
    to.put(added_);
    to.put(per_batch_);
    to.put(pending_count_);
    to.put(pending_);
    to.put(light_);
    to.put(batches_.size());
    for (const Batch& b : batches_) to.put(b.lux);
}

std::optional<MeterResults> MeterResults::unpack(Unpacker& from) {
    const auto meters = from.get<std::size_t>();
    const auto sources = from.get<std::size_t>();
    if (!from.sound() || meters > 10'000'000 || sources > 1'000'000) return std::nullopt;
    MeterResults results(0, 0);
    results.meters_ = meters;
    results.sources_ = sources;
    results.seconds = from.get<double>();
    results.reached = from.get<double>();
    results.added_ = from.get<std::size_t>();
    results.per_batch_ = from.get<std::size_t>();
    results.pending_count_ = from.get<std::size_t>();
    results.pending_ = from.list<double>();
    results.light_ = from.list<std::array<double, bands>>();
    const auto batches = from.get<std::size_t>();
    if (results.light_.size() != meters * sources || batches > results.most_batches()) return std::nullopt;
    if (!results.pending_.empty() && results.pending_.size() != meters * sources) return std::nullopt;
    if (results.pending_count_ >= results.per_batch_) return std::nullopt;
    for (std::size_t i = 0; i < batches; ++i) {
        results.batches_.push_back({from.list<float>()});
        if (results.batches_.back().lux.size() != meters * sources) return std::nullopt;
    }
    if (!from.sound()) return std::nullopt;
    return results;
}

}  // namespace rushlight
