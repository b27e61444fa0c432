#include "scene/ray_scene.h"

#include "quantity/content.h"

#include <embree3/rtcore.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <cmath>
#include <list>
#include <mutex>
#include <stdexcept>

namespace rushlight {

namespace {

// A pane between two rooms, a net before a cloth: no honest rig crosses more than this many.
constexpr int most_veils = 64;

thread_local std::uint64_t rays_traced = 0;

RTCRayHit fresh(const Ray& ray) {
    RTCRayHit r{};
    r.ray.org_x = ray.origin.x;
    r.ray.org_y = ray.origin.y;
    r.ray.org_z = ray.origin.z;
    r.ray.dir_x = ray.direction.x;
    r.ray.dir_y = ray.direction.y;
    r.ray.dir_z = ray.direction.z;
    r.ray.tnear = 0;
    r.ray.tfar = ray.farthest;
    r.ray.mask = 0xFFFFFFFF;
    r.hit.geomID = RTC_INVALID_GEOMETRY_ID;
    r.hit.instID[0] = RTC_INVALID_GEOMETRY_ID;
    return r;
}

/// One for the whole program, so that scenes can share trees.
RTCDevice the_device() {
    // No limit on threads here: the library would put it on the whole program.
    static const RTCDevice device = rtcNewDevice("set_affinity=0");
    if (device == nullptr) throw std::runtime_error("the ray-tracing library did not start");
    return device;
}

RTCScene new_scene() {
    RTCScene scene = rtcNewScene(the_device());
    rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
    rtcSetSceneBuildQuality(scene, RTC_BUILD_QUALITY_MEDIUM);
    return scene;
}

/// One thread builds, so that the trees, and which of two coinciding surfaces is met, never depend on the machine.
void commit(RTCScene scene) {
    tbb::task_arena(1).execute([&] { rtcCommitScene(scene); });
    if (rtcGetDeviceError(the_device()) != RTC_ERROR_NONE)
        throw std::runtime_error("the ray-tracing library could not build the scene");
}

std::uint32_t part_of(const RTCHit& hit) {
    return hit.instID[0] != RTC_INVALID_GEOMETRY_ID ? hit.instID[0] : hit.geomID;
}

}  // namespace

/// Corners as the library holds them, and the tree over them where there are many.
struct RayScene::Shape {
    RTCGeometry geometry = nullptr;
    RTCScene tree = nullptr;  // of this shape alone; null: it goes into the trees of the scene
    const float* corners = nullptr;
    const std::uint32_t* indices = nullptr;

    explicit Shape(RTCGeometryType type) : geometry(rtcNewGeometry(the_device(), type)) {}
    ~Shape() {
        if (tree != nullptr) rtcReleaseScene(tree);
        rtcReleaseGeometry(geometry);
    }
    Shape(const Shape&) = delete;
    Shape& operator=(const Shape&) = delete;

    template <class T>
    T* buffer(RTCBufferType kind, RTCFormat format, std::size_t item, std::size_t count) {
        auto* b = static_cast<T*>(rtcSetNewGeometryBuffer(geometry, kind, 0, format, item, count));
        if (b == nullptr) throw std::bad_alloc();
        return b;
    }
    void grow_tree() {
        tree = new_scene();
        rtcAttachGeometryByID(tree, geometry, 0);
        rushlight::commit(tree);
    }
};

namespace {

// Heads and hair are as large as all the rest together, and stay as they are while things are moved around them.
constexpr std::size_t worth_a_tree = 2000;
constexpr std::size_t most_kept = 48;

/// Shapes with trees of their own that were used last, by their content.
class KeptShapes {
public:
    template <class Shape, class Make>
    std::shared_ptr<Shape> get(const std::string& key, const Make& make) {
        {
            const std::lock_guard lock(mutex_);
            const auto found = std::find_if(kept_.begin(), kept_.end(), [&](const auto& k) { return k.first == key; });
            if (found != kept_.end()) {
                kept_.splice(kept_.begin(), kept_, found);
                return std::static_pointer_cast<Shape>(found->second);
            }
        }
        std::shared_ptr<Shape> shape = make();
        const std::lock_guard lock(mutex_);
        kept_.emplace_front(key, shape);
        if (kept_.size() > most_kept) kept_.pop_back();
        return shape;
    }

private:
    std::mutex mutex_;
    std::list<std::pair<std::string, std::shared_ptr<void>>> kept_;
};

KeptShapes& kept_shapes() {
    the_device();  // outlives them
    static KeptShapes kept;
    return kept;
}

}  // namespace

struct RayScene::Embree {
    RTCScene all = new_scene();    // everything, for first hits
    RTCScene solid = new_scene();  // what lets nothing straight through
    RTCScene veils = new_scene();  // panes, nets and cloths that do
    bool any_veil = false;
    bool any_solid = false;
    std::vector<std::shared_ptr<Shape>> shapes;

    Embree() = default;
    ~Embree() {
        for (RTCScene s : {all, solid, veils}) rtcReleaseScene(s);
    }
    Embree(const Embree&) = delete;
    Embree& operator=(const Embree&) = delete;

    void attach(std::shared_ptr<Shape> shape, bool veil, std::uint32_t part) {
        RTCGeometry geometry = shape->geometry;
        if (shape->tree != nullptr) {  // stands where it was made: an instance that is not moved
            geometry = rtcNewGeometry(the_device(), RTC_GEOMETRY_TYPE_INSTANCE);
            rtcSetGeometryInstancedScene(geometry, shape->tree);
            rtcCommitGeometry(geometry);
        }
        rtcAttachGeometryByID(all, geometry, part);
        rtcAttachGeometryByID(veil ? veils : solid, geometry, part);
        (veil ? any_veil : any_solid) = true;
        if (shape->tree != nullptr) rtcReleaseGeometry(geometry);
        shapes.push_back(std::move(shape));
    }
};

RayScene::RayScene() : embree_(std::make_unique<Embree>()) {}
RayScene::~RayScene() = default;
RayScene::RayScene(RayScene&&) noexcept = default;
RayScene& RayScene::operator=(RayScene&&) noexcept = default;

std::uint32_t RayScene::add_surface(const Surface& surface) {
    surfaces_.push_back(surface);
    return static_cast<std::uint32_t>(surfaces_.size() - 1);
}

std::uint32_t RayScene::add(const Mesh& mesh, Part part) {
    const auto id = static_cast<std::uint32_t>(parts_.size());
    const auto make = [&](bool tree) {
        auto shape = std::make_shared<Shape>(RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* corners =
            shape->buffer<float>(RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.positions.size());
        auto* indices = shape->buffer<std::uint32_t>(RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT3, 3 * sizeof(std::uint32_t),
                                                     mesh.triangles.size());
        shape->corners = corners;
        shape->indices = indices;
        for (const Vec3& p : mesh.positions) {
            if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
                throw std::runtime_error("part \"" + part.name + "\" has a corner that is not a number");
            *corners++ = p.x;
            *corners++ = p.y;
            *corners++ = p.z;
        }
        for (const auto& t : mesh.triangles)
            for (const std::uint32_t c : t) {
                if (c >= mesh.positions.size())
                    throw std::runtime_error("part \"" + part.name + "\" names a corner that does not exist");
                *indices++ = c;
            }
        rtcCommitGeometry(shape->geometry);
        if (tree) shape->grow_tree();
        return shape;
    };
    std::shared_ptr<Shape> shape;
    if (mesh.triangles.size() >= worth_a_tree) {
        Content content;
        content << "mesh" << mesh.positions << mesh.triangles.size();
        for (const auto& t : mesh.triangles) content << t[0] << t[1] << t[2];
        shape = kept_shapes().get<Shape>(content.key(), [&] { return make(true); });
    } else {
        shape = make(false);
    }
    details_.push_back(
        {shape->corners, shape->indices, mesh.normals, mesh.normals.empty() ? Lie::Kind::flat : Lie::Kind::rounded});
    embree_->attach(std::move(shape), surfaces_.at(part.surface).veil(), id);
    parts_.push_back(std::move(part));
    return id;
}

std::uint32_t RayScene::add(const Fibres& fibres, Part part) {
    const auto id = static_cast<std::uint32_t>(parts_.size());
    const std::size_t points = fibres.points.size(), pieces = points - fibres.count();
    const auto make = [&] {
        auto shape = std::make_shared<Shape>(RTC_GEOMETRY_TYPE_FLAT_CATMULL_ROM_CURVE);
        // A curve piece hangs on the points before and behind it too: each end is given one more.
        auto* corners = shape->buffer<float>(RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT4, 4 * sizeof(float),
                                             points + 2 * fibres.count());
        auto* indices =
            shape->buffer<std::uint32_t>(RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT, sizeof(std::uint32_t), pieces);
        shape->corners = corners;
        shape->indices = indices;
        std::uint32_t placed = 0;
        const auto place = [&](const Vec3& p, float radius) {
            if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z) || !(radius > 0))
                throw std::runtime_error("part \"" + part.name + "\" has a fibre point that is not a number");
            for (const float x : {p.x, p.y, p.z, radius}) *corners++ = x;
            ++placed;
        };
        for (std::size_t f = 0; f < fibres.count(); ++f) {
            const std::size_t root = fibres.roots[f], end = fibres.end_of(f);
            if (end < root + 2 || end > points)
                throw std::runtime_error("part \"" + part.name + "\" has a fibre of no length");
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
        if (pieces >= worth_a_tree) shape->grow_tree();
        return shape;
    };
    Content content;
    content << "fibres" << fibres.points << fibres.radii << fibres.roots;
    const auto shape = kept_shapes().get<Shape>(content.key(), make);
    details_.push_back({shape->corners, shape->indices, {}, Lie::Kind::fibre});
    embree_->attach(shape, false, id);
    parts_.push_back(std::move(part));
    return id;
}

std::uint32_t RayScene::add_sphere(const Vec3& centre, float radius, Part part) {
    const auto id = static_cast<std::uint32_t>(parts_.size());
    const auto shape = std::make_shared<Shape>(RTC_GEOMETRY_TYPE_SPHERE_POINT);
    auto* v = shape->buffer<float>(RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT4, 4 * sizeof(float), 1);
    v[0] = centre.x;
    v[1] = centre.y;
    v[2] = centre.z;
    v[3] = radius;
    rtcCommitGeometry(shape->geometry);
    details_.emplace_back();
    embree_->attach(shape, surfaces_.at(part.surface).veil(), id);
    parts_.push_back(std::move(part));
    return id;
}

void RayScene::commit() {
    for (RTCScene s : {embree_->all, embree_->solid, embree_->veils}) rushlight::commit(s);
}

std::uint64_t RayScene::rays_of_this_thread() {
    return rays_traced;
}

std::optional<Hit> RayScene::first_hit(const Ray& ray) const {
    ++rays_traced;
    RTCRayHit r = fresh(ray);
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    rtcIntersect1(embree_->all, &context, &r);
    if (r.hit.geomID == RTC_INVALID_GEOMETRY_ID) return std::nullopt;
    Hit hit;
    hit.distance = r.ray.tfar;
    hit.position = ray.origin + ray.direction * r.ray.tfar;
    hit.normal = Vec3(r.hit.Ng_x, r.hit.Ng_y, r.hit.Ng_z).normalized();
    hit.part = part_of(r.hit);
    hit.primitive = r.hit.primID;
    if (details_[hit.part].kind != Lie::Kind::flat) {
        hit.lie = lie_at(hit, r.hit.u, r.hit.v);
        if (hit.lie.kind == Lie::Kind::fibre)  // the ribbon's face
            hit.normal = (hit.lie.way * hit.lie.way.dot(ray.direction) - ray.direction).normalized();
    }
    return hit;
}

Lie RayScene::lie_at(const Hit& hit, float u, float v) const {
    const Detail& d = details_[hit.part];
    Lie lie;
    lie.kind = d.kind;
    if (d.kind == Lie::Kind::fibre) {
        const float* c = d.corners + 4 * static_cast<std::size_t>(d.indices[hit.primitive]);
        const auto point = [&](int i) { return Vec3(c[4 * i], c[4 * i + 1], c[4 * i + 2]); };
        // The slope of Catmull and Rom's spline, times two.
        const Vec3 p0 = point(0), p1 = point(1), p2 = point(2), p3 = point(3);
        const Vec3 a = p3 - p0 + (p1 - p2) * 3.0F, b = p0 * 2.0F - p1 * 5.0F + p2 * 4.0F - p3, s = p2 - p0;
        const Vec3 slope = s + (b * 2.0F + a * (3.0F * u)) * u;
        lie.way = slope.length2() > 0 ? slope.normalized() : (p2 - p1).normalized();
        lie.radius = c[7] + (c[11] - c[7]) * u;
        return lie;
    }
    // The place on the rounded body (Hanika, "Hacking the shadow terminator", Ray Tracing Gems II, 2021): light that
    // grazes it is not to be stopped by the edges of its triangles.
    const std::uint32_t* corner = d.indices + 3 * static_cast<std::size_t>(hit.primitive);
    const std::array<float, 3> share{1.0F - u - v, u, v};
    Vec3 normal(0);
    for (std::size_t i = 0; i < 3; ++i) {
        const float* c = d.corners + 3 * static_cast<std::size_t>(corner[i]);
        const Vec3& n = d.normals[corner[i]];
        normal += n * share[i];
        lie.bulge -= n * (share[i] * std::min(0.0F, (hit.position - Vec3(c[0], c[1], c[2])).dot(n)));
    }
    lie.way = normal.length2() > 1e-6F ? normal.normalized() : hit.normal;
    return lie;
}

bool RayScene::passes(const Ray& ray, Spectrum& share, int own_lamp, float* walked) const {
    ++rays_traced;
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    if (embree_->any_solid) {
        RTCRay shadow = fresh(ray).ray;
        rtcOccluded1(embree_->solid, &context, &shadow);
        if (shadow.tfar < 0) {
            if (own_lamp < 0) return false;
            RTCRayHit first = fresh(ray);
            rtcIntersect1(embree_->solid, &context, &first);
            if (first.hit.geomID == RTC_INVALID_GEOMETRY_ID || parts_[part_of(first.hit)].emitter != own_lamp)
                return false;
        }
    }
    if (!embree_->any_veil) return true;

    RTCRayHit r = fresh(ray);
    std::uint32_t last_part = RTC_INVALID_GEOMETRY_ID;
    std::uint32_t last_primitive = RTC_INVALID_GEOMETRY_ID;
    float last_distance = -1;
    for (int veil = 0; veil < most_veils; ++veil) {
        rtcIntersect1(embree_->veils, &context, &r);
        if (r.hit.geomID == RTC_INVALID_GEOMETRY_ID) return true;
        const float distance = r.ray.tfar;
        // A seam between two triangles may answer twice: one veil dims once.
        const std::uint32_t part = part_of(r.hit);
        const bool same = part == last_part && r.hit.primID != last_primitive &&
                          distance - last_distance < 1e-5F * std::max(1.0F, distance);
        if (!same) {
            const Vec3 n = Vec3(r.hit.Ng_x, r.hit.Ng_y, r.hit.Ng_z).normalized();
            const Surface& veiled = surfaces_[parts_[part].surface];
            const float cosine = std::abs(n.dot(ray.direction));
            share *= veiled.straight_at(cosine);
            if (walked != nullptr) *walked *= veiled.chance_to_pass(cosine);
            if (share.dark()) return false;
        }
        last_part = part;
        last_primitive = r.hit.primID;
        last_distance = distance;
        const float far = ray.farthest;
        r = fresh(ray);
        r.ray.tnear = std::nextafter(distance + 4e-6F * std::max(1.0F, distance), far);
        r.ray.tfar = far;
        if (r.ray.tnear >= far) return true;
    }
    return false;
}

Vec3 lifted(const Vec3& position, const Vec3& normal, const Vec3& toward, float distance) {
    const float largest = std::max({std::abs(position.x), std::abs(position.y), std::abs(position.z), distance});
    const float step = 32.0F * std::numeric_limits<float>::epsilon() * std::max(largest, 0.01F);
    return position + normal * (normal.dot(toward) < 0 ? -step : step);
}

}  // namespace rushlight
