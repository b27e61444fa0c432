// What a person should be told about a rough model that could be read: what was mended, whether its size is
// likely, which names do not meet.
#pragma once

#include "setup/model/rough_model.h"

#include <string>
#include <vector>

namespace rushlight {

/// How often something was mended, and where it was first met.
struct Tally {
    std::size_t count = 0;
    int first_line = 0;
    void add(int line) {
        if (count++ == 0) first_line = line;
    }
};
struct Repairs {
    Tally thin, two_corners, crossing;
};

/// "1 face", "12,345 faces".
std::string counted(std::size_t n, const std::string& one, const std::string& many);

/// `has_lines`: the file is text, and a place in it a line; else it is the number of a face.
std::vector<std::string> remarks_on_repairs(const Repairs& repairs, std::size_t triangles, bool has_lines);
std::vector<std::string> remarks_on_size(const Vec3& lower, const Vec3& upper, double metres_per_unit);
/// Where the floor of a room's model lies and whether it leans; nothing when it is level and at z = 0.
std::vector<std::string> remarks_on_floor(const Triangles& model);
std::vector<std::string> remarks_on_names(const RoughModelRequest& request, const std::vector<std::string>& in_file);

}  // namespace rushlight
