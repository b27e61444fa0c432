#include "paths/checkpoint.h"

namespace rushlight {

void save_checkpoint(const std::string& name, const Checkpoint& s, const Effort& effort) {
    Packer to;
    s.tally.pack(to);
    to.put(s.from);
    to.put(s.to);
    to.put(s.pieces_done);
    to.put(s.seconds);
    to.put(s.finished);
    if (to.bytes.size() <= effort.checkpoints->largest()) effort.checkpoints->keep(name, to.bytes);
}

void load_checkpoint(const std::string& name, Checkpoint& s, const Effort& effort) {
    const auto bytes = effort.checkpoints != nullptr ? effort.checkpoints->find(name) : std::nullopt;
    if (!bytes) return;
    Unpacker from(*bytes);
    Checkpoint left = s;
    if (!left.tally.unpack(from)) return;
    left.from = from.list<std::size_t>();
    left.to = from.list<std::size_t>();
    left.pieces_done = from.get<std::size_t>();
    left.seconds = from.get<double>();
    left.finished = from.get<bool>();
    if (from.finished() && left.from.size() == s.from.size() && left.to.size() == s.to.size()) s = std::move(left);
}

}  // namespace rushlight
