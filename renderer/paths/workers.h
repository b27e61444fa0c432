// Runs numbered pieces of work on all threads. Results are kept by number, so that the answer does not depend
// on which thread did what.
#pragma once

#include "paths/effort.h"

#include <cstddef>
#include <functional>

namespace rushlight {

/// Calls `work(i)` for every i in [0, count); returns when all are done. Threads treat denormal numbers as
/// zero, as the ray-tracing library asks.
void for_each_piece(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work);

}  // namespace rushlight
