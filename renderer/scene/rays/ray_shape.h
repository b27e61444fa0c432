// The shapes that rays are traced against, and the trees over them, as the ray-tracing library holds them. Only
// ray_scene.cpp looks in here.
#pragma once

#include "quantity/kept.h"
#include "scene/rays/fibres.h"
#include "scene/rays/mesh.h"

#include <embree3/rtcore.h>

#include <cstdint>
#include <memory>
#include <new>
#include <string>
#include <vector>

namespace rushlight {

/// One for the whole program, so that scenes can share trees.
RTCDevice the_device();
RTCScene new_tree();
/// One thread builds, so that the trees, and which of two coinciding surfaces is met, never depend on the machine.
void grow(RTCScene tree);

/// Counts the memory that the library takes from now on in this thread and does not give back. One thread builds a
/// tree, so this is the memory of that tree.
class BytesTaken {
public:
    std::size_t so_far() const;

private:
    std::ptrdiff_t before_ = taken();
    static std::ptrdiff_t taken();
};

/// Corners as the library holds them, and the tree over them where there are many.
struct RayShape {
    RTCGeometry geometry = nullptr;
    RTCScene tree = nullptr;         // of this shape alone; null: it goes into the trees of the scene
    const float* corners = nullptr;  // x, y, z; of fibres: and radius
    const std::uint32_t* indices = nullptr;
    std::vector<Vec3> normals;
    std::size_t bytes = 0;

    explicit RayShape(RTCGeometryType type) : geometry(rtcNewGeometry(the_device(), type)) {}
    ~RayShape() {
        if (tree != nullptr) rtcReleaseScene(tree);
        rtcReleaseGeometry(geometry);
    }
    RayShape(const RayShape&) = delete;
    RayShape& operator=(const RayShape&) = delete;

    template <class T>
    T* buffer(RTCBufferType kind, RTCFormat format, std::size_t item, std::size_t count) {
        auto* b = static_cast<T*>(rtcSetNewGeometryBuffer(geometry, kind, 0, format, item, count));
        if (b == nullptr) throw std::bad_alloc();
        return b;
    }
    void grow_tree();

    static std::shared_ptr<RayShape> of(const Mesh& mesh, const std::string& name);
    static std::shared_ptr<RayShape> of(const Fibres& fibres, const std::string& name);
    /// With a tree of its own; done once, however often it stands in a scene.
    template <class Body>
    static std::shared_ptr<const RayShape> kept(const std::shared_ptr<const Body>& body, const std::string& name) {
        static DerivedFrom<Body, RayShape> grown;
        return grown.get(body, [&] {
            std::shared_ptr<RayShape> shape = of(*body, name);
            shape->grow_tree();
            return shape;
        });
    }
};

}  // namespace rushlight
