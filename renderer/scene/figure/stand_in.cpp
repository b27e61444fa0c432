#include "scene/figure/stand_in.h"

#include "quantity/kept.h"
#include "quantity/units.h"
#include "scene/figure/hair.h"
#include "scene/figure/head.h"
#include "scene/figure/jacket.h"
#include "scene/figure/meshes.h"
#include "scene/figure/skin.h"
#include "scene/surface/complexion.h"
#include "setup/plain/face.h"

#include <algorithm>
#include <cmath>
#include <future>

namespace rushlight {

namespace {

Finish finish_of(const std::string& name, const std::string& hue, double reflectance, float gloss, float roughness) {
    Finish f;
    f.name = name;
    f.reflectance = reflectance_of(hue, reflectance).value_or(Spectrum{static_cast<float>(reflectance)});
    f.gloss = gloss;
    f.roughness = roughness;
    return f;
}

/// Hair whose tress sends back what was asked for, from neutral to brown.
Fibre hair_fibre(const StandIn& person) {
    constexpr std::size_t some = 16;  // its tables take longer to fill than all else of a figure that is known
    static LastFew<std::pair<double, double>, Fibre> fibres(some);
    return *fibres.get({person.hair, person.hair_warmth}, [&] {
        const float warmth = static_cast<float>(std::clamp(person.hair_warmth, 0.0, 1.0));
        const Spectrum neutral{static_cast<float>(person.hair)};
        const Spectrum warm = reflectance_of("brown", person.hair).value_or(neutral);
        return Fibre(absorption_for(neutral * (1 - warmth) + warm * warmth));
    });
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

struct SkinPoint {
    Vec3 at, normal;
};
/// On the left cheek, between cheekbone and jaw, where the skin looks 65 degrees away from the nose and most
/// nearly level: the plane that a key from the side lights and one from the front leaves.
SkinPoint cheek() {
    constexpr float wanted = static_cast<float>(radians(Degree{65}));
    SkinPoint best{{0, 0, 0}, {1, 0, 0}};
    float least = 1e9F;
    for (int height = -50; height <= -24; height += 2)
        for (int degree = 25; degree <= 85; ++degree) {
            const Vec3 p = met_from_outside(static_cast<float>(radians(Degree{static_cast<double>(degree)})),
                                            static_cast<float>(height));
            const Vec3 n = way_out(head_skin, p);
            const float miss = std::abs(std::atan2(n.y, n.x) - wanted) + std::abs(n.z);
            if (miss >= least) continue;
            least = miss;
            best = {p, n};
        }
    return best;
}

constexpr float off_skin = 5;  // mm: a meter's disc does not touch

void hold_meters(Figure& figure, const std::string& name, const Placement& skull) {
    static const SkinPoint left = cheek();
    static const Vec3 bridge = met_from_outside(0, -8);
    const float gap = off_skin / (skull.scale * 1000);
    const auto mirrored = [](const Vec3& v) { return Vec3(v.x, -v.y, v.z); };
    figure.left_cheek = {name + " left cheek", skull(left.at + left.normal * gap), skull.turned(left.normal)};
    figure.right_cheek = {name + " right cheek", skull(mirrored(left.at + left.normal * gap)),
                          skull.turned(mirrored(left.normal))};
    figure.front = {name + " front", skull(bridge + Vec3(gap, 0, 0)), figure.nose};
}

/// A mesh of those that are kept together.
template <class Meshes>
PlacedMesh placed(const std::shared_ptr<const Meshes>& kept, const Mesh& one, const Placement& at,
                  const Finish& finish) {
    return {std::shared_ptr<const Mesh>(kept, &one), at, finish};
}

void put_on_clothes(Figure& figure, const StandIn& person, const std::shared_ptr<const BodyMeshes>& made,
                    const Placement& body) {
    const Finish cloth = finish_of("wardrobe", person.wardrobe_hue, person.wardrobe, 0, 0.5F);
    if (!person.shirt) {
        figure.wardrobe = {placed(made, made->clothes, body, cloth), placed(made, made->collar, body, cloth)};
        return;
    }
    const Finish shirt = finish_of("shirt", person.shirt_hue, *person.shirt, 0, 0.5F);
    const auto worn = open_jacket(made);
    figure.wardrobe = {placed(worn, worn->jacket, body, cloth), placed(worn, worn->edge, body, cloth),
                       placed(worn, worn->shirt, body, shirt), placed(made, made->collar, body, shirt)};
}

void put_on_glasses(Figure& figure, const StandIn& person, const Placement& skull) {
    if (person.glasses == Rims::none) return;
    const auto glasses = kept_glasses(person.glasses, person.lenses);
    for (const Mesh* m : {&glasses->rims, &glasses->temples})
        figure.rims.push_back(placed(glasses, *m, skull, m->finish));
    if (person.lenses == Lenses::empty) return;
    for (const Mesh& m : glasses->glass) figure.lens_glass.push_back(placed(glasses, m, skull, m.finish));
    figure.spectacles = glasses->lenses;
    for (SpectacleLens& l : *figure.spectacles)
        l = {skull(l.ball),      l.radius * skull.scale,     skull.turned(l.out),        skull.turned(l.left),
             skull.turned(l.up), l.half_width * skull.scale, l.half_height * skull.scale};
}

void put_in_eyes(Figure& figure, const Placement& skull) {
    // Tears: index 1.34 to 1.376, 2.2 to 2.5 % at normal incidence (ophthalmology texts, from memory), and smooth.
    constexpr float tears = 0.025F, smooth = 0.02F;
    const Finish white = finish_of("white of the eye", "cream", 0.40, tears, smooth);
    const Finish limbus = finish_of("rim of the iris", "brown", 0.025, tears, smooth);
    const Finish iris = finish_of("iris", "brown", 0.04, tears, smooth);
    const Finish pupil = finish_of("pupil", "neutral", 0.004, tears, smooth);
    const auto eyes = both_eyes();
    for (const EyeMeshes& eye : *eyes)
        for (const auto& [mesh, finish] : {std::pair{&eye.white, &white}, std::pair{&eye.limbus, &limbus},
                                           std::pair{&eye.iris, &iris}, std::pair{&eye.pupil, &pupil}})
            figure.eyes.push_back(placed(eyes, *mesh, skull, *finish));
}

}  // namespace

Figure stand_in(const Mark& mark) {
    const StandIn& person = mark.person;
    const Build build = build_of(person);
    const HeadSize& measures = head_size();
    const double facing = radians(Degree{mark.facing});

    const auto c = static_cast<float>(std::cos(facing)), s = static_cast<float>(std::sin(facing));
    // The head stands over the mark.
    const Placement head{{c, s, 0},
                         {-s, c, 0},
                         {0, 0, 1},
                         static_cast<float>(build.head_scale / 1000),
                         mark.at + Vec3(0, 0, static_cast<float>(build.eyes))};
    Placement body = head;
    body.origin = head(measures.neck_base);
    const double over_neck = build.head_scale * static_cast<double>(measures.crown - measures.neck_base.z) / 1000;
    body.scale = static_cast<float>((build.stature - over_neck) / static_cast<double>(neck_over_floor));
    BodyShape shape;
    shape.pose = person.pose;
    shape.floor =
        -static_cast<float>((build.eyes * 1000 + build.head_scale * static_cast<double>(measures.neck_base.z)) /
                            (1000 * static_cast<double>(body.scale)));
    shape.seat = shape.floor + static_cast<float>(build.seat) / body.scale;
    const HeadPose pose{static_cast<float>(radians(Degree{mark.head_turn})),
                        static_cast<float>(radians(Degree{mark.head_tilt}))};
    const Placement skull = head(pose.whole());
    const float head_over_body = head.scale / body.scale;

    const bool bald = person.hair < 0;
    auto head_in_work = std::async(std::launch::async, [&] {  // beside the body, the first time
        if (!bald) grown_hair(person.cut, person.wave);
        return posed_skin(pose, neck_for(head_over_body));
    });
    const std::shared_ptr<const BodyMeshes> made = body_meshes(shape, head_over_body);

    Figure figure;
    figure.nose = skull.x;
    Finish skin = finish_of("skin", "neutral", person.skin, 0.028F, 0.4F);
    skin.reflectance = skin_body(person.skin);
    figure.skin = {{head_in_work.get(), head, skin}, placed(made, made->hands, body, skin)};
    float reach = head_meshes().radius;
    if (!bald) {
        figure.hair_fibre = hair_fibre(person);
        const auto grown = grown_hair(person.cut, person.wave);
        figure.hair = {{std::shared_ptr<const Fibres>(grown, &grown->fibres), skull}, {brows_and_lashes(), skull}};
        reach = std::max(reach, grown->reach);
    }
    put_on_clothes(figure, person, made, body);
    put_on_glasses(figure, person, skull);
    put_in_eyes(figure, skull);
    const Vec3 cornea = measures.eye + Vec3(5.3F, 0, 0);
    figure.cornea_centre = {skull(cornea), skull({cornea.x, -cornea.y, cornea.z})};
    figure.cornea_radius = 7.8 * static_cast<double>(head.scale);
    figure.eye_middle = skull({measures.eye.x + measures.eye_radius, 0, 0});
    figure.head_centre = skull(head_centre);
    figure.head_radius = reach * head.scale;
    hold_meters(figure, mark.name, skull);
    return figure;
}

}  // namespace rushlight
