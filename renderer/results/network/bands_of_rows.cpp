#include "results/network/bands_of_rows.h"

#include "paths/work/workers.h"

#include <dnnl.hpp>
#include <omp.h>
#include <sys/mman.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <new>

namespace rushlight {

namespace {

constexpr int rows_a_band = 8;

const dnnl::engine& processor() {
    static const dnnl::engine engine(dnnl::engine::kind::cpu, 0);
    return engine;
}

using Tag = dnnl::memory::format_tag;
dnnl::memory::desc described(const dnnl::memory::dims& size, Tag tag) {
    return {size, dnnl::memory::data_type::f32, tag};
}

/// One convolution over bands of so many rows.
class BandConvolution {
public:
    BandConvolution(const ConvolutionWeights& layer, int width, int rows) {
        const int in = stored_channels(layer.in), out = stored_channels(layer.out);
        from_ = described({1, in, rows + 2, width}, Tag::nhwc);
        to_ = described({1, out, rows, width}, Tag::nhwc);
        dnnl::post_ops rectified;
        rectified.append_eltwise(1, dnnl::algorithm::eltwise_relu, 0, 0);
        dnnl::primitive_attr attributes;
        attributes.set_post_ops(rectified);
        attributes.set_scratchpad_mode(dnnl::scratchpad_mode::user);
        const dnnl::convolution_forward::desc wanted(
            dnnl::prop_kind::forward_inference, dnnl::algorithm::convolution_direct, from_,
            described({out, in, 3, 3}, Tag::any), described({out}, Tag::x), to_, {1, 1}, {0, 1}, {0, 1});
        const dnnl::convolution_forward::primitive_desc how(wanted, attributes, processor());
        run_ = dnnl::convolution_forward(how);
        scratch_ = how.scratchpad_desc();

        std::vector<float> weights(static_cast<std::size_t>(out) * static_cast<std::size_t>(in) * 9);
        for (int o = 0; o < layer.out; ++o)
            std::copy_n(&layer.weights[static_cast<std::size_t>(o * layer.in) * 9], layer.in * 9,
                        &weights[static_cast<std::size_t>(o * in) * 9]);
        const dnnl::memory plain(described({out, in, 3, 3}, Tag::oihw), processor(), weights.data());
        weights_ = dnnl::memory(how.weights_desc(), processor());
        dnnl::stream stream(processor());
        dnnl::reorder(plain, weights_).execute(stream, const_cast<dnnl::memory&>(plain), weights_);
        stream.wait();
        offsets_ = dnnl::memory(how.bias_desc(), processor());
        auto* offsets = static_cast<float*>(offsets_.get_data_handle());
        std::fill_n(offsets, out, 0.0F);
        std::copy(layer.offsets.begin(), layer.offsets.end(), offsets);
    }

    void operator()(const float* from, float* to) const {
        // The library has threads of its own; here a piece of work is one thread's.
        omp_set_num_threads(1);
        dnnl::stream stream(processor());
        run_.execute(stream, {{DNNL_ARG_SRC, {from_, processor(), const_cast<float*>(from)}},
                              {DNNL_ARG_WEIGHTS, weights_},
                              {DNNL_ARG_BIAS, offsets_},
                              {DNNL_ARG_DST, {to_, processor(), to}},
                              {DNNL_ARG_SCRATCHPAD, {scratch_, processor()}}});
        stream.wait();
    }

private:
    dnnl::memory::desc from_, to_, scratch_;
    dnnl::memory weights_, offsets_;
    dnnl::convolution_forward run_;
};

}  // namespace

void Planes::Free::operator()(float* values) const {
    std::free(values);
}

Planes::Planes(int width, int height, int channels) : width_(width), height_(height), channels_(channels) {
    // In large pages: a third of the time would go into getting small ones from the system.
    constexpr std::size_t page = std::size_t{2} << 20;
    const std::size_t bytes = (static_cast<std::size_t>(height + 2) * row_size() * sizeof(float) + page - 1) / page * page;
    values_.reset(static_cast<float*>(std::aligned_alloc(page, bytes)));
    if (!values_) throw std::bad_alloc();
    madvise(values_.get(), bytes, MADV_HUGEPAGE);
    std::fill_n(row(-1), row_size(), 0.0F);
    std::fill_n(row(height), row_size(), 0.0F);
}

Planes convolved(const ConvolutionWeights& weights, int width, int height, const RowsToConvolve& rows,
                 const Effort& effort) {
    Planes result(width, height, stored_channels(weights.out));
    omp_set_num_threads(1);
    std::map<int, BandConvolution> of_rows;
    for (const int some : {std::min(rows_a_band, height), height % rows_a_band})
        if (some > 0) of_rows.try_emplace(some, weights, width, some);
    const std::size_t room_size = static_cast<std::size_t>(rows_a_band + 2) * static_cast<std::size_t>(width) *
                                  static_cast<std::size_t>(stored_channels(weights.in));
    for_each_piece(effort, static_cast<std::size_t>((height + rows_a_band - 1) / rows_a_band), [&](std::size_t band) {
        thread_local std::vector<float> room;
        if (room.size() < room_size) room.resize(room_size);
        const int first = static_cast<int>(band) * rows_a_band, some = std::min(rows_a_band, height - first);
        of_rows.at(some)(rows(first, some, room.data()), result.row(first));
    });
    return result;
}

}  // namespace rushlight
