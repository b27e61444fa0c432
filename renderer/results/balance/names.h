// What targets and the rules of a balance name, looked up before anything is traced.
#pragma once

#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

/// A reading, lamp or panel that is named, by its place in the file: "f.toml:12:3".
struct NamedInBalance {
    std::string where;
    std::string trouble;  // one line with the nearest name; "" where this set-up has it
};

std::vector<NamedInBalance> named_in_balance(const Setup& setup, const Scene& scene);

}  // namespace rushlight
