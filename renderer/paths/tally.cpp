#include "paths/tally.h"

#include <algorithm>

namespace rushlight {

Tally::Tally(std::size_t meters, std::size_t sources, std::size_t groups)
    : meters_(meters),
      sources_(sources),
      groups_(groups),
      passes_(batches_in_all * meters),
      light_(batches_in_all * meters * sources),
      of_meters_(halves * meters),
      of_groups_(halves * groups),
      work_(meters) {}

void Tally::add(std::size_t batch, std::span<const std::size_t> meters, const PassLight& found, std::size_t passes,
                const Wanted& wanted) {
    const auto times = static_cast<double>(passes);
    std::vector<double> seen(meters_, -1.0);
    for (std::size_t i = 0; i < meters.size(); ++i) {
        const std::size_t m = meters[i];
        double all = 0;
        for (std::size_t s = 0; s < sources_; ++s) {
            const Spectrum& light = found.light[i * sources_ + s];
            light_[(batch * meters_ + m) * sources_ + s] += light * static_cast<float>(passes);
            all += static_cast<double>(photometric(light));
        }
        passes_[batch * meters_ + m] += static_cast<std::uint32_t>(passes);
        of_meters_[half_of(batch) * meters_ + m].add(all, times);
        work_[m] += found.work[i];
        seen[m] = all;
    }
    for (std::size_t g = 0; g < groups_; ++g) {
        double mean = 0;
        bool all_there = true;
        for (const std::size_t m : wanted[g]) {
            all_there = all_there && seen[m] >= 0;
            mean += seen[m] / static_cast<double>(wanted[g].size());
        }
        if (all_there) of_groups_[half_of(batch) * groups_ + g].add(mean, times);
    }
}

double Tally::work(std::size_t meter) const {
    const double passes = of_meter(0, meter).count + of_meter(1, meter).count;
    return passes > 0 ? std::max(1.0, work_[meter] / passes) : 1.0;
}

MeterResults Tally::results() const {
    MeterResults results(meters_, sources_);
    for (std::size_t b = 0; b < batches_in_all; ++b) {
        double passes = 0;
        bool whole = true;
        for (std::size_t m = 0; m < meters_; ++m) {
            whole = whole && this->passes(b, m) > 0;
            passes += static_cast<double>(this->passes(b, m)) / static_cast<double>(meters_);
        }
        if (!whole) continue;
        std::vector<Spectrum> light(meters_ * sources_);
        for (std::size_t i = 0; i < light.size(); ++i)
            light[i] = light_[b * light.size() + i] * (1.0F / static_cast<float>(this->passes(b, i / sources_)));
        results.add(light, passes);
    }
    return results;
}

void Tally::pack(Packer& to) const {
    to.put(passes_);
    to.put(light_);
    to.put(of_meters_);
    to.put(of_groups_);
    to.put(work_);
}

bool Tally::unpack(Unpacker& from) {
    Tally other(0, 0, 0);
    other.passes_ = from.list<std::uint32_t>();
    other.light_ = from.list<Spectrum>();
    other.of_meters_ = from.list<Moments>();
    other.of_groups_ = from.list<Moments>();
    other.work_ = from.list<double>();
    if (!from.sound() || other.passes_.size() != passes_.size() || other.light_.size() != light_.size() ||
        other.of_meters_.size() != of_meters_.size() || other.of_groups_.size() != of_groups_.size() ||
        other.work_.size() != work_.size())
        return false;
    other.meters_ = meters_, other.sources_ = sources_, other.groups_ = groups_;
    *this = std::move(other);
    return true;
}

}  // namespace rushlight
