// The words (JSON) of a glTF file, looked at before the library gets them: it follows them as deep as they nest and
// keeps all of them, whether a shape needs them or not.
#pragma once

#include <string>

namespace rushlight {

/// Empties in place what no shape is made of: "extras" and "extensions" anywhere; images, animations, skins, cameras,
/// textures and samplers of the file. Throws InputError in the name of `path` where the rest nests too deep, or is more
/// than a model of five million triangles has any use for. `bytes` is a whole .gltf or .glb file.
void keep_words_of_shapes(std::string& bytes, const std::string& path);

}  // namespace rushlight
