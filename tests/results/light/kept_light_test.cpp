// Light is linear: what is put on layers afterwards must be what a new trace gives, with errors that mean what they
// say; and what was kept must come back as it was, or not at all.
#include "results/light/kept_light.h"
#include "results/frame/frames.h"
#include "results/readings/readings.h"
#include "results/rooms.h"
#include "setup/advice/what_if.h"
#include "setup/plain/content.h"
#include "setup/text/where.h"

#include <fstream>

#include <sys/wait.h>

namespace rushlight {
namespace {

using namespace rooms;
namespace fs = std::filesystem;

Sheet read(const rushlight::Setup& in_file, const WhatIf& what_if, const Effort& e, const LayerCache& cache,
           bool* at_once = nullptr) {
    const rushlight::Setup asked = with(what_if, in_file);
    const rushlight::Setup traced = to_trace(in_file, asked);
    KeptLight light(traced, asked, cache);
    const Sheet sheet = take_readings(asked, build_scene(traced), e, light);
    if (at_once) *at_once = light.nothing_traced();
    return sheet;
}
Sheet read_fresh(const rushlight::Setup& asked, const Effort& e) {
    return take_readings(asked, build_scene(asked), e);
}

void expect_same_bits(const Sheet& a, const Sheet& b) {
    ASSERT_EQ(a.readings.size(), b.readings.size());
    for (std::size_t i = 0; i < a.readings.size(); ++i) {
        EXPECT_EQ(a.readings[i].lux.value, b.readings[i].lux.value);
        EXPECT_EQ(a.readings[i].lux.error, b.readings[i].lux.error);
        EXPECT_EQ(a.readings[i].kelvin, b.readings[i].kelvin);
    }
    ASSERT_EQ(a.separations.size(), b.separations.size());
    for (std::size_t i = 0; i < a.separations.size(); ++i)
        EXPECT_EQ(a.separations[i].stops.value, b.separations[i].stops.value);
}

// Superposition (any photometry text): each source traced alone, all summed, against all at once.
TEST(Layers, SumToAllAtOnce) {
    const rushlight::Setup all = setup_of(two_lamps);
    const Sheet together = read_fresh(all, effort(0.01, 1));
    std::vector<Measured> sums(together.readings.size());
    for (int alone = 0; alone < 3; ++alone) {
        rushlight::Setup one = all;
        for (int l = 0; l < 2; ++l) one.rig.lamps[static_cast<std::size_t>(l)].on = l == alone;
        one.day.dark = alone != 2;
        const Sheet s = read_fresh(one, effort(0.01, 10 + static_cast<std::uint64_t>(alone)));
        for (std::size_t i = 0; i < sums.size(); ++i) {
            sums[i].value += s.readings[i].lux.value;
            sums[i].error = std::hypot(sums[i].error, s.readings[i].lux.error);
        }
    }
    for (std::size_t i = 0; i < sums.size(); ++i) {
        const Measured& t = together.readings[i].lux;
        EXPECT_LT(sums[i].relative_error(), 0.015);
        EXPECT_NEAR(sums[i].value, t.value, 4 * std::hypot(t.error, sums[i].error)) << together.readings[i].name;
    }
}

TEST(Relit, EqualsAFreshTraceWithItsErrors) {
    const Folder folder;
    const LayerCache cache(folder.path);
    const rushlight::Setup in_file = setup_of(two_lamps);
    bool at_once = true;
    read(in_file, {}, effort(0.01), cache, &at_once);
    EXPECT_FALSE(at_once);
    const WhatIf what_if{{"key=-3 stops", "back=25%"}, {"back=full orange", "key=none"}, {}, {}};
    const Sheet relit = read(in_file, what_if, effort(0.01), cache, &at_once);
    EXPECT_TRUE(at_once);
    const Sheet fresh = read_fresh(with(what_if, in_file), effort(0.005, 99));
    for (std::size_t i = 0; i < relit.readings.size(); ++i) {
        const Reading& r = relit.readings[i];
        const Reading& f = fresh.readings[i];
        EXPECT_LT(r.lux.relative_error(), 0.035) << r.name;
        EXPECT_NEAR(r.lux.value, f.lux.value, 4 * std::hypot(r.lux.error, f.lux.error)) << r.name;
        EXPECT_NEAR(1e6 / r.kelvin, 1e6 / f.kelvin, 4) << r.name;  // mired
    }
    ASSERT_EQ(relit.separations.size(), fresh.separations.size());
    for (std::size_t i = 0; i < relit.separations.size(); ++i)
        EXPECT_NEAR(relit.separations[i].stops.value, fresh.separations[i].stops.value,
                    4 * std::hypot(relit.separations[i].stops.error, fresh.separations[i].stops.error));
}

// The error bar of a re-lit reading, judged by how far re-lit readings of many seeds scatter: chi-squared over its
// degrees of freedom is 1, with a spread of sqrt(2 / n) (any statistics text).
TEST(Relit, ErrorBarsMeanWhatTheySay) {
    rushlight::Setup in_file = setup_of(two_lamps);
    in_file.rig.marks.clear();  // only the meter on the table: quick
    const WhatIf what_if{{"key=-4 stops"}, {"back=full orange"}, {}, {}};
    const rushlight::Setup asked = with(what_if, in_file);
    const Scene scene = build_scene(in_file);
    constexpr int seeds = 40;
    double sum = 0, weights = 0;
    std::vector<Measured> all;
    for (int i = 0; i < seeds; ++i) {
        KeptLight light(in_file, asked, LayerCache(fs::path()));
        all.push_back(
            take_readings(asked, scene, effort(0.02, 500 + static_cast<std::uint64_t>(i)), light).readings.at(0).lux);
        const double w = 1 / (all.back().error * all.back().error);
        sum += w * all.back().value;
        weights += w;
    }
    double chi2 = 0;
    for (const Measured& m : all) chi2 += std::pow((m.value - sum / weights) / m.error, 2);
    EXPECT_NEAR(chi2 / (seeds - 1), 1.0, 4 * std::sqrt(2.0 / (seeds - 1)));
}

TEST(Relit, ALampThatIsOffIsTracedWhenAskedFor) {
    const Folder folder;
    const LayerCache cache(folder.path);
    const rushlight::Setup in_file = setup_of(two_lamps);
    bool at_once = true;
    EXPECT_EQ(read(in_file, {}, effort(0.02), cache).readings.at(0).by_source.at(2).value, 0);
    const Sheet raised = read(in_file, {{"spare=50%"}, {}, {}, {}}, effort(0.02), cache, &at_once);
    EXPECT_FALSE(at_once);
    EXPECT_GT(raised.readings.at(0).by_source.at(2).value, 1);
    const Sheet more = read(in_file, {{"spare=100%"}, {}, {}, {}}, effort(0.02), cache, &at_once);
    EXPECT_TRUE(at_once);
    EXPECT_NEAR(more.readings.at(0).by_source.at(2).value, 2 * raised.readings.at(0).by_source.at(2).value, 1e-3);
    // The file as it stands is still there, too.
    read(in_file, {{"key=off"}, {}, {}, {}}, effort(0.02), cache, &at_once);
    EXPECT_TRUE(at_once);
}

TEST(Cache, SameBitsAsTraced) {
    const Folder folder;
    const LayerCache cache(folder.path);
    const rushlight::Setup s = setup_of(two_lamps);
    bool at_once = true;
    const Sheet traced = read(s, {}, effort(0.02), cache, &at_once);
    EXPECT_FALSE(at_once);
    const Sheet kept = read(s, {}, effort(0.02), cache, &at_once);
    EXPECT_TRUE(at_once);
    expect_same_bits(traced, kept);
    expect_same_bits(traced, read_fresh(s, effort(0.02)));
    // Another seed, another error, another day: another entry.
    read(s, {}, effort(0.02, 4), cache, &at_once);
    EXPECT_FALSE(at_once);
    rushlight::Setup later = s;
    later.day.clock_hours += 0.5;
    read(later, {}, effort(0.02), cache, &at_once);
    EXPECT_FALSE(at_once);
}

TEST(Cache, FramesToo) {
    const Folder folder;
    const rushlight::Setup s = setup_of(two_lamps);
    const WhatIf what_if{{"key=10%"}, {"back=full blue"}, {}, {}};
    const auto frame = [&](const WhatIf& w, const LayerCache& cache, std::uint64_t seed) {
        const rushlight::Setup asked = with(w, s);
        KeptLight light(s, asked, cache);
        return trace_frame(asked, build_scene(s), 48, 27, effort(0.2, seed), light);
    };
    const LayerCache cache(folder.path);
    const LayeredFrame traced = frame({}, cache, 3), kept = frame({}, cache, 3);
    EXPECT_EQ(traced.layers, kept.layers);
    EXPECT_EQ(traced.bounced, kept.bounced);
    EXPECT_EQ(traced.error, kept.error);
    EXPECT_EQ(traced.noise, kept.noise);
    // Under other levels: the mean picture and its error are those of a frame traced so.
    const LayeredFrame relit = frame(what_if, cache, 3);
    const rushlight::Setup asked = with(what_if, s);
    const LayeredFrame fresh = trace_frame(asked, build_scene(asked), 48, 27, effort(0.2, 8));
    double sums[2] = {0, 0}, errors2[2] = {0, 0};
    for (int which = 0; which < 2; ++which) {
        const LayeredFrame& f = which == 0 ? relit : fresh;
        for (std::size_t p = 0; p < f.error.size(); ++p) {
            for (const auto& layer : f.layers) sums[which] += static_cast<double>(photometric(layer[p]));
            errors2[which] += std::pow(static_cast<double>(f.error[p]), 2);
        }
    }
    EXPECT_LT(std::sqrt(errors2[1]), 0.03 * sums[1]);
    EXPECT_NEAR(sums[0], sums[1], 4 * std::sqrt(errors2[0] + errors2[1]));
}

std::vector<fs::path> entries(const Folder& folder) {
    std::vector<fs::path> found;
    for (const auto& e : fs::directory_iterator(folder.path)) found.push_back(e.path());
    return found;
}

TEST(Cache, WhatIsDamagedIsNotUsed) {
    const Folder folder;
    const LayerCache cache(folder.path);
    const std::string key = fingerprint("x"), bytes(1000, 'a');
    cache.keep(key, bytes);
    ASSERT_EQ(cache.find(key), bytes);
    EXPECT_FALSE(cache.find(fingerprint("y")));
    const fs::path file = entries(folder).at(0);
    for (const std::streamoff at : {3, 25, 60, 200, 1000}) {
        std::fstream f(file, std::ios::in | std::ios::out | std::ios::binary);
        f.seekp(at);
        f.put('#');
        f.close();
        EXPECT_FALSE(cache.find(key)) << at;
        cache.keep(key, bytes);
        EXPECT_TRUE(cache.find(key));
    }
    fs::resize_file(file, 500);
    EXPECT_FALSE(cache.find(key));
    fs::resize_file(file, 0);
    EXPECT_FALSE(cache.find(key));
    // Under another's name.
    cache.keep(key, bytes);
    fs::rename(file, folder.path / (fingerprint("y") + ".layers"));
    EXPECT_FALSE(cache.find(fingerprint("y")));
    // Whole by its sum, yet no layers.
    const rushlight::Setup s = setup_of(two_lamps);
    read(s, {}, effort(0.05), cache);
    for (const fs::path& p : entries(folder)) cache.keep(p.stem().string(), "nonsense");
    bool at_once = true;
    expect_same_bits(read(s, {}, effort(0.05), cache, &at_once), read_fresh(s, effort(0.05)));
    EXPECT_FALSE(at_once);
}

TEST(Cache, OldestIsThrownOut) {
    const Folder folder;
    const LayerCache cache(folder.path, 4000);
    const std::string bytes(900, 'b');
    std::vector<std::string> keys;
    for (const char* name : {"1", "2", "3", "4", "5", "6"}) {
        keys.push_back(fingerprint(name));
        cache.keep(keys.back(), bytes);
        const auto then = fs::file_time_type::clock::now() - std::chrono::hours(10 - static_cast<int>(keys.size()));
        fs::last_write_time(folder.path / (keys.back() + ".layers"), then);
        if (keys.size() == 3) {
            EXPECT_TRUE(cache.find(keys[0]));  // used just now: not the oldest any more
        }
    }
    EXPECT_TRUE(cache.find(keys[0]));
    EXPECT_FALSE(cache.find(keys[1]));
    EXPECT_TRUE(cache.find(keys[5]));
    EXPECT_LE(entries(folder).size(), 4U);
    cache.keep(fingerprint("large"), std::string(2000, 'c'));
    EXPECT_FALSE(cache.find(fingerprint("large")));
}

TEST(Cache, WithoutAFolderNothingFails) {
    const Folder folder;
    std::ofstream(folder.path / "file") << "in the way";
    for (const fs::path& path : {fs::path(), folder.path / "file" / "under a file", fs::path("/proc/no-such-folder")}) {
        const LayerCache cache(path);
        cache.keep(fingerprint("x"), "abc");
        EXPECT_FALSE(cache.find(fingerprint("x"))) << path;
    }
}

TEST(Cache, TwoAtOnce) {
    const Folder folder;
    const std::string key = fingerprint("shared");
    std::vector<pid_t> children;
    for (int who = 0; who < 2; ++who) {
        const pid_t child = ::fork();
        if (child == 0) {
            const LayerCache cache(folder.path, 1 << 20);
            const std::string mine(100'000, who == 0 ? 'l' : 'r');
            bool sound = true;
            for (int i = 0; i < 200; ++i) {
                cache.keep(key, mine);
                const auto found = cache.find(key);
                sound = sound && found && found->size() == mine.size() &&
                        found->find_first_not_of(found->front()) == std::string::npos;
            }
            ::_exit(sound ? 0 : 1);
        }
        children.push_back(child);
    }
    for (const pid_t child : children) {
        int status = -1;
        ::waitpid(child, &status, 0);
        EXPECT_EQ(status, 0);
    }
    EXPECT_EQ(entries(folder).size(), 1U);  // and nothing half written beside it
}

TEST(Content, LevelsAndGelsAreNotInItAndAllElseIs) {
    const auto key = [](const std::string& text, const WhatIf& w = {}) {
        Content c;
        add_content(c, with(w, setup_of(text)));
        return c.fingerprint();
    };
    const std::string same = key(two_lamps);
    EXPECT_EQ(key(two_lamps, {{"key=10%", "back=-1 stop"}, {"key=full blue"}, 100.0, 8.0}), same);
    EXPECT_NE(key(two_lamps, {{"spare=10%"}, {}, {}, {}}), same);  // burns or not: that is traced
    EXPECT_NE(key(two_lamps, {{"key=off"}, {}, {}, {}}), same);
    const std::pair<const char*, const char*> changes[] = {{"width = 5", "width = 5.1"},
                                                           {"reflectance = 0.5", "reflectance = 0.6"},
                                                           {"4000 lm", "4100 lm"},
                                                           {"head = 2", "head = 2.1"},
                                                           {"facing = [5, 2]", "facing = [5, 3]"},
                                                           {"size = 0.6", "size = 0.7"},
                                                           {"\"overcast\"", "\"even\""},
                                                           {"latitude = 50", "latitude = 51"},
                                                           {"shape = \"ball\"", "shape = \"tube\""},
                                                           {"aim = \"A\"", "aim = [1, 1, 1]"},
                                                           {"hue = \"cream\"", "hue = \"oak\""}};
    for (const auto& [before, after] : changes) {
        std::string text = two_lamps;
        text.replace(text.find(before), std::string(before).size(), after);
        EXPECT_NE(key(text), same) << after;
    }
}

TEST(WhatIfs, AreAnsweredInOneLineWhenWrong) {
    const rushlight::Setup s = setup_of(two_lamps);
    const auto line = [&](const WhatIf& w) {
        try {
            with(w, s);
        } catch (const InputError& e) {
            return std::string(e.what());
        }
        return std::string("nothing");
    };
    EXPECT_NE(line({{"kye=50%"}, {}, {}, {}}).find("did you mean 'key'"), std::string::npos);
    EXPECT_NE(line({{"key=150%"}, {}, {}, {}}).find("between off and full"), std::string::npos);
    EXPECT_NE(line({{"key=-50%"}, {}, {}, {}}).find("between off and full"), std::string::npos);
    EXPECT_NE(line({{"key"}, {}, {}, {}}).find("NAME="), std::string::npos);
    EXPECT_NE(line({{"key=bright"}, {}, {}, {}}).find("not a share"), std::string::npos);
    EXPECT_NE(line({{"sky=50%"}, {}, {}, {}}).find("no dimmer"), std::string::npos);
    EXPECT_NE(line({{}, {"key=half ornge"}, {}, {}}).find("did you mean 'half orange'"), std::string::npos);
    EXPECT_DOUBLE_EQ(with({{"KEY = -1 stop"}, {}, {}, {}}, s).rig.lamps[0].level, 0.5);
    EXPECT_DOUBLE_EQ(with({{"key=0.25"}, {}, {}, {}}, s).rig.lamps[0].level, 0.25);
    EXPECT_FALSE(with({{"key=off"}, {}, {}, {}}, s).rig.lamps[0].on);
}

}  // namespace
}  // namespace rushlight
