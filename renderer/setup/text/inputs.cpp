#include "setup/text/inputs.h"

#include <mutex>
#include <set>
#include <system_error>

namespace rushlight {

namespace {

namespace fs = std::filesystem;

std::mutex access;
std::set<fs::path>& inputs() {
    static std::set<fs::path> all;
    return all;
}

/// As it was meant when it was said, wherever the program stands later.
fs::path whole(const fs::path& path) {
    std::error_code failed;
    const fs::path p = fs::absolute(path, failed);
    return (failed ? path : p).lexically_normal();
}

}  // namespace

void remember_input(const std::string& path) {
    const std::lock_guard lock(access);
    inputs().insert(whole(path));
}

bool is_input(const fs::path& path) {
    const std::lock_guard lock(access);
    if (inputs().count(whole(path)) > 0) return true;
    std::error_code missing;
    if (!fs::exists(path, missing)) return false;
    for (const fs::path& input : inputs())
        if (fs::equivalent(input, path, missing)) return true;
    return false;
}

}  // namespace rushlight
