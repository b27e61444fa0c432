// Runs numbered pieces of work on all threads. Results are kept by number, so that the answer does not depend
// on which thread did what.
#pragma once

#include "paths/work/effort.h"
#include "quantity/packed.h"

#include <cstddef>
#include <functional>

namespace rushlight {

/// Calls `work(i)` for every i in [0, count); returns when all are done. Threads treat denormal numbers as
/// zero, as the ray-tracing library asks.
void for_each_piece(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work);

/// Those of the pieces that are this machine's share, where several work together.
void for_each_own_piece(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work);

/// The same, and then everybody has what everybody found: `pack` gives what came of a piece, `unpack` takes what came
/// of one of another machine's.
void for_each_piece_together(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work,
                             const std::function<void(std::size_t, Packer&)>& pack,
                             const std::function<void(std::size_t, Unpacker&)>& unpack);

}  // namespace rushlight
