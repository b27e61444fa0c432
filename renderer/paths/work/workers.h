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

/// Runs only this machine's share of the pieces, where several work together.
void for_each_own_piece(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work);

/// Runs this machine's share and exchanges the results, so that every machine has all of them: `pack` writes the result
/// of one piece, `unpack` takes in a piece of another machine's.
void for_each_piece_together(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work,
                             const std::function<void(std::size_t, Packer&)>& pack,
                             const std::function<void(std::size_t, Unpacker&)>& unpack);

}  // namespace rushlight
