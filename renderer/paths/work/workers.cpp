#include "paths/work/workers.h"

#include "paths/work/task_order.h"

#include <pmmintrin.h>
#include <tbb/global_control.h>
#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#include <xmmintrin.h>

#include <optional>

namespace rushlight {

void for_each_piece(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work) {
    // More threads than the machine has are given too, when they are asked for.
    std::optional<tbb::global_control> allowed;
    if (effort.threads > tbb::info::default_concurrency())
        allowed.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(effort.threads));
    tbb::task_arena arena(effort.threads > 0 ? effort.threads : tbb::task_arena::automatic);
    TaskOrder order;
    order.shared_out();
    arena.execute([&] {
        tbb::parallel_for(
            tbb::blocked_range<std::size_t>(0, count, 1),
            [&](const tbb::blocked_range<std::size_t>& range) {
                order.begun();
                // Set in every piece: a worker may have started before anybody set it.
                _MM_SET_FLUSH_ZERO_MODE(_MM_FLUSH_ZERO_ON);
                _MM_SET_DENORMALS_ZERO_MODE(_MM_DENORMALS_ZERO_ON);
                for (std::size_t i = range.begin(); i != range.end() && !effort.dropped(); ++i) work(i);
                order.ended();
            },
            tbb::simple_partitioner());
    });
    order.all_done();
}

void for_each_own_piece(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work) {
    if (effort.team == nullptr) return for_each_piece(effort, count, work);
    // Dealt out in turn: pieces that lie together often take equally long.
    const std::size_t first = effort.team->number(), machines = effort.team->size();
    const std::size_t own = count > first ? (count - first + machines - 1) / machines : 0;
    for_each_piece(effort, own, [&](std::size_t i) { work(first + i * machines); });
}

void for_each_piece_together(const Effort& effort, std::size_t count, const std::function<void(std::size_t)>& work,
                             const std::function<void(std::size_t, Packer&)>& pack,
                             const std::function<void(std::size_t, Unpacker&)>& unpack) {
    for_each_own_piece(effort, count, work);
    if (effort.team == nullptr || effort.team->size() == 1) return;
    const std::size_t own = effort.team->number(), machines = effort.team->size();
    Packer found;
    for (std::size_t i = own; i < count; i += machines) pack(i, found);
    const std::vector<std::string> all = effort.team->exchange(found.bytes);
    for (std::size_t m = 0; m < machines; ++m) {
        if (m == own) continue;
        Unpacker from(all[m]);
        for (std::size_t i = m; i < count; i += machines) unpack(i, from);
        if (!from.finished())
            throw TeamError(effort.team->name_of(m) + " has done another piece of work", TeamError::Cause::broken_off);
    }
}

}  // namespace rushlight
