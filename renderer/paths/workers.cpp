#include "paths/workers.h"

#include <pmmintrin.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#include <xmmintrin.h>

namespace rushlight {

void for_each_piece(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work) {
    tbb::task_arena arena(effort.threads > 0 ? effort.threads : tbb::task_arena::automatic);
    arena.execute([&] {
        tbb::parallel_for(
            tbb::blocked_range<std::size_t>(0, count, 1),
            [&](const tbb::blocked_range<std::size_t>& range) {
                // Set in every piece: a worker may have started before anybody set it.
                _MM_SET_FLUSH_ZERO_MODE(_MM_FLUSH_ZERO_ON);
                _MM_SET_DENORMALS_ZERO_MODE(_MM_DENORMALS_ZERO_ON);
                for (std::size_t i = range.begin(); i != range.end(); ++i) work(i);
            },
            tbb::simple_partitioner());
    });
}

}  // namespace rushlight
