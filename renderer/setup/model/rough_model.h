// A rough model (OBJ or glTF) read into clean triangles, with a report of what had to be mended or left out.
#pragma once

#include "setup/plain/place.h"
#include "setup/text/patience.h"

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
    Patience patience = {};
};

struct RoughModel {
    Triangles triangles;
    std::vector<OpeningPatch> openings;
    std::vector<std::string> remarks;         // one sentence each: dropped faces, unknown materials, size
    std::vector<std::string> material_names;  // as met in the file, in order
    Vec3 lower{0, 0, 0}, upper{0, 0, 0};
    std::size_t bytes = 0;  // of all files that it was read from
};

/// Throws InputError (file and line) for what cannot be read: no faces, an index out of range, a
/// coordinate that is not finite, more than what stands below.
RoughModel read_rough_model(const RoughModelRequest& request);

// Of one model: docs/limits.md.
inline constexpr std::size_t most_triangles = 5'000'000;
inline constexpr std::size_t most_materials = 10'000;
inline constexpr std::size_t longest_material_name = 200;         // bytes
inline constexpr std::size_t largest_obj_file = 1'000'000'000;    // bytes
inline constexpr std::size_t largest_gltf_file = 300'000'000;     // with all its buffers
inline constexpr std::size_t largest_gltf_words = 100'000'000;    // of its JSON
inline constexpr std::size_t largest_material_file = 16'000'000;  // of an OBJ model

}  // namespace rushlight
