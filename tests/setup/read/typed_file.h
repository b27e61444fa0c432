// What the tests of the set-up file share.
#pragma once

#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>
#include <string>
#include <vector>

namespace rushlight {

inline double luminous(const Spectrum& s) {
    return luminous_share(s, equal_energy());
}

template <class T>
const T& named(const std::vector<T>& things, const std::string& name) {
    const auto it = std::find_if(things.begin(), things.end(), [&](const T& t) { return t.name == name; });
    if (it == things.end()) throw std::runtime_error("no " + name);
    return *it;
}

inline void expect_near(const Vec3& a, const Vec3& b) {
    EXPECT_LT((a - b).length(), 1e-5F) << a << " against " << b;
}

inline const std::string small_room =
    "[place]\nroom = { width = 5, depth = 4, height = 2.7 }\n"
    "[place.surfaces]\nwalls = 0.5\nfloor = 0.2\nceiling = 0.7\n";

inline rushlight::Setup first_of(const std::string& text) {
    return SetupFile::from_text(text, "f.toml").setup();
}

}  // namespace rushlight
