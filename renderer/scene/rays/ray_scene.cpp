#include "scene/rays/ray_scene.h"

#include "scene/rays/ray_shape.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace rushlight {

namespace {

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

std::uint32_t part_of(const RTCHit& hit) {
    return hit.instID[0] != RTC_INVALID_GEOMETRY_ID ? hit.instID[0] : hit.geomID;
}

// Heads, hair and models are as large as all the rest together, and stay as they are while things are moved about.
constexpr std::size_t worth_a_tree = 2000;

}  // namespace

struct RayScene::Embree {
    RTCScene all = new_tree();    // everything, for first hits
    RTCScene solid = new_tree();  // what lets nothing straight through
    RTCScene veils = new_tree();  // panes, nets and cloths that do
    bool any_veil = false;
    bool any_solid = false;

    Embree() = default;
    ~Embree() {
        for (RTCScene s : {all, solid, veils}) rtcReleaseScene(s);
    }
    Embree(const Embree&) = delete;
    Embree& operator=(const Embree&) = delete;

    void attach(const RayShape& shape, const Placement& at, bool veil, std::uint32_t part) {
        RTCGeometry geometry = shape.geometry;
        if (shape.tree != nullptr) {
            geometry = rtcNewGeometry(the_device(), RTC_GEOMETRY_TYPE_INSTANCE);
            rtcSetGeometryInstancedScene(geometry, shape.tree);
            std::array<float, 12> columns{};
            auto* c = columns.data();
            for (const Vec3& column : {at.x * at.scale, at.y * at.scale, at.z * at.scale, at.origin})
                for (int i = 0; i < 3; ++i) *c++ = column[i];
            rtcSetGeometryTransform(geometry, 0, RTC_FORMAT_FLOAT3X4_COLUMN_MAJOR, columns.data());
            rtcCommitGeometry(geometry);
        }
        rtcAttachGeometryByID(all, geometry, part);
        rtcAttachGeometryByID(veil ? veils : solid, geometry, part);
        (veil ? any_veil : any_solid) = true;
        if (shape.tree != nullptr) rtcReleaseGeometry(geometry);
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

std::uint32_t RayScene::add(Detail detail, Part part) {
    const auto id = static_cast<std::uint32_t>(parts_.size());
    embree_->attach(*detail.shape, detail.at.value_or(Placement{}), surfaces_.at(part.surface).veil(), id);
    details_.push_back(std::move(detail));
    parts_.push_back(std::move(part));
    return id;
}

namespace {

HitFrame::Kind frame_kind_of(const Mesh& mesh) {
    return mesh.normals.empty() ? HitFrame::Kind::flat : HitFrame::Kind::rounded;
}

}  // namespace

std::uint32_t RayScene::add(const Mesh& mesh, Part part) {
    return add({RayShape::of(mesh, part.name), frame_kind_of(mesh), std::nullopt}, std::move(part));
}

std::uint32_t RayScene::add(const std::shared_ptr<const Mesh>& made, const Placement& at, Part part) {
    if (made->triangles.size() < worth_a_tree) return add(in_place({made, at, {}}), std::move(part));
    return add({RayShape::kept(made, part.name), frame_kind_of(*made), at}, std::move(part));
}

std::uint32_t RayScene::add(const PlacedFibres& fibres, Part part) {
    return add({RayShape::kept(fibres.made, part.name), HitFrame::Kind::fibre, fibres.at}, std::move(part));
}

void RayScene::grow_ahead(const std::shared_ptr<const Mesh>& made) {
    if (made->triangles.size() >= worth_a_tree) RayShape::kept(made, made->name);
}

void RayScene::grow_ahead(const std::shared_ptr<const Fibres>& made) {
    RayShape::kept(made, made->name);
}

std::uint32_t RayScene::add_sphere(const Vec3& centre, float radius, Part part) {
    const auto shape = std::make_shared<RayShape>(RTC_GEOMETRY_TYPE_SPHERE_POINT);
    auto* v = shape->buffer<float>(RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT4, 4 * sizeof(float), 1);
    v[0] = centre.x;
    v[1] = centre.y;
    v[2] = centre.z;
    v[3] = radius;
    rtcCommitGeometry(shape->geometry);
    return add({shape, HitFrame::Kind::flat, std::nullopt}, std::move(part));
}

void RayScene::commit() {
    const BytesTaken taken;
    for (RTCScene s : {embree_->all, embree_->solid, embree_->veils}) grow(s);
    tree_bytes_ = taken.so_far();
}

std::size_t RayScene::own_bytes() const {
    std::size_t sum = tree_bytes_;
    for (const Detail& d : details_)
        if (d.shape->tree == nullptr) sum += d.shape->bytes;
    return sum;
}

void RayScene::add_shared(std::map<const void*, std::size_t>& bytes) const {
    for (const Detail& d : details_)
        if (d.shape->tree != nullptr) bytes[d.shape.get()] = d.shape->bytes;
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
    hit.part = part_of(r.hit);
    hit.normal = normal_of(hit.part, {r.hit.Ng_x, r.hit.Ng_y, r.hit.Ng_z});
    hit.primitive = r.hit.primID;
    if (details_[hit.part].kind != HitFrame::Kind::flat) {
        hit.frame = frame_at(hit, r.hit.u, r.hit.v);
        if (hit.frame.kind == HitFrame::Kind::fibre)  // the ribbon's face
            hit.normal = (hit.frame.way * hit.frame.way.dot(ray.direction) - ray.direction).normalized();
    }
    return hit;
}

/// The library answers in the frame of what was met.
Vec3 RayScene::normal_of(std::uint32_t part, const Vec3& across) const {
    const auto& at = details_[part].at;
    return (at ? at->turned(across) : across).normalized();
}

HitFrame RayScene::frame_at(const Hit& hit, float u, float v) const {
    const Detail& d = details_[hit.part];
    const Placement at = d.at.value_or(Placement{});
    HitFrame frame;
    frame.kind = d.kind;
    if (d.kind == HitFrame::Kind::fibre) {
        const float* c = d.shape->corners + 4 * static_cast<std::size_t>(d.shape->indices[hit.primitive]);
        const auto point = [&](int i) { return Vec3(c[4 * i], c[4 * i + 1], c[4 * i + 2]); };
        // The slope of Catmull and Rom's spline, times two.
        const Vec3 p0 = point(0), p1 = point(1), p2 = point(2), p3 = point(3);
        const Vec3 a = p3 - p0 + (p1 - p2) * 3.0F, b = p0 * 2.0F - p1 * 5.0F + p2 * 4.0F - p3, s = p2 - p0;
        const Vec3 slope = s + (b * 2.0F + a * (3.0F * u)) * u;
        frame.way = at.turned(slope.length2() > 0 ? slope : p2 - p1).normalized();
        frame.radius = (c[7] + (c[11] - c[7]) * u) * at.scale;
        return frame;
    }
    // The place on the rounded body (Hanika, "Hacking the shadow terminator", Ray Tracing Gems II, 2021): light that
    // grazes it is not to be stopped by the edges of its triangles.
    const std::uint32_t* numbers = d.shape->indices + 3 * static_cast<std::size_t>(hit.primitive);
    const std::array<float, 3> share{1.0F - u - v, u, v};
    std::array<Vec3, 3> corner;
    Vec3 met(0), normal(0), bulge(0);
    for (std::size_t i = 0; i < 3; ++i) {
        const float* c = d.shape->corners + 3 * static_cast<std::size_t>(numbers[i]);
        corner[i] = {c[0], c[1], c[2]};
        met += corner[i] * share[i];
    }
    for (std::size_t i = 0; i < 3; ++i) {
        const Vec3& n = d.shape->normals[numbers[i]];
        normal += n * share[i];
        bulge -= n * (share[i] * std::min(0.0F, (met - corner[i]).dot(n)));
    }
    frame.way = normal.length2() > 1e-6F ? at.turned(normal).normalized() : hit.normal;
    frame.bulge = at.turned(bulge) * at.scale;
    return frame;
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
            if (first.hit.geomID == RTC_INVALID_GEOMETRY_ID || parts_[part_of(first.hit)].light != own_lamp)
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
            const Vec3 n = normal_of(part, {r.hit.Ng_x, r.hit.Ng_y, r.hit.Ng_z});
            const Surface& veiled = surfaces_[parts_[part].surface];
            const float cosine = std::abs(n.dot(ray.direction));
            share *= veiled.straight_at(cosine);
            if (walked != nullptr) *walked *= veiled.chances(cosine).pass;
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
