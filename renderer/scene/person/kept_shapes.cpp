#include "scene/person/kept_shapes.h"

#include "quantity/packed.h"
#include "quantity/shelf.h"

namespace rushlight {

namespace {

/// A shape with a name and some lists, which are its members.
template <class Shape, class... Items>
Shape kept_shape(const std::string& key, const std::function<Shape()>& make, std::vector<Items> Shape::*... lists) {
    return from_the_shelf(
        key, make,
        [=](const Shape& shape) {
            Packer to;
            to.put(std::vector<char>(shape.name.begin(), shape.name.end()));
            (to.put(shape.*lists), ...);
            return to.bytes;
        },
        [=](const std::string& bytes) -> std::optional<Shape> {
            Unpacker from(bytes);
            Shape shape;
            const std::vector<char> name = from.list<char>();
            shape.name.assign(name.begin(), name.end());
            ((shape.*lists = from.list<Items>()), ...);
            return from.finished() ? std::optional(std::move(shape)) : std::nullopt;
        });
}

}  // namespace

Mesh kept_mesh(const Content& of, const std::function<Mesh()>& make) {
    return kept_shape("mesh " + of.fingerprint(), make, &Mesh::positions, &Mesh::triangles, &Mesh::normals);
}

Fibres kept_fibres(const Content& of, const std::function<Fibres()>& make) {
    return kept_shape("fibres " + of.fingerprint(), make, &Fibres::points, &Fibres::radii, &Fibres::roots);
}

}  // namespace rushlight
