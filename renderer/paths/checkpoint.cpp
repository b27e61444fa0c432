#include "paths/checkpoint.h"

#include <algorithm>
#include <limits>

namespace rushlight {

void save_checkpoint(const std::string& work, const Checkpoint& checkpoint, const Effort& effort) {
    Packer to;
    to.put(checkpoint.round_end);
    to.put(checkpoint.finished);
    checkpoint.results.pack(to);
    effort.checkpoints->keep(work, to.bytes);
}

std::optional<Checkpoint> load_checkpoint(const std::string& work, const Effort& effort, const MeterResults& like) {
    const auto bytes = effort.checkpoints != nullptr ? effort.checkpoints->find(work) : std::nullopt;
    if (!bytes) return std::nullopt;
    Unpacker from(*bytes);
    const auto round_end = from.get<std::size_t>();
    const bool finished = from.get<bool>();
    auto results = MeterResults::unpack(from);
    const bool sound = results && from.finished() && results->meters() == like.meters() &&
                       results->sources() == like.sources() && (finished || round_end > results->added());
    if (!sound) return std::nullopt;
    return Checkpoint{std::move(*results), round_end, finished};
}

std::size_t most_at_once(const MeterResults& results, const Effort& effort) {
    if (effort.checkpoints == nullptr || results.added() == 0) return std::numeric_limits<std::size_t>::max();
    constexpr double slice = 10, fewest = 64;
    const double per_batch = results.seconds / static_cast<double>(results.added());
    return static_cast<std::size_t>(std::max(fewest, slice / std::max(per_batch, 1e-6)));
}

}  // namespace rushlight
