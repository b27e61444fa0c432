#include "results/network/convolution_library.h"

#include "quantity/module.h"

#include <stdexcept>

namespace rushlight {

namespace {

struct Loaded {
    ConvolutionLibrary* library = nullptr;
    std::string failure;
};

const Loaded& loaded() {
    static const Loaded one = []() -> Loaded {
        try {
            auto* const make = reinterpret_cast<ConvolutionLibrary* (*)()>(
                from_module("rushlight_network.so", "takes noise out of pictures", "rushlight_convolution_library"));
            return {make(), ""};
        } catch (const std::runtime_error& e) {
            return {nullptr, e.what()};
        }
    }();
    return one;
}

}  // namespace

ConvolutionLibrary* convolution_library() {
    return loaded().library;
}

std::string no_convolution_library() {
    return loaded().failure;
}

}  // namespace rushlight
