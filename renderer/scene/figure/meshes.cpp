// How finely each part is meshed. Light is judged on the front of the face; nobody's lens comes near the back of a
// head, a sleeve or a shoe.
#include "scene/figure/meshes.h"

#include "quantity/kept.h"
#include "quantity/units.h"
#include "scene/figure/clay.h"
#include "scene/figure/skin.h"

#include <algorithm>
#include <cmath>
#include <future>
#include <utility>

namespace rushlight {

namespace {

constexpr std::size_t kept = 12;  // bodies, and poses of heads

Mesh rounded(Mesh m, const char* name) {
    m.name = name;
    round_over(m);
    return m;
}

Mesh skin_of_head() {
    // The neck ends inside the shoulders.
    const Distance closed = [](const Vec3& p) { return std::max(head_skin(p), -262 - p.z); };
    ClayGrid grid{grid_axis(-126, {{-34, 3.2F}, {10, 2.4F}, {60, 2.7F}, {88, 1.6F}, {128, 1.8F}}),
                  grid_axis(-106, {{-66, 2.3F}, {-50, 2.5F}, {50, 1.75F}, {66, 2.5F}, {106, 2.3F}}),
                  grid_axis(-270, {{-195, 6.0F},
                                   {-122, 4.4F},
                                   {-82, 2.2F},
                                   {-50, 1.45F},
                                   {-12, 2.2F},
                                   {10, 1.35F},
                                   {36, 2.1F},
                                   {75, 2.6F},
                                   {120, 3.6F}})};
    grid.coarse = [](const Vec3& p) {
        const bool in_collar = p.z < -195;
        const bool scalp = p.z > 60 || (p.x < -45 && p.z > -60);  // even, and shaded as round
        return in_collar || scalp;
    };
    return skin_over(closed, grid);
}

HeadMeshes modelled_head() {
    HeadMeshes m;
    m.skin = skin_of_head();
    for (const Vec3& p : m.skin.positions)
        if (p.z > -124) m.radius = std::max(m.radius, (p - head_centre).length());
    return m;
}

Mesh worn(const Clothes& clothes, const BodyShape& shape) {
    const bool seated = shape.pose == Pose::seated;
    const std::vector<float> x =
        seated ? grid_axis(-190, {{150, 9.8F}, {clothes.toes(), 12}}) : grid_axis(-190, {{230, 9.8F}});
    const float knees = seated ? shape.seat - 40 : -700.0F;
    return rounded(
        skin_over(clothes, {x, grid_axis(-310, {{310, 9.8F}}),
                            grid_axis(shape.floor - 20, {{shape.floor + 100, 9}, {knees, 14}, {100, 9.8F}})}),
        "wardrobe");
}

/// The collar follows this neck, so it is made in the body's millimetres from the head's skin.
Mesh neckband(const Clothes& clothes, float head_over_body) {
    const NeckFit neck = neck_for(head_over_body);
    const auto skin = [&](const Vec3& p) {
        const Vec3 q = p / head_over_body + head_size().neck_base;
        const Vec3 common_head = neck.unfitted(q);
        // Cloth bridges the hollow between the tendons.
        const float bridged = clay::with_ball(bare_head(common_head), common_head, {13, 0, -212}, 11, 16);
        return bridged * neck.share_at(q.z) * head_over_body;
    };
    ClayGrid grid{grid_axis(-130, {{115, 3.2F}}), grid_axis(-120, {{120, 3.2F}}), grid_axis(-90, {{120, 2.8F}})};
    grid.coarse = [&](const Vec3& p) { return skin(p) < -4; };  // inside the neck
    return rounded(skin_over([&](const Vec3& p) { return collar(p, clothes, skin); }, grid), "collar");
}

Mesh both_hands(const BodyShape& shape) {
    const Hands hands(shape);
    const Vec3& wrist = hands.wrist();
    const bool seated = shape.pose == Pose::seated;
    const float x0 = wrist.x - 70, x1 = wrist.x + (seated ? 215.0F : 110.0F);
    const float z0 = wrist.z - (seated ? 110.0F : 215.0F), z1 = wrist.z + 70;
    constexpr float step = 4.6F;
    return rounded(
        skin_over(hands, {grid_axis(x0, {{x1, step}}),
                          grid_axis(-wrist.y - 75, {{-wrist.y + 85, step}, {wrist.y - 85, 20}, {wrist.y + 75, step}}),
                          grid_axis(z0, {{z1, step}})}),
        "hands");
}

BodyMeshes modelled_body(const BodyShape& shape, float head_over_body) {
    const Clothes clothes(shape);
    BodyMeshes m;
    auto worn_part = std::async(std::launch::async, [&] { return worn(clothes, shape); });
    m.collar = neckband(clothes, head_over_body);
    m.hands = both_hands(shape);
    m.clothes = worn_part.get();
    return m;
}

/// Part of a ball round the x axis, from `inner` to `outer` off its pole.
Mesh band_of_ball(const Vec3& centre, float radius, float inner, float outer, int rings) {
    constexpr int spokes = 96;
    Mesh m;
    for (int r = 0; r <= rings; ++r)
        for (int s = 0; s < spokes; ++s) {
            const float off = inner + (outer - inner) * static_cast<float>(r) / static_cast<float>(rings);
            const float turn = static_cast<float>(2 * pi) * static_cast<float>(s) / spokes;
            m.positions.push_back(
                centre + Vec3(std::cos(off), std::sin(off) * std::cos(turn), std::sin(off) * std::sin(turn)) * radius);
        }
    const auto at = [](int r, int s) { return static_cast<std::uint32_t>(r * spokes + s % spokes); };
    for (int s = 0; s < spokes; ++s)
        for (int r = 0; r < rings; ++r) {
            m.triangles.push_back({at(r, s), at(r + 1, s), at(r + 1, s + 1)});
            if (inner > 0 || r > 0) m.triangles.push_back({at(r, s), at(r + 1, s + 1), at(r, s + 1)});
        }
    return m;
}

}  // namespace

const HeadMeshes& head_meshes() {
    static const HeadMeshes meshes = modelled_head();
    return meshes;
}

std::shared_ptr<const Mesh> posed_skin(const HeadPose& pose, const NeckFit& neck) {
    static LastFew<std::pair<HeadPose, NeckFit>, Mesh> skins(kept);
    return skins.get({pose, neck}, [&] {
        Mesh skin = head_meshes().skin;
        for (Vec3& p : skin.positions) p = neck.fitted(pose.posed(p));
        return rounded(std::move(skin), "skin of the head");
    });
}

std::shared_ptr<const BodyMeshes> body_meshes(const BodyShape& shape, float head_over_body) {
    static LastFew<std::pair<BodyShape, float>, BodyMeshes> bodies(kept);
    return bodies.get({shape, head_over_body}, [&] { return modelled_body(shape, head_over_body); });
}

std::shared_ptr<const OpenJacket> open_jacket(const std::shared_ptr<const BodyMeshes>& body) {
    static DerivedFrom<BodyMeshes, OpenJacket> jackets;
    return jackets.get(body, [&] { return std::make_shared<const OpenJacket>(cut_open(body->clothes)); });
}

NeckFit neck_for(float head_over_body) {
    return {1 / std::clamp(head_over_body, 1.0F, 2.0F)};
}

/// A white of 12 mm, a cornea of 7.8 mm over an iris 11.8 mm wide, a pupil of 4 mm (ophthalmology texts, from
/// memory). The lids cover what lies more than a right angle from the pupil.
EyeMeshes eye_meshes(const Vec3& centre) {
    constexpr float cornea = 7.8F, pupil = 0.26F, iris = 0.76F, limbus = 0.90F;
    const Vec3 forward = centre + Vec3(5.3F, 0, 0);
    return {
        rounded(band_of_ball(centre, head_size().eye_radius, 0, static_cast<float>(0.5 * pi), 24), "white of the eye"),
        rounded(band_of_ball(forward, cornea, iris, limbus, 3), "rim of the iris"),
        rounded(band_of_ball(forward, cornea, pupil, iris, 10), "iris"),
        rounded(band_of_ball(forward, cornea, 0, pupil, 6), "pupil")};
}

std::shared_ptr<const std::array<EyeMeshes, 2>> both_eyes() {
    const Vec3& left = head_size().eye;
    static const auto eyes = [&] {
        std::array<EyeMeshes, 2> both{eye_meshes(left), eye_meshes({left.x, -left.y, left.z})};
        for (std::size_t i = 0; i < both.size(); ++i)
            for (Mesh* m : {&both[i].white, &both[i].limbus, &both[i].iris, &both[i].pupil})
                m->name += i == 0 ? " of the left eye" : " of the right eye";
        return std::make_shared<const std::array<EyeMeshes, 2>>(std::move(both));
    }();
    return eyes;
}

}  // namespace rushlight
