// Every reader fed with sound and broken sample files after random damage: bytes struck, cut, doubled and swapped
// between files, numbers replaced by hard ones. Seeds are fixed: the same damage on every machine.
#include "fuzz/entry_points.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <vector>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

const fs::path tests = fs::path(RUSHLIGHT_SOURCE) / "tests";
constexpr int rounds = 60'000;

std::vector<std::string> samples(const fs::path& folder, const std::string& extension) {
    std::vector<fs::path> paths;
    for (const fs::directory_entry& e : fs::directory_iterator(folder))
        if (e.path().extension() == extension) paths.push_back(e.path());
    std::sort(paths.begin(), paths.end());
    std::vector<std::string> texts;
    for (const fs::path& p : paths) {
        std::ifstream in(p, std::ios::binary);
        texts.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    return texts;
}

class Damage {
public:
    Damage(std::vector<std::string> samples, std::uint64_t seed) : samples_(std::move(samples)), random_(seed) {}

    std::string next() {
        std::string text = sample();
        for (std::size_t blows = 1 + below(4); blows > 0; --blows) strike(text);
        if (text.size() > 20'000) text.resize(20'000);
        return text;
    }

private:
    std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random_() % n); }
    const std::string& sample() { return samples_[below(samples_.size())]; }

    /// Start and length of a word somewhere.
    std::pair<std::size_t, std::size_t> a_word(const std::string& text) {
        std::size_t from = below(text.size());
        const auto blank = [&](std::size_t i) { return text[i] == ' ' || text[i] == '\n' || text[i] == '\t'; };
        while (from > 0 && !blank(from - 1)) --from;
        std::size_t to = from;
        while (to < text.size() && !blank(to)) ++to;
        return {from, to - from};
    }

    void strike(std::string& text) {
        static const std::vector<std::string> hard{"0",          "-1",     "1",
                                                   "2",          "3",      "90",
                                                   "180",        "270",    "360",
                                                   "-0.0",       "1e9",    "1e-9",
                                                   "1e99",       "-1e308", "nan",
                                                   "inf",        "0x1",    "1,5",
                                                   "1..2",       "65536",  "2000",
                                                   "4294967296", "5 5",    "\n",
                                                   "\r",         "TILT=",  "\xff",
                                                   "\t",         "1e-320", ",",
                                                   ";",          "-",      "18446744073709551616",
                                                   "1e38",       "[",      "\"",
                                                   "= 1 = 2",    "{",      "v 1",
                                                   "f 1 2 3"};
        if (text.empty()) text = sample();
        if (text.empty()) return;
        const std::size_t at = below(text.size());
        switch (below(8)) {
            case 0:
                text[at] = static_cast<char>(random_() & 0xFF);
                return;
            case 1:
                text.erase(at, 1 + below(30));
                return;
            case 2:
                text.insert(at, text.substr(below(text.size()), 1 + below(60)));
                return;
            case 3: {
                const std::string& other = sample();
                text = text.substr(0, at) + other.substr(below(other.size()));
                return;
            }
            case 4:
            case 5:
            case 6: {
                const auto [from, length] = a_word(text);
                text.replace(from, length, hard[below(hard.size())]);
                return;
            }
            default: {
                const auto [from, length] = a_word(text);
                text.erase(from, length);
            }
        }
    }

    std::vector<std::string> samples_;
    std::mt19937_64 random_;
};

void feed_damaged(void (*feed)(const std::string&), std::vector<std::string> texts, std::uint64_t seed, int count) {
    ASSERT_FALSE(texts.empty());
    for (const std::string& text : texts) feed(text);
    Damage damage(std::move(texts), seed);
    for (int i = 0; i < count; ++i) feed(damage.next());
}

TEST(Fuzz, Lm63) {
    feed_damaged(fuzz::feed_lm63, samples(tests / "setup/luminaires", ".ies"), 1, rounds);
}

TEST(Fuzz, Eulumdat) {
    feed_damaged(fuzz::feed_eulumdat, samples(tests / "setup/luminaires", ".ldt"), 2, rounds);
}

TEST(Fuzz, SetupFile) {
    auto texts = samples(tests / "setup/broken", ".toml");
    for (const std::string& text : samples(tests / "setup", ".toml")) texts.push_back(text);
    feed_damaged(fuzz::feed_setup_file, std::move(texts), 3, rounds);
}

TEST(Fuzz, RoughModel) {
    auto texts = samples(tests / "setup/broken", ".obj");
    for (const std::string& text : samples(tests / "setup/models", ".obj")) texts.push_back(text);
    feed_damaged(fuzz::feed_rough_model, std::move(texts), 4, rounds);
}

TEST(Fuzz, Gltf) {
    auto texts = samples(tests / "setup/models", ".gltf");
    for (const std::string& binary : samples(tests / "setup/models", ".glb")) texts.push_back(binary);
    feed_damaged(fuzz::feed_gltf, std::move(texts), 5, rounds);
}

TEST(Fuzz, MeteredTable) {
    feed_damaged(fuzz::feed_measured, samples(tests / "fuzz/samples/measured", ".csv"), 6, rounds);
}

TEST(Fuzz, TomlText) {
    feed_damaged(fuzz::feed_toml_text, samples(tests / "fuzz/samples/toml_text", ".set"), 7, rounds / 4);
}

TEST(Fuzz, WhatIf) {
    feed_damaged(fuzz::feed_what_if, samples(tests / "fuzz/samples/what_if", ".words"), 8, rounds / 4);
}

TEST(Fuzz, Guides) {
    feed_damaged(fuzz::feed_guides, samples(tests / "fuzz/samples/guides", ".guides"), 9, rounds / 4);
}

TEST(Fuzz, Edits) {
    feed_damaged(fuzz::feed_edits, samples(tests / "fuzz/samples/edits", ".edit"), 10, rounds / 8);
}

TEST(Fuzz, Requests) {
    feed_damaged(fuzz::feed_request, samples(tests / "fuzz/samples/requests", ".request"), 12, rounds / 4);
}

TEST(Fuzz, NewPlace) {
    feed_damaged(fuzz::feed_new_place, samples(tests / "fuzz/samples/new_place", ".place"), 11, rounds / 8);
}

}  // namespace
}  // namespace rushlight
