// Long work that is killed is gone on with by the same command, and comes to the same bits.
#include "command/same.h"

namespace rushlight::testing_command {
namespace {

const std::string file = overcast + room + window + lamp + meter + camera;

struct Caches {
    explicit Caches(const Scratch& here) : folder((here / "cache").string()) {}
    std::string folder;
    std::vector<fs::path> entries() const {
        std::vector<fs::path> found;
        std::error_code none;
        for (const auto& e : fs::directory_iterator(fs::path(folder) / "rushlight" / "layers", none))
            if (e.path().extension() == ".layers") found.push_back(e.path());
        return found;
    }
};

/// Ended by `signal` as soon as something of it is kept.
Answer ended(const Scratch& here, const Caches& cache, const std::vector<std::string>& words, int signal) {
    std::vector<std::string> all{RUSHLIGHT_BUILD "/rushlight"};
    all.insert(all.end(), words.begin(), words.end());
    return run(here, all, {"XDG_CACHE_HOME=" + cache.folder},
               {signal, [&](double) { return !cache.entries().empty(); }});
}

const std::vector<std::string> reading{"read", "f.toml", "--error", "0.05%", "--json", "--keep-every", "50ms"};
const std::vector<std::string> frame{"frame", "f.toml", "--error", "8%",           "--width",
                                     "240",   "-o",     "f.png",   "--keep-every", "10ms"};

TEST(Unfinished, AReadingGoesOnAfterAKill) {
    const Scratch here;
    const Caches cache(here);
    here.with("f.toml", file);
    const Answer whole = rushlight(here, reading);
    ASSERT_EQ(whole.status, 0) << whole;
    ASSERT_FALSE(whole.says("Went on"));
    const Answer killed = ended(here, cache, reading, SIGKILL);
    ASSERT_EQ(killed.status, -SIGKILL) << killed;
    ASSERT_TRUE(killed.out.empty());
    const Answer resumed = rushlight(here, reading, 0, cache.folder);
    EXPECT_EQ(resumed.status, 0) << resumed;
    EXPECT_TRUE(resumed.says("Went on from what an earlier run")) << resumed;
    EXPECT_EQ(timeless(resumed.out), timeless(whole.out));
    // The layers themselves are kept, and nothing that is unfinished.
    const std::size_t layers = cache.entries().size();
    const Answer anew = rushlight(here, {"read", "f.toml", "--error", "0.05%", "--json"}, 0, cache.folder);
    EXPECT_TRUE(anew.says("From layers kept of an earlier run")) << anew;
    EXPECT_EQ(cache.entries().size(), layers);
}

TEST(Unfinished, AFrameGoesOnAfterAKill) {
    const Scratch here;
    const Caches cache(here);
    here.with("f.toml", file);
    const Answer killed = ended(here, cache, frame, SIGKILL);
    ASSERT_EQ(killed.status, -SIGKILL) << killed;
    EXPECT_FALSE(fs::exists(here / "f.png"));
    const Answer resumed = rushlight(here, frame, 0, cache.folder);
    EXPECT_EQ(resumed.status, 0) << resumed;
    EXPECT_TRUE(resumed.says("Went on from what an earlier run")) << resumed;
    const std::string exr = dateless_bytes_of(here / "f.exr");
    const Answer whole = rushlight(here, frame);
    EXPECT_FALSE(whole.says("Went on"));
    EXPECT_GT(exr.size(), 100'000U);
    EXPECT_TRUE(exr == dateless_bytes_of(here / "f.exr"));
    EXPECT_EQ(cache.entries().size(), 1U) << "the finished frame's layers alone";
}

TEST(Unfinished, AFrameGoesOnAfterCtrlC) {
    const Scratch here;
    const Caches cache(here);
    here.with("f.toml", file);
    const Answer stopped = ended(here, cache, frame, SIGINT);
    ASSERT_EQ(stopped.status, 130) << stopped;
    const Answer resumed = rushlight(here, frame, 0, cache.folder);
    EXPECT_EQ(resumed.status, 0) << resumed;
    EXPECT_TRUE(resumed.says("Went on from what an earlier run")) << resumed;
    const std::string exr = dateless_bytes_of(here / "f.exr");
    rushlight(here, frame);
    EXPECT_TRUE(exr == dateless_bytes_of(here / "f.exr"));
}

TEST(Unfinished, FreshAndDamagedBeginAnew) {
    const Scratch here;
    const Caches cache(here);
    here.with("f.toml", file);
    ASSERT_EQ(ended(here, cache, frame, SIGKILL).status, -SIGKILL);
    const fs::path copy = here / "copy";
    fs::copy(cache.folder, copy, fs::copy_options::recursive);
    std::vector<std::string> fresh = frame;
    fresh.emplace_back("--fresh");
    EXPECT_FALSE(rushlight(here, fresh, 0, cache.folder).says("Went on"));
    Caches damaged(here);
    damaged.folder = copy.string();
    ASSERT_FALSE(damaged.entries().empty());
    for (const fs::path& e : damaged.entries()) fs::resize_file(e, fs::file_size(e) / 2);
    const Answer anew = rushlight(here, frame, 0, damaged.folder);
    EXPECT_EQ(anew.status, 0) << anew;
    EXPECT_FALSE(anew.says("Went on")) << anew;
}

TEST(Unfinished, WithoutAPlaceToKeepNothingFails) {
    const Scratch here;
    here.with("f.toml", file);
    here.with("in-the-way", "");
    const std::vector<std::string> words{"read", "f.toml", "--error", "1%", "--keep-every", "10ms"};
    for (const std::string& cache : {std::string("/proc/no-such-folder"), (here / "in-the-way").string()}) {
        const Answer a = rushlight(here, words, 0, cache);
        EXPECT_EQ(a.status, 0) << a;
        EXPECT_TRUE(a.err.empty()) << a;
    }
}

}  // namespace
}  // namespace rushlight::testing_command
