// What may lie where a kept layer should: it is as good as nothing, and is replaced.
#include "results/light/layer_cache.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

TEST(LayerCache, OddFilesAreAsGoodAsNothing) {
    const fs::path folder = fs::temp_directory_path() / ("rushlight-odd-layers-" + std::to_string(::getpid()));
    const LayerCache cache(folder);
    const std::string key(32, 'a'), other(32, 'b');
    const fs::path place = folder / (key + ".layers");
    cache.keep(other, "light");
    const auto odd = [&](const char* what) {
        fs::remove_all(place);
        if (what == std::string("folder")) {
            fs::create_directories(place / "in it");
        } else if (what == std::string("pipe")) {
            ASSERT_EQ(::mkfifo(place.c_str(), 0600), 0);
        } else {
            std::ofstream(place).put('x');
            fs::resize_file(place, 40'000'000'000);
        }
    };
    for (const char* what : {"folder", "pipe", "40 GB"}) {
        odd(what);
        EXPECT_FALSE(cache.find(key)) << what;
        cache.keep(key, "new light");
        EXPECT_EQ(cache.find(key), "new light") << what;
        odd(what);
        cache.forget(key);
        cache.keep(other, "light");  // looks through all of them
        EXPECT_EQ(cache.find(other), "light") << what;
    }
    fs::remove_all(folder);
}

}  // namespace
}  // namespace rushlight
