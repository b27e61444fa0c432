#include "scene/person/kept_shapes.h"

#include "quantity/packed.h"
#include "quantity/shelf.h"

namespace rushlight {

namespace {

std::vector<char> letters(const std::string& text) {
    return {text.begin(), text.end()};
}
std::string text_of(const std::vector<char>& kept) {
    return {kept.begin(), kept.end()};
}

}  // namespace

Mesh kept_mesh(const Content& of, const std::function<Mesh()>& make) {
    return from_the_shelf(
        "mesh " + of.fingerprint(), make,
        [](const Mesh& m) {
            Packer to;
            to.put(letters(m.name));
            to.put(m.positions);
            to.put(m.triangles);
            to.put(m.normals);
            return to.bytes;
        },
        [](const std::string& bytes) -> std::optional<Mesh> {
            Unpacker from(bytes);
            Mesh m;
            m.name = text_of(from.list<char>());
            m.positions = from.list<Vec3>();
            m.triangles = from.list<std::array<std::uint32_t, 3>>();
            m.normals = from.list<Vec3>();
            return from.finished() ? std::optional(std::move(m)) : std::nullopt;
        });
}

Fibres kept_fibres(const Content& of, const std::function<Fibres()>& make) {
    return from_the_shelf(
        "fibres " + of.fingerprint(), make,
        [](const Fibres& f) {
            Packer to;
            to.put(letters(f.name));
            to.put(f.points);
            to.put(f.radii);
            to.put(f.roots);
            return to.bytes;
        },
        [](const std::string& bytes) -> std::optional<Fibres> {
            Unpacker from(bytes);
            Fibres f;
            f.name = text_of(from.list<char>());
            f.points = from.list<Vec3>();
            f.radii = from.list<float>();
            f.roots = from.list<std::uint32_t>();
            return from.finished() ? std::optional(std::move(f)) : std::nullopt;
        });
}

}  // namespace rushlight
