#include "results/network/bands_of_rows.h"

#include "paths/work/workers.h"

#include <sys/mman.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <new>

namespace rushlight {

namespace {

constexpr int rows_a_band = 8;

}  // namespace

void Planes::Free::operator()(float* values) const {
    std::free(values);
}

Planes::Planes(int width, int height, int channels) : width_(width), height_(height), channels_(channels) {
    // In large pages: a third of the time would go into getting small ones from the system.
    constexpr std::size_t page = std::size_t{2} << 20;
    const std::size_t bytes =
        (static_cast<std::size_t>(height + 2) * row_size() * sizeof(float) + page - 1) / page * page;
    values_.reset(static_cast<float*>(std::aligned_alloc(page, bytes)));
    if (!values_) throw std::bad_alloc();
    madvise(values_.get(), bytes, MADV_HUGEPAGE);
    std::fill_n(row(-1), row_size(), 0.0F);
    std::fill_n(row(height), row_size(), 0.0F);
}

Planes convolved(ConvolutionLibrary& library, const ConvolutionWeights& weights, int width, int height,
                 const RowsToConvolve& rows, const Effort& effort) {
    Planes result(width, height, stored_channels(weights.out));
    std::map<int, std::unique_ptr<BandConvolution>> of_rows;
    for (const int some : {std::min(rows_a_band, height), height % rows_a_band})
        if (some > 0 && !of_rows.contains(some)) of_rows[some] = library.convolution(weights, width, some);
    const std::size_t room_size = static_cast<std::size_t>(rows_a_band + 2) * static_cast<std::size_t>(width) *
                                  static_cast<std::size_t>(stored_channels(weights.in));
    for_each_piece(effort, static_cast<std::size_t>((height + rows_a_band - 1) / rows_a_band), [&](std::size_t band) {
        thread_local std::vector<float> room;
        if (room.size() < room_size) room.resize(room_size);
        const int first = static_cast<int>(band) * rows_a_band, some = std::min(rows_a_band, height - first);
        (*of_rows.at(some))(rows(first, some, room.data()), result.row(first));
    });
    return result;
}

}  // namespace rushlight
