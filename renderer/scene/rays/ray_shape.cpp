#include "scene/rays/ray_shape.h"

#include <tbb/task_arena.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace rushlight {

namespace {

thread_local std::ptrdiff_t library_bytes = 0;

bool count_bytes(void*, ssize_t bytes, bool) {
    library_bytes += bytes;
    return true;
}

}  // namespace

std::ptrdiff_t BytesTaken::taken() {
    return library_bytes;
}

std::size_t BytesTaken::so_far() const {
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, taken() - before_));
}

RTCDevice the_device() {
    // No limit on threads here: the library would put it on the whole program.
    static const RTCDevice device = [] {
        RTCDevice made = rtcNewDevice("set_affinity=0");
        if (made != nullptr) rtcSetDeviceMemoryMonitorFunction(made, count_bytes, nullptr);
        return made;
    }();
    if (device == nullptr) throw std::runtime_error("the ray-tracing library did not start");
    return device;
}

RTCScene new_tree() {
    RTCScene tree = rtcNewScene(the_device());
    rtcSetSceneFlags(tree, RTC_SCENE_FLAG_ROBUST);
    rtcSetSceneBuildQuality(tree, RTC_BUILD_QUALITY_MEDIUM);
    return tree;
}

void grow(RTCScene tree) {
    tbb::task_arena(1).execute([&] { rtcCommitScene(tree); });
    if (rtcGetDeviceError(the_device()) != RTC_ERROR_NONE)
        throw std::runtime_error("the ray-tracing library could not build the scene");
}

void RayShape::grow_tree() {
    const BytesTaken taken;
    tree = new_tree();
    rtcAttachGeometryByID(tree, geometry, 0);
    grow(tree);
    bytes += taken.so_far();
}

std::shared_ptr<RayShape> RayShape::of(const Mesh& mesh, const std::string& name) {
    const BytesTaken taken;
    auto shape = std::make_shared<RayShape>(RTC_GEOMETRY_TYPE_TRIANGLE);
    auto* corners =
        shape->buffer<float>(RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.positions.size());
    auto* indices = shape->buffer<std::uint32_t>(RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT3, 3 * sizeof(std::uint32_t),
                                                 mesh.triangles.size());
    shape->corners = corners;
    shape->indices = indices;
    shape->normals = mesh.normals;
    for (const Vec3& p : mesh.positions) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
            throw std::runtime_error("part \"" + name + "\" has a corner that is not a number");
        *corners++ = p.x;
        *corners++ = p.y;
        *corners++ = p.z;
    }
    for (const auto& t : mesh.triangles)
        for (const std::uint32_t c : t) {
            if (c >= mesh.positions.size())
                throw std::runtime_error("part \"" + name + "\" names a corner that does not exist");
            *indices++ = c;
        }
    rtcCommitGeometry(shape->geometry);
    shape->bytes = taken.so_far() + shape->normals.size() * sizeof(Vec3);
    return shape;
}

std::shared_ptr<RayShape> RayShape::of(const Fibres& fibres, const std::string& name) {
    const BytesTaken taken;
    const std::size_t points = fibres.points.size(), pieces = points - fibres.count();
    auto shape = std::make_shared<RayShape>(RTC_GEOMETRY_TYPE_FLAT_CATMULL_ROM_CURVE);
    // A curve piece hangs on the points before and behind it too: each end is given one more.
    auto* corners =
        shape->buffer<float>(RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT4, 4 * sizeof(float), points + 2 * fibres.count());
    auto* indices = shape->buffer<std::uint32_t>(RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT, sizeof(std::uint32_t), pieces);
    shape->corners = corners;
    shape->indices = indices;
    std::uint32_t placed = 0;
    const auto place = [&](const Vec3& p, float radius) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z) || !(radius > 0))
            throw std::runtime_error("part \"" + name + "\" has a fibre point that is not a number");
        for (const float x : {p.x, p.y, p.z, radius}) *corners++ = x;
        ++placed;
    };
    for (std::size_t f = 0; f < fibres.count(); ++f) {
        const std::size_t root = fibres.roots[f], end = fibres.end_of(f);
        if (end < root + 2 || end > points) throw std::runtime_error("part \"" + name + "\" has a fibre of no length");
        const auto& at = fibres.points;
        place(at[root] * 2.0F - at[root + 1], fibres.radii[root]);
        for (std::size_t p = root; p < end; ++p) {
            if (p + 1 < end) *indices++ = placed - 1;
            place(at[p], fibres.radii[p]);
        }
        place(at[end - 1] * 2.0F - at[end - 2], fibres.radii[end - 1]);
    }
    rtcSetGeometryTessellationRate(shape->geometry, 2);
    rtcCommitGeometry(shape->geometry);
    shape->bytes = taken.so_far();
    return shape;
}

}  // namespace rushlight
