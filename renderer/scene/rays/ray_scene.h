// The committed ray-tracing scene and its two questions: what does this ray meet first, and what share of
// light gets from here to there.
#pragma once

#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "scene/rays/fibres.h"
#include "scene/rays/mesh.h"
#include "scene/surface/pattern.h"
#include "scene/surface/surface.h"

#include <cstdint>
#include <limits>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace rushlight {

/// Veils that one ray may pass. Two mirrors of glass could pass it to and fro for ever, were it not for the loss at
/// each: what is left after so many is nothing.
inline constexpr int most_veils = 256;

struct Ray {
    Vec3 origin{0, 0, 0};
    Vec3 direction{0, 0, 1};  // unit
    float farthest = std::numeric_limits<float>::infinity();
};

/// The kind of thing a part of the scene is: outlines, maps and remarks ask for it.
enum class PartKind { room, furniture, outside, pane, panel, lamp, skin, hair, wardrobe, eyes, glasses };

struct Part {
    std::string name;
    PartKind kind = PartKind::room;
    std::uint32_t surface = 0;  // with a pattern: of its first tone; the others follow
    int light = -1;  // its number in the scene's lights; -1: does not glow
    int mark = -1;   // whose body; -1: nobody's
    std::shared_ptr<const Pattern> pattern = nullptr;
};

/// The local frame of a hit, where the triangle alone does not tell it: on a rounded body, and on a fibre.
struct HitFrame {
    enum class Kind : std::uint8_t { flat, rounded, fibre };
    Kind kind = Kind::flat;
    float radius = 0;     // of the fibre, m
    Vec3 way{0, 0, 1};    // unit. Rounded: the normal of the body meant. Fibre: along it, to the tip
    Vec3 bulge{0, 0, 0};  // rounded: from the triangle to the body meant, m
};

struct Hit {
    Vec3 position{0, 0, 0};
    Vec3 normal{0, 0, 1};  // unit, geometric, as the triangle was wound
    float distance = 0;
    std::uint32_t part = 0;
    std::uint32_t primitive = 0;
    HitFrame frame;
};

struct RayShape;

class RayScene {
public:
    RayScene();
    ~RayScene();
    RayScene(RayScene&&) noexcept;
    RayScene& operator=(RayScene&&) noexcept;

    std::uint32_t add_surface(const Surface& surface);
    /// Triangles of one part. Parts are numbered in the order they are added.
    std::uint32_t add(const Mesh& mesh, Part part);
    /// Adds a mesh that keeps its shape while it is moved about. The tree of a large one is kept for as long as anybody
    /// holds the mesh, however many scenes and places it stands in.
    std::uint32_t add(const std::shared_ptr<const Mesh>& made, const Placement& at, Part part);
    /// Fibres of one part, likewise; each is met as a ribbon that turns its face to every ray.
    std::uint32_t add(const PlacedFibres& fibres, Part part);
    /// Grows the trees that these will need when they are added: people can be made side by side.
    static void grow_ahead(const std::shared_ptr<const Mesh>& made);
    static void grow_ahead(const std::shared_ptr<const Fibres>& made);
    std::uint32_t add_sphere(const Vec3& centre, float radius, Part part);
    /// Builds the trees; after this the scene answers from any thread and nothing may be added.
    void commit();

    const Part& part(std::uint32_t p) const { return parts_[p]; }
    std::size_t part_count() const { return parts_.size(); }
    const Surface& surface(std::uint32_t s) const { return surfaces_[s]; }
    const Surface& surface_of(const Hit& hit) const {
        const Part& part = parts_[hit.part];
        return surfaces_[part.surface + (part.pattern ? part.pattern->tone_at(hit.position, hit.normal) : 0)];
    }

    std::optional<Hit> first_hit(const Ray& ray) const;
    /// Share of light, per band, that passes straight along the ray: none if anything opaque stands in the
    /// way, else the product of the nets, panes and cloths that it crosses.
    /// Returns false when nothing passes; `share` is multiplied by what passes. A round lamp must not stand in its
    /// own light where the ray only grazes it: `own_lamp` is its number, or -1.
    /// `walked`, if given, is multiplied by the chance that a walk goes the same way: see Surface::chances().
    bool passes(const Ray& ray, Spectrum& share, int own_lamp = -1, float* walked = nullptr) const;

    /// The memory that this scene alone takes, in bytes.
    std::size_t own_bytes() const;
    /// The memory of each body that other scenes may hold too, by the body's fingerprint.
    void add_shared(std::map<const void*, std::size_t>& bytes) const;

    /// Rays that this thread has traced so far, in any scene: a measure of work that no clock can blur.
    static std::uint64_t rays_of_this_thread();

private:
    struct Embree;
    /// The geometry behind the numbers of a part's primitives.
    struct Detail {
        std::shared_ptr<const RayShape> shape;
        HitFrame::Kind kind = HitFrame::Kind::flat;
        std::optional<Placement> at;  // none: made where it stands
    };
    HitFrame frame_at(const Hit& hit, float u, float v) const;
    Vec3 normal_of(std::uint32_t part, const Vec3& across) const;
    std::uint32_t add(Detail detail, Part part);

    std::unique_ptr<Embree> embree_;
    std::size_t tree_bytes_ = 0;
    std::vector<Part> parts_;
    std::vector<Detail> details_;  // by part
    std::vector<Surface> surfaces_;
};

/// A point lifted off the surface it lies on, to the side that `toward` leaves to, by a little more than the
/// rounding of the hit: 32 float steps of the largest coordinate or the distance travelled.
Vec3 lifted(const Vec3& position, const Vec3& normal, const Vec3& toward, float distance);

}  // namespace rushlight
