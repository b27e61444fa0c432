#include "scene/stand_in.h"

#include "scene/stand_in_head.h"
#include "scene/stand_in_meshes.h"
#include "scene/stand_in_people.h"
#include "scene/stand_in_skin.h"

#include <algorithm>
#include <cmath>
#include <future>

namespace rushlight {

namespace {

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

}  // namespace

Figure stand_in(const Mark& mark) {
    const StandIn& person = mark.person;
    const Build build = build_of(person);
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

    const bool bald = person.hair < 0;
    auto head_in_work =
        std::async(std::launch::async, [bald] { head_meshes(bald); });  // beside the body, the first time
    const std::shared_ptr<const BodyMeshes> made = body_meshes(shape, head.scale / body.scale);
    head_in_work.get();
    const HeadMeshes& meshes = head_meshes(bald);

    Figure figure;
    figure.nose = head.turned({1, 0, 0});
    const Finish skin = finish_of("skin", "skin", person.skin, 0.028F, 0.4F);
    Mesh face_and_neck = meshes.skin;
    const NeckFit neck = neck_for(head.scale / body.scale);
    for (Vec3& p : face_and_neck.positions) p = neck.fitted(p);
    figure.skin.push_back(head(std::move(face_and_neck), skin));
    figure.skin.push_back(body(made->hands, skin));
    if (!bald) {
        const Finish hair = hair_finish(person);
        figure.hair.push_back(head(meshes.hair, hair));
        figure.hair.push_back(head(meshes.brows, hair));
    }
    const Finish cloth = finish_of("wardrobe", person.wardrobe_hue, person.wardrobe, 0, 0.5F);
    figure.wardrobe.push_back(body(made->clothes, cloth));
    figure.wardrobe.push_back(body(made->collar, cloth));
    const Finish white = finish_of("white of the eye", "cream", 0.45, 0.04F, 0.05F);
    const Finish iris = finish_of("iris", "brown", 0.05, 0.04F, 0.05F);
    for (const bool left : {true, false}) {
        EyeMeshes eye = eye_meshes(left ? measures.eye : Vec3(measures.eye.x, -measures.eye.y, measures.eye.z));
        eye.white.name = left ? "white of the left eye" : "white of the right eye";
        eye.iris.name = left ? "iris of the left eye" : "iris of the right eye";
        figure.eyes.push_back(head(std::move(eye.white), white));
        figure.eyes.push_back(head(std::move(eye.iris), iris));
    }
    const Vec3 cornea = measures.eye + Vec3(5.3F, 0, 0);
    figure.cornea_centre = {head(cornea), head({cornea.x, -cornea.y, cornea.z})};
    figure.cornea_radius = 7.8 * static_cast<double>(head.scale);
    figure.eye_middle = head({measures.eye.x + measures.eye_radius, 0, 0});
    figure.head_centre = head(meshes.centre);
    figure.head_radius = meshes.radius * head.scale;
    hold_meters(figure, mark.name, head);
    return figure;
}

}  // namespace rushlight
