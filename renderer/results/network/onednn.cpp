// The module rushlight_network.so: convolutions by oneDNN.
#include "results/network/convolution_library.h"

#include <omp.h>
#include <dnnl.hpp>

#include <algorithm>
#include <cstddef>
#include <vector>

namespace rushlight {

namespace {

const dnnl::engine& processor() {
    static const dnnl::engine engine(dnnl::engine::kind::cpu, 0);
    return engine;
}

using Tag = dnnl::memory::format_tag;
dnnl::memory::desc described(const dnnl::memory::dims& size, Tag tag) {
    return {size, dnnl::memory::data_type::f32, tag};
}

class OneDnnConvolution : public BandConvolution {
public:
    OneDnnConvolution(const ConvolutionWeights& layer, int width, int rows) {
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

    void operator()(const float* from, float* to) const override {
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

class OneDnn : public ConvolutionLibrary {
public:
    std::unique_ptr<BandConvolution> convolution(const ConvolutionWeights& layer, int width, int rows) override {
        omp_set_num_threads(1);
        return std::make_unique<OneDnnConvolution>(layer, width, rows);
    }
};

}  // namespace

extern "C" ConvolutionLibrary* rushlight_convolution_library() {
    static OneDnn library;
    return &library;
}

}  // namespace rushlight
