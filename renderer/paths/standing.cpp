#include "paths/standing.h"

#include <algorithm>
#include <limits>

namespace rushlight {

void leave(const std::string& work, const Standing& standing, const Effort& effort) {
    Packer to;
    to.put(standing.round_end);
    to.put(standing.finished);
    standing.results.pack(to);
    effort.unfinished->keep(work, to.bytes);
}

std::optional<Standing> left_of(const std::string& work, const Effort& effort, const MeterResults& like) {
    const auto bytes = effort.unfinished != nullptr ? effort.unfinished->find(work) : std::nullopt;
    if (!bytes) return std::nullopt;
    Unpacker from(*bytes);
    const auto round_end = from.get<std::size_t>();
    const bool finished = from.get<bool>();
    auto results = MeterResults::unpack(from);
    const bool sound = results && from.finished() && results->meters() == like.meters() &&
                       results->sources() == like.sources() && (finished || round_end > results->added());
    if (!sound) return std::nullopt;
    return Standing{std::move(*results), round_end, finished};
}

std::size_t most_at_once(const MeterResults& results, const Effort& effort) {
    if (effort.unfinished == nullptr || results.added() == 0) return std::numeric_limits<std::size_t>::max();
    constexpr double slice = 10, fewest = 64;
    const double per_batch = results.seconds / static_cast<double>(results.added());
    return static_cast<std::size_t>(std::max(fewest, slice / std::max(per_batch, 1e-6)));
}

}  // namespace rushlight
