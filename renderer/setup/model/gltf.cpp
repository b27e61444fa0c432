// The only file that sees tinygltf. It reads the JSON, the container and the buffers; it checks few of the numbers in
// them, so every index, offset and length is checked here before it is followed.
#include "setup/model/gltf.h"

#include "setup/model/builder.h"
#include "setup/model/gltf_words.h"
#include "setup/model/lines.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"
#include "setup/text/words.h"

#include <ImathMatrix.h>
#include <ImathQuat.h>
#include <tiny_gltf.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <limits>
#include <regex>

namespace rushlight {

namespace {

namespace fs = std::filesystem;
using V3d = Imath::V3d;
using M44d = Imath::M44d;

constexpr int deepest = 64;                    // of nodes in nodes
constexpr std::size_t most_visits = 200'000;   // of nodes, counted each time they are used
constexpr std::size_t most_parts = 1'000'000;  // of meshes, the same

/// Buffers beside the model. One that two of them name is held twice, and counted twice.
struct BuffersBeside {
    fs::path folder;
    std::size_t bytes = 0;  // of all, with the file itself
    std::string trouble = {};
};

/// The library's words with what is its own taken out.
std::string in_plain_words(std::string problem) {
    static const std::regex place("line ([0-9]+), column ([0-9]+)");
    std::smatch found;
    if (problem.find("json.exception") != std::string::npos)
        return std::regex_search(problem, found, place)
                   ? "its JSON breaks in line " + found[1].str() + ", column " + found[2].str()
                   : "its JSON holds something else than a model does";
    std::replace_if(
        problem.begin(), problem.end(), [](unsigned char c) { return c < 0x20 || c > 0x7e; }, ' ');
    problem = trimmed(problem);
    return problem.empty() ? "it is damaged" : problem.substr(0, 200);
}

class GltfReader {
public:
    explicit GltfReader(const RoughModelRequest& request) : request_(request), builder_(request) {}

    RoughModel read() {
        load();
        refuse_packed();
        if (!file_.scenes.empty()) {
            const auto& scene = of(file_.scenes, file_.defaultScene < 0 ? 0 : file_.defaultScene, "scene");
            for (const int n : scene.nodes) visit(n, M44d(), 0);
        } else {
            std::vector<bool> is_child(file_.nodes.size(), false);
            for (const tinygltf::Node& n : file_.nodes)
                for (const int c : n.children)
                    if (c >= 0 && static_cast<std::size_t>(c) < is_child.size())
                        is_child[static_cast<std::size_t>(c)] = true;
            for (std::size_t i = 0; i < file_.nodes.size(); ++i)
                if (!is_child[i]) visit(static_cast<int>(i), M44d(), 0);
        }
        return builder_.finished(false);
    }

private:
    [[noreturn]] void refuse(const std::string& what) const { throw InputError({request_.path}, what); }

    template <class T>
    const T& of(const std::vector<T>& things, int number, const char* what) const {
        if (number < 0 || static_cast<std::size_t>(number) >= things.size())
            refuse("found " + std::string(what) + " " + std::to_string(number) + ", expected one of the " +
                   std::to_string(things.size()) + " in the file");
        return things[static_cast<std::size_t>(number)];
    }

    void load();
    void refuse_packed() const;
    void visit(int node, const M44d& outer, int depth);
    void add(const tinygltf::Primitive& primitive, const M44d& to_scene);
    void add_faces(int mode, const std::vector<std::uint32_t>& corners);
    /// Where the values of an accessor lie, all of it inside its buffer.
    struct Values {
        const unsigned char* first = nullptr;
        std::size_t count = 0, stride = 0;
        int component = 0;
    };
    Values values(int accessor, int type) const;

    const RoughModelRequest& request_;
    RoughModelBuilder builder_;
    tinygltf::Model file_;
    std::size_t visits_ = 0, parts_ = 0;
    int faces_ = 0;
};

void GltfReader::load() {
    std::string bytes = whole_file(request_.path, largest_gltf_file, "a rough model (OBJ or glTF)");
    keep_words_of_shapes(bytes, request_.path);
    tinygltf::TinyGLTF reader;
    // Only from beside the model: a file name in somebody's model opens nothing else on this machine.
    BuffersBeside beside{fs::path(request_.path).parent_path(), bytes.size()};
    tinygltf::FsCallbacks files{};
    files.FileExists = [](const std::string& name, void* where) {
        return trouble_with_file((static_cast<BuffersBeside*>(where)->folder / fs::path(name).filename()).string())
            .empty();
    };
    files.ExpandFilePath = [](const std::string& name, void*) { return name; };
    files.ReadWholeFile = [](std::vector<unsigned char>* out, std::string*, const std::string& name, void* where) {
        auto& all = *static_cast<BuffersBeside*>(where);
        try {
            const std::string path = (all.folder / fs::path(name).filename()).string();
            const std::size_t left = largest_gltf_file - all.bytes;
            if (file_size_within(path, std::numeric_limits<std::size_t>::max(), "a buffer of the model") > left) {
                all.trouble = "found more than 300 MB with all its buffers, expected a rough model: reduce it first";
                return false;
            }
            const std::string read = whole_file(path, left, "a buffer of the model");
            all.bytes += read.size();
            out->assign(read.begin(), read.end());
            return true;
        } catch (const InputError& e) {
            all.trouble = std::string("found a buffer that cannot be read: ") + e.what();
            return false;
        }
    };
    files.WriteWholeFile = [](std::string*, const std::string&, const std::vector<unsigned char>&, void*) {
        return false;
    };
    files.user_data = &beside;
    reader.SetFsCallbacks(files);
    reader.SetImageLoader([](tinygltf::Image*, int, std::string*, std::string*, int, int, const unsigned char*, int,
                             void*) { return true; },
                          nullptr);

    std::string problem, warning;
    const bool binary = bytes.starts_with("glTF");
    const std::string folder = beside.folder.string();
    bool read = false;
    try {
        read = binary ? reader.LoadBinaryFromMemory(&file_, &problem, &warning,
                                                    reinterpret_cast<const unsigned char*>(bytes.data()),
                                                    static_cast<unsigned>(bytes.size()), folder)
                      : reader.LoadASCIIFromString(&file_, &problem, &warning, bytes.data(),
                                                   static_cast<unsigned>(bytes.size()), folder);
    } catch (const std::exception& e) {
        problem = e.what();
    }
    if (!beside.trouble.empty()) refuse(beside.trouble);
    if (!read) refuse("not a glTF file that can be read: " + in_plain_words(problem));
    builder_.count_bytes(beside.bytes);
    request_.patience.look();
}

void GltfReader::refuse_packed() const {
    for (const std::string& e : file_.extensionsRequired)
        if (e == "KHR_draco_mesh_compression" || e == "EXT_meshopt_compression" || e == "KHR_mesh_quantization")
            refuse("found packed triangles (" + e + "), expected plain ones: export it without compression");
}

M44d transform_of(const tinygltf::Node& n) {
    M44d m;
    if (n.matrix.size() == 16) {
        for (int i = 0; i < 16; ++i) m[i / 4][i % 4] = n.matrix[static_cast<std::size_t>(i)];
        return m;
    }
    // Row vectors: scale first, then the turn, then the shift.
    if (n.scale.size() == 3) m.setScale(V3d(n.scale[0], n.scale[1], n.scale[2]));
    if (n.rotation.size() == 4)
        m *= Imath::Quatd(n.rotation[3], n.rotation[0], n.rotation[1], n.rotation[2]).normalized().toMatrix44();
    if (n.translation.size() == 3) {
        M44d shift;
        shift.setTranslation(V3d(n.translation[0], n.translation[1], n.translation[2]));
        m *= shift;
    }
    return m;
}

void GltfReader::visit(int number, const M44d& outer, int depth) {
    const tinygltf::Node& node = of(file_.nodes, number, "node");
    if (depth > deepest || ++visits_ > most_visits)
        refuse("found nodes within nodes without an end, expected a tree of them");
    const M44d here = transform_of(node) * outer;
    if (node.mesh >= 0)
        for (const tinygltf::Primitive& p : of(file_.meshes, node.mesh, "mesh").primitives) add(p, here);
    for (const int child : node.children) visit(child, here, depth + 1);
}

GltfReader::Values GltfReader::values(int number, int type) const {
    const tinygltf::Accessor& a = of(file_.accessors, number, "accessor");
    const std::string which = "accessor " + std::to_string(number);
    if (a.sparse.isSparse || a.bufferView < 0)
        refuse("found " + which + " sparse or without a buffer, expected plain data");
    if (a.type != type) refuse("found " + which + " of another type than positions or corners are");
    const tinygltf::BufferView& view = of(file_.bufferViews, a.bufferView, "buffer view");
    const tinygltf::Buffer& buffer = of(file_.buffers, view.buffer, "buffer");
    const int component = tinygltf::GetComponentSizeInBytes(static_cast<std::uint32_t>(a.componentType));
    const int components = tinygltf::GetNumComponentsInType(static_cast<std::uint32_t>(type));
    if (component <= 0 || components <= 0) refuse("found " + which + " of a kind of number that does not exist");
    const auto size = static_cast<std::size_t>(component * components);
    Values v;
    v.component = a.componentType;
    v.count = a.count;
    v.stride = view.byteStride == 0 ? size : view.byteStride;
    const std::size_t whole = buffer.data.size();
    // Nothing here can overflow: each is compared before it is added.
    if (view.byteOffset > whole || view.byteLength > whole - view.byteOffset || a.byteOffset > view.byteLength ||
        v.stride < size || v.stride > 65536 || v.count == 0 || v.count > largest_gltf_file ||
        size > view.byteLength - a.byteOffset || (v.count - 1) > (view.byteLength - a.byteOffset - size) / v.stride)
        refuse("found " + which + " outside its buffer of " + std::to_string(whole) + " bytes");
    v.first = buffer.data.data() + view.byteOffset + a.byteOffset;
    return v;
}

void GltfReader::add(const tinygltf::Primitive& primitive, const M44d& to_scene) {
    if (++parts_ > most_parts) refuse("found meshes used over and over without an end, expected a rough model");
    const int mode = primitive.mode < 0 ? TINYGLTF_MODE_TRIANGLES : primitive.mode;
    if (mode != TINYGLTF_MODE_TRIANGLES && mode != TINYGLTF_MODE_TRIANGLE_STRIP && mode != TINYGLTF_MODE_TRIANGLE_FAN)
        return;  // points and lines send no light back
    const auto where = primitive.attributes.find("POSITION");
    if (where == primitive.attributes.end()) refuse("found a mesh without positions");
    const Values points = values(where->second, TINYGLTF_TYPE_VEC3);
    if (points.component != TINYGLTF_COMPONENT_TYPE_FLOAT) refuse("found positions that are not 32-bit floats");

    std::string name;
    if (primitive.material >= 0) {
        const tinygltf::Material& m = of(file_.materials, primitive.material, "material");
        name = m.name.empty() ? "material " + std::to_string(primitive.material + 1) : m.name;
        const std::vector<double>& base = m.pbrMetallicRoughness.baseColorFactor;
        // A texture's mean is not known here, and its factor alone would make a white room; so would the white that
        // stands where nobody chose a colour.
        const bool chosen = base.size() >= 3 && m.pbrMetallicRoughness.baseColorTexture.index < 0 &&
                            !(std::min({base[0], base[1], base[2]}) > 0.95);
        if (chosen) {
            std::array<float, 3> colour{};
            for (std::size_t i = 0; i < 3; ++i)
                colour[i] = std::isfinite(base[i]) ? static_cast<float>(std::clamp(base[i], 0.0, 1.0)) : 0.0F;
            builder_.give_colour(name, colour);
        }
    }
    builder_.use_material(name);

    const std::size_t first = builder_.points();
    for (std::size_t i = 0; i < points.count; ++i) {
        std::array<float, 3> p{};
        std::memcpy(p.data(), points.first + i * points.stride, sizeof p);
        V3d at;
        to_scene.multVecMatrix(V3d(p[0], p[1], p[2]), at);
        for (int k = 0; k < 3; ++k)
            if (!(std::abs(at[k]) * request_.metres_per_unit <= farthest_model_coordinate))
                refuse("found a point that is no number or farther than 1,000 km");
        builder_.add_point(at, 0);
    }
    std::vector<std::uint32_t> corners;
    if (primitive.indices < 0) {
        for (std::size_t i = 0; i < points.count; ++i) corners.push_back(static_cast<std::uint32_t>(first + i));
    } else {
        const Values indices = values(primitive.indices, TINYGLTF_TYPE_SCALAR);
        if (indices.count > 3 * most_triangles)
            refuse("found more than " + std::to_string(most_triangles) +
                   " triangles, expected a rough model: reduce it first");
        corners.reserve(indices.count);
        for (std::size_t i = 0; i < indices.count; ++i) {
            const unsigned char* at = indices.first + i * indices.stride;
            std::uint32_t index = 0;
            if (indices.component == TINYGLTF_COMPONENT_TYPE_UNSIGNED_BYTE) {
                index = *at;
            } else if (indices.component == TINYGLTF_COMPONENT_TYPE_UNSIGNED_SHORT) {
                std::uint16_t narrow = 0;
                std::memcpy(&narrow, at, sizeof narrow);
                index = narrow;
            } else if (indices.component == TINYGLTF_COMPONENT_TYPE_UNSIGNED_INT) {
                std::memcpy(&index, at, sizeof index);
            } else {
                refuse("found corners that are not whole numbers from 0");
            }
            if (index >= points.count)
                refuse("found corner " + std::to_string(index) + " in a mesh of " + std::to_string(points.count) +
                       " points");
            corners.push_back(static_cast<std::uint32_t>(first + index));
        }
    }
    add_faces(mode, corners);
}

void GltfReader::add_faces(int mode, const std::vector<std::uint32_t>& c) {
    const auto face = [&](std::uint32_t a, std::uint32_t b, std::uint32_t d) {
        const std::array<std::uint32_t, 3> corners{a, b, d};
        builder_.add_polygon(corners, ++faces_);
    };
    if (mode == TINYGLTF_MODE_TRIANGLES)
        for (std::size_t i = 0; i + 2 < c.size(); i += 3) face(c[i], c[i + 1], c[i + 2]);
    else if (mode == TINYGLTF_MODE_TRIANGLE_STRIP)
        for (std::size_t i = 0; i + 2 < c.size(); ++i)
            i % 2 == 0 ? face(c[i], c[i + 1], c[i + 2]) : face(c[i + 1], c[i], c[i + 2]);
    else
        for (std::size_t i = 1; i + 1 < c.size(); ++i) face(c[0], c[i], c[i + 1]);
}

}  // namespace

bool is_gltf(const std::string& path) {
    std::string ending = fs::path(path).extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) { return std::tolower(c); });
    return ending == ".gltf" || ending == ".glb";
}

RoughModel read_gltf(const RoughModelRequest& request) {
    return GltfReader(request).read();
}

}  // namespace rushlight
