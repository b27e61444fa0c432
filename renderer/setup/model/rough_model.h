// A rough model (OBJ or glTF) read into clean triangles, with a report of what had to be mended or left out.
#pragma once

#include "setup/plain/place.h"

#include <map>
#include <string>
#include <vector>

namespace rushlight {

/// How to read the file, and what its materials stand for.
struct RoughModelRequest {
    std::string path;
    std::string up = "z";  // "x", "y", "z", "-x", "-y", "-z"
    double metres_per_unit = 1.0;
    Vec3 move{0, 0, 0};                              // metres, after scaling and turning up
    double turn = 0;                                 // degrees about z, after turning up
    std::map<std::string, Finish> finish_of;         // by material name
    std::map<std::string, OpeningPatch> opening_of;  // by material name; triangles are filled in
    bool is_room = false;                            // then its floor is looked for
    Finish otherwise;  // faces whose material is not named (and has no colour in the file)
};

struct RoughModel {
    Triangles triangles;
    std::vector<OpeningPatch> openings;
    std::vector<std::string> remarks;         // one sentence each: dropped faces, unknown materials, size
    std::vector<std::string> material_names;  // as met in the file, in order
    Vec3 lower{0, 0, 0}, upper{0, 0, 0};
};

/// Throws InputError (file and line) for what cannot be read: no faces, an index out of range, a
/// coordinate that is not finite, more than `most_triangles`.
RoughModel read_rough_model(const RoughModelRequest& request);

inline constexpr std::size_t most_triangles = 5'000'000;

}  // namespace rushlight
