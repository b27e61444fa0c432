// The entry that clang's libFuzzer calls; RUSHLIGHT_FEED names which reader it feeds.
#include "fuzz/entry_points.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    rushlight::fuzz::RUSHLIGHT_FEED(std::string(reinterpret_cast<const char*>(data), size));
    return 0;
}
