#include "scene/stand_in.h"

#include "scene/stand_in_body.h"
#include "scene/stand_in_clay.h"
#include "scene/stand_in_head.h"
#include "scene/stand_in_people.h"
#include "scene/stand_in_skin.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <memory>
#include <mutex>

namespace rushlight {

namespace {

// Everybody has the same head, only larger or smaller: it is modelled once, fine where light is judged.
struct HeadMeshes {
    Mesh skin, hair, brows;
    Vec3 centre{0, 0, 12};
    float radius = 0;       // of head without neck
    float radius_hair = 0;  // and with hair

    HeadMeshes() {
        // The neck ends inside the shoulders.
        const Distance closed = [](const Vec3& p) { return std::max(head_skin(p), -262 - p.z); };
        skin = skin_over(
            closed,
            {grid_axis(-126, {{-34, 3.6F}, {10, 2.2F}, {60, 2.5F}, {88, 1.5F}, {128, 1.6F}}),
             grid_axis(-106, {{-66, 2.0F}, {-50, 2.6F}, {-14, 1.5F}, {14, 1.6F}, {50, 1.5F}, {66, 2.6F}, {106, 2.0F}}),
             grid_axis(-270, {{-122, 4.0F}, {-10, 1.7F}, {10, 1.2F}, {36, 1.7F}, {70, 2.3F}, {120, 3.6F}})});
        hair = skin_over(head_hair, {grid_axis(-140, {{130, 2.2F}}), grid_axis(-116, {{116, 2.2F}}),
                                     grid_axis(-140, {{160, 2.2F}})});
        brows = skin_over(eyebrows,
                          {grid_axis(48, {{104, 1.4F}}), grid_axis(-60, {{60, 1.4F}}), grid_axis(5, {{40, 1.2F}})});
        skin.name = "skin of the head";
        hair.name = "hair";
        brows.name = "eyebrows";
        for (const Vec3& p : skin.positions)
            if (p.z > -124) radius = std::max(radius, (p - centre).length());
        radius_hair = radius;
        for (const Vec3& p : hair.positions) radius_hair = std::max(radius_hair, (p - centre).length());
    }
};
const HeadMeshes& head_meshes() {
    static const HeadMeshes meshes;
    return meshes;
}

/// Part of a ball, from its pole along x to `angle` off it.
Mesh dome(const Vec3& centre, float radius, float angle, int rings) {
    constexpr int spokes = 64;
    Mesh m;
    m.positions.push_back(centre + Vec3(radius, 0, 0));
    for (int r = 1; r <= rings; ++r)
        for (int s = 0; s < spokes; ++s) {
            const float off = angle * static_cast<float>(r) / static_cast<float>(rings);
            const float turn = static_cast<float>(2 * pi) * static_cast<float>(s) / spokes;
            m.positions.push_back(
                centre + Vec3(std::cos(off), std::sin(off) * std::cos(turn), std::sin(off) * std::sin(turn)) * radius);
        }
    const auto at = [](int r, int s) { return static_cast<std::uint32_t>(1 + (r - 1) * spokes + s % spokes); };
    for (int s = 0; s < spokes; ++s) {
        m.triangles.push_back({0, at(1, s), at(1, s + 1)});
        for (int r = 1; r < rings; ++r) {
            m.triangles.push_back({at(r, s), at(r + 1, s), at(r + 1, s + 1)});
            m.triangles.push_back({at(r, s), at(r + 1, s + 1), at(r, s + 1)});
        }
    }
    return m;
}

/// An eyeball and, bulging from it, the dark disc behind its cornea: a white of 12 mm, a cornea of 7.8 mm over
/// an iris 11.8 mm wide (ophthalmology texts, from memory).
std::vector<Mesh> eyeball(const Vec3& centre, const char* white_name, const char* iris_name) {
    const float radius = head_measures().eye_radius;
    Mesh white = dome(centre, radius, static_cast<float>(0.8 * pi), 32);
    white.name = white_name;
    Mesh iris = dome(centre + Vec3(5.3F, 0, 0), 7.8F, 0.89F, 10);
    iris.name = iris_name;
    return {white, iris};
}

/// From a part's own millimetres to the place.
struct Placing {
    float scale = 1;  // metres a millimetre
    Vec3 origin{0, 0, 0};
    float cosine = 1, sine = 0;

    Vec3 turned(const Vec3& v) const { return {v.x * cosine - v.y * sine, v.x * sine + v.y * cosine, v.z}; }
    Vec3 operator()(const Vec3& p) const { return origin + turned(p * scale); }
    Mesh operator()(Mesh m, const Finish& finish) const {
        for (Vec3& p : m.positions) p = (*this)(p);
        m.finish = finish;
        return m;
    }
};

Finish finish_of(const std::string& name, const std::string& hue, double reflectance, float gloss, float roughness) {
    Finish f;
    f.name = name;
    f.reflectance = reflectance_of(hue, reflectance).value_or(Spectrum{static_cast<float>(reflectance)});
    f.gloss = gloss;
    f.roughness = roughness;
    return f;
}

/// Where the catalogue of hues has none for skin: melanin takes blue first and red last, blood takes green, so
/// brick tempered with cream comes near (common practice, no source).
Finish skin_finish(const StandIn& person) {
    Finish f = finish_of("skin", "skin", person.skin, 0.028F, 0.4F);
    const auto red = reflectance_of("brick", person.skin), pale = reflectance_of("cream", person.skin);
    if (!reflectance_of("skin", person.skin) && red && pale) f.reflectance = *red * 0.55F + *pale * 0.45F;
    return f;
}

Finish hair_finish(const StandIn& person) {
    Finish f = finish_of("hair", "neutral", person.hair, 0.046F, 0.25F);
    const float warmth = static_cast<float>(std::clamp(person.hair_warmth, 0.0, 1.0));
    const Spectrum warm = reflectance_of("brown", person.hair).value_or(f.reflectance);
    f.reflectance = f.reflectance * (1 - warmth) + warm * warmth;
    return f;
}

/// The clay seen from outside along a level line at `height`, `azimuth` off the nose: where it is met.
Vec3 met_from_outside(float azimuth, float height) {
    const Vec3 out(std::cos(azimuth), std::sin(azimuth), 0), axis(20, 0, height);
    float outside = 130, inside = 10;
    for (float r = 130; r > 10; r -= 1)  // the first crossing from outside, or an ear is walked through
        if (head_skin(axis + out * r) < 0) {
            inside = r;
            outside = r + 1;
            break;
        }
    for (int i = 0; i < 20; ++i) {
        const float r = (outside + inside) / 2;
        (head_skin(axis + out * r) < 0 ? inside : outside) = r;
    }
    return axis + out * inside;
}

struct Spot {
    Vec3 at, normal;
};
/// On the left cheek, between cheekbone and jaw, where the skin looks 65 degrees away from the nose and most
/// nearly level: the plane that a key from the side lights and one from the front leaves.
Spot cheek() {
    constexpr float wanted = static_cast<float>(65 * pi / 180);
    Spot best{{0, 0, 0}, {1, 0, 0}};
    float least = 1e9F;
    for (int height = -50; height <= -24; height += 2)
        for (int degree = 25; degree <= 85; ++degree) {
            const Vec3 p = met_from_outside(static_cast<float>(degree * pi / 180), static_cast<float>(height));
            const Vec3 n = way_out(head_skin, p);
            const float miss = std::abs(std::atan2(n.y, n.x) - wanted) + std::abs(n.z);
            if (miss >= least) continue;
            least = miss;
            best = {p, n};
        }
    return best;
}

constexpr float off_skin = 5;  // mm: a meter's disc does not touch

void hold_meters(Figure& figure, const std::string& name, const Placing& head) {
    static const Spot left = cheek();
    static const Vec3 bridge = met_from_outside(0, -8);
    const float gap = off_skin / (head.scale * 1000);
    const auto mirrored = [](const Vec3& v) { return Vec3(v.x, -v.y, v.z); };
    figure.left_cheek = {name + " left cheek", head(left.at + left.normal * gap), head.turned(left.normal)};
    figure.right_cheek = {name + " right cheek", head(mirrored(left.at + left.normal * gap)),
                          head.turned(mirrored(left.normal))};
    figure.front = {name + " front", head(bridge + Vec3(gap, 0, 0)), figure.nose};
}

Mesh worn(const BodyShape& shape) {
    const Clothes clothes(shape);
    const bool seated = shape.pose == Pose::seated;
    const std::vector<float> x =
        seated ? grid_axis(-190, {{150, 6.5F}, {clothes.toes(), 10}}) : grid_axis(-190, {{230, 6.5F}});
    const float knees = seated ? shape.seat - 40 : -700.0F;
    Mesh m = skin_over(clothes, {x, grid_axis(-310, {{310, 6.5F}}),
                                 grid_axis(shape.floor - 20, {{shape.floor + 100, 8}, {knees, 12}, {100, 6.5F}})});
    m.name = "wardrobe";
    return m;
}

NeckFit neck_for(float head_over_body) {
    return {1 / std::clamp(head_over_body, 1.0F, 2.0F)};
}

/// The collar follows this neck, so it is made in the body's millimetres from the head's skin.
Mesh neckband(const BodyShape& shape, float head_over_body) {
    const NeckFit neck = neck_for(head_over_body);
    const auto skin = [&](const Vec3& p) {
        const Vec3 q = p / head_over_body + head_measures().neck_base;
        const Vec3 common_head = neck.unfitted(q);
        // Cloth bridges the hollow between the tendons.
        const float bridged = clay::joined(head_skin(common_head), clay::ball(common_head, {13, 0, -212}, 11), 16);
        return bridged * neck.share_at(q.z) * head_over_body;
    };
    const Clothes clothes(shape);
    Mesh m = skin_over([&](const Vec3& p) { return collar(p, clothes, skin(p)); },
                       {grid_axis(-130, {{115, 2.6F}}), grid_axis(-120, {{120, 2.6F}}), grid_axis(-90, {{120, 2.6F}})});
    m.name = "collar";
    return m;
}

Mesh both_hands(const BodyShape& shape) {
    const Hands hands(shape);
    const Vec3& wrist = hands.wrist();
    const bool seated = shape.pose == Pose::seated;
    const float x0 = wrist.x - 70, x1 = wrist.x + (seated ? 215.0F : 110.0F);
    const float z0 = wrist.z - (seated ? 110.0F : 215.0F), z1 = wrist.z + 70;
    Mesh m =
        skin_over(hands, {grid_axis(x0, {{x1, 3.4F}}),
                          grid_axis(-wrist.y - 75, {{-wrist.y + 85, 3.4F}, {wrist.y - 85, 20}, {wrist.y + 75, 3.4F}}),
                          grid_axis(z0, {{z1, 3.4F}})});
    m.name = "hands";
    return m;
}

/// Bodies made lately: a set-up is built again and again with the same people in it.
struct BodyMeshes {
    BodyShape shape;
    float head_over_body = 1;
    Mesh clothes, collar, hands;
};
std::shared_ptr<const BodyMeshes> body_meshes(const BodyShape& shape, float head_over_body) {
    static std::mutex guard;
    static std::deque<std::shared_ptr<const BodyMeshes>> lately;
    constexpr std::size_t kept = 12;
    const std::scoped_lock lock(guard);
    for (const auto& b : lately)
        if (b->shape == shape && b->head_over_body == head_over_body) return b;
    auto made = std::make_shared<BodyMeshes>(
        BodyMeshes{shape, head_over_body, worn(shape), neckband(shape, head_over_body), both_hands(shape)});
    lately.push_front(made);
    if (lately.size() > kept) lately.pop_back();
    return made;
}

}  // namespace

Figure stand_in(const Mark& mark) {
    const StandIn& person = mark.person;
    const Build build = build_of(person);
    const HeadMeshes& meshes = head_meshes();
    const HeadMeasures& measures = head_measures();
    const double facing = mark.facing * pi / 180;

    Placing head;
    head.scale = static_cast<float>(build.head_scale / 1000);
    head.origin = mark.at + Vec3(0, 0, static_cast<float>(build.eyes));  // the head stands over the mark
    head.cosine = static_cast<float>(std::cos(facing));
    head.sine = static_cast<float>(std::sin(facing));

    Placing body = head;
    body.origin = head(measures.neck_base);
    const double over_neck = build.head_scale * static_cast<double>(measures.crown - measures.neck_base.z) / 1000;
    body.scale = static_cast<float>((build.stature - over_neck) / static_cast<double>(neck_over_floor));
    BodyShape shape;
    shape.pose = person.pose;
    shape.floor =
        -static_cast<float>((build.eyes * 1000 + build.head_scale * static_cast<double>(measures.neck_base.z)) /
                            (1000 * static_cast<double>(body.scale)));
    shape.seat = shape.floor + static_cast<float>(build.seat) / body.scale;

    const std::shared_ptr<const BodyMeshes> made = body_meshes(shape, head.scale / body.scale);

    Figure figure;
    figure.nose = head.turned({1, 0, 0});
    const Finish skin = skin_finish(person);
    Mesh face_and_neck = meshes.skin;
    const NeckFit neck = neck_for(head.scale / body.scale);
    for (Vec3& p : face_and_neck.positions) p = neck.fitted(p);
    figure.skin.push_back(head(std::move(face_and_neck), skin));
    figure.skin.push_back(body(made->hands, skin));
    if (person.hair >= 0) {
        const Finish hair = hair_finish(person);
        figure.hair.push_back(head(meshes.hair, hair));
        figure.hair.push_back(head(meshes.brows, hair));
    }
    const Finish cloth = finish_of("wardrobe", person.wardrobe_hue, person.wardrobe, 0, 0.5F);
    figure.wardrobe.push_back(body(made->clothes, cloth));
    figure.wardrobe.push_back(body(made->collar, cloth));
    const Finish white = finish_of("white of the eye", "cream", 0.45, 0.04F, 0.05F);
    const Finish iris = finish_of("iris", "brown", 0.05, 0.04F, 0.05F);
    const Vec3 left = measures.eye, right{left.x, -left.y, left.z};
    for (const auto& parts : {eyeball(left, "white of the left eye", "iris of the left eye"),
                              eyeball(right, "white of the right eye", "iris of the right eye")}) {
        figure.eyes.push_back(head(parts[0], white));
        figure.eyes.push_back(head(parts[1], iris));
    }
    figure.eye_middle = head({measures.eye.x + measures.eye_radius, 0, 0});
    figure.head_centre = head(meshes.centre);
    figure.head_radius = (person.hair >= 0 ? meshes.radius_hair : meshes.radius) * head.scale;
    hold_meters(figure, mark.name, head);
    return figure;
}

}  // namespace rushlight
