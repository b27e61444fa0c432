// Rough models in glTF 2.0 (ISO/IEC 12113), as text with its buffers beside it or inside, or in one binary file (.glb).
#pragma once

#include "setup/model/rough_model.h"

namespace rushlight {

/// By its name: .gltf or .glb.
bool is_gltf(const std::string& path);
/// Triangles, strips and fans of the file's scene, with the transforms of its nodes; materials by name, with their base
/// colour where the person names no finish. Pictures, skins, animations and lights are not read. Throws InputError.
RoughModel read_gltf(const RoughModelRequest& request);

}  // namespace rushlight
