#include "scene/stand_in.h"

#include "scene/complexion.h"
#include "scene/stand_in_hair.h"
#include "scene/stand_in_head.h"
#include "scene/stand_in_jacket.h"
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
        for (Vec3& n : m.normals) n = turned(n);
        if (m.normals.empty()) round_over(m);
        m.finish = finish;
        return m;
    }
    Mesh flat(Mesh m, const Finish& finish) const {
        for (Vec3& p : m.positions) p = (*this)(p);
        m.finish = finish;
        return m;
    }
    Fibres operator()(Fibres f) const {
        for (Vec3& p : f.points) p = (*this)(p);
        for (float& r : f.radii) r *= scale;
        return f;
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

/// Hair whose tress sends back what was asked for, from neutral to brown.
Fibre hair_fibre(const StandIn& person) {
    const float warmth = static_cast<float>(std::clamp(person.hair_warmth, 0.0, 1.0));
    const Spectrum neutral{static_cast<float>(person.hair)};
    const Spectrum warm = reflectance_of("brown", person.hair).value_or(neutral);
    return Fibre(absorption_for(neutral * (1 - warmth) + warm * warmth));
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

void hold_meters(Figure& figure, const std::string& name, const Placing& neck, const HeadPose& pose) {
    static const Spot left = cheek();
    static const Vec3 bridge = met_from_outside(0, -8);
    const float gap = off_skin / (neck.scale * 1000);
    const auto place = [&](const Vec3& p) { return neck(pose.posed_whole(p)); };
    const auto direct = [&](const Vec3& v) { return neck.turned(pose.directed(v)); };
    const auto mirrored = [](const Vec3& v) { return Vec3(v.x, -v.y, v.z); };
    figure.left_cheek = {name + " left cheek", place(left.at + left.normal * gap), direct(left.normal)};
    figure.right_cheek = {name + " right cheek", place(mirrored(left.at + left.normal * gap)),
                          direct(mirrored(left.normal))};
    figure.front = {name + " front", place(bridge + Vec3(gap, 0, 0)), figure.nose};
}

void put_on_clothes(Figure& figure, const StandIn& person, const BodyMeshes& made, const Placing& body) {
    const Finish cloth = finish_of("wardrobe", person.wardrobe_hue, person.wardrobe, 0, 0.5F);
    if (!person.shirt) {
        figure.wardrobe.push_back(body(made.clothes, cloth));
        figure.wardrobe.push_back(body(made.collar, cloth));
        return;
    }
    const Finish shirt = finish_of("shirt", person.shirt_hue, *person.shirt, 0, 0.5F);
    const OpenJacket worn = cut_open(made.clothes);
    figure.wardrobe.push_back(body(worn.jacket, cloth));
    figure.wardrobe.push_back(body.flat(worn.edge, cloth));
    figure.wardrobe.push_back(body(worn.shirt, shirt));
    figure.wardrobe.push_back(body(made.collar, shirt));
}

void put_on_glasses(Figure& figure, const StandIn& person, const Placing& head, const HeadPose& pose) {
    if (person.glasses == Rims::none) return;
    GlassesMeshes glasses = glasses_of(person.glasses, person.lenses);
    const auto direct = [&](const Vec3& v) { return head.turned(pose.directed(v)); };
    for (Mesh* m : {&glasses.rims, &glasses.temples}) {
        for (Vec3& p : m->positions) p = pose.posed_whole(p);
        const Finish finish = m->finish;
        figure.rims.push_back(head(std::move(*m), finish));
    }
    if (person.lenses == Lenses::empty) return;
    for (std::size_t i = 0; i < 2; ++i) {
        Mesh& glass = glasses.glass[i];
        for (Vec3& p : glass.positions) p = pose.posed_whole(p);
        const Finish finish = glass.finish;
        figure.lens_glass.push_back(head.flat(std::move(glass), finish));
        SpectacleLens& l = glasses.lenses[i];
        l = {head(pose.posed_whole(l.ball)), l.radius * head.scale,     direct(l.out), direct(l.left), direct(l.up),
             l.half_width * head.scale,      l.half_height * head.scale};
    }
    figure.spectacles = glasses.lenses;
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
    auto head_in_work = std::async(std::launch::async, [&] {  // beside the body, the first time
        if (!bald) grown_hair(person.cut, person.wave);
        head_meshes();
    });
    const std::shared_ptr<const BodyMeshes> made = body_meshes(shape, head.scale / body.scale);
    head_in_work.get();
    const HeadMeshes& meshes = head_meshes();

    Figure figure;
    const HeadPose pose{static_cast<float>(mark.head_turn * pi / 180), static_cast<float>(mark.head_tilt * pi / 180)};
    figure.nose = head.turned(pose.directed({1, 0, 0}));
    Finish skin = finish_of("skin", "neutral", person.skin, 0.028F, 0.4F);
    skin.reflectance = skin_body(person.skin);
    Mesh face_and_neck = meshes.skin;
    const NeckFit neck = neck_for(head.scale / body.scale);
    for (Vec3& p : face_and_neck.positions) p = neck.fitted(pose.posed(p));
    figure.skin.push_back(head(std::move(face_and_neck), skin));
    figure.skin.push_back(body(made->hands, skin));
    if (!bald) {
        figure.hair_fibre = hair_fibre(person);
        for (const Fibres* grown : {&grown_hair(person.cut, person.wave), &brows_and_lashes()}) {
            Fibres f = *grown;
            for (Vec3& p : f.points) p = pose.posed_whole(p);
            figure.hair.push_back(head(std::move(f)));
        }
    }
    put_on_clothes(figure, person, *made, body);
    put_on_glasses(figure, person, head, pose);
    // Tears: index 1.34 to 1.376, 2.2 to 2.5 % at normal incidence (ophthalmology texts, from memory), and smooth.
    constexpr float tears = 0.025F, smooth = 0.02F;
    const Finish white = finish_of("white of the eye", "cream", 0.40, tears, smooth);
    const Finish limbus = finish_of("rim of the iris", "brown", 0.025, tears, smooth);
    const Finish iris = finish_of("iris", "brown", 0.04, tears, smooth);
    const Finish pupil = finish_of("pupil", "neutral", 0.004, tears, smooth);
    for (const bool left : {true, false}) {
        EyeMeshes eye = eye_meshes(left ? measures.eye : Vec3(measures.eye.x, -measures.eye.y, measures.eye.z));
        const std::string which = left ? " of the left eye" : " of the right eye";
        for (const auto& [mesh, finish] : {std::pair{&eye.white, &white}, std::pair{&eye.limbus, &limbus},
                                           std::pair{&eye.iris, &iris}, std::pair{&eye.pupil, &pupil}}) {
            mesh->name = finish->name + which;
            for (Vec3& p : mesh->positions) p = pose.posed_whole(p);
            figure.eyes.push_back(head(std::move(*mesh), *finish));
        }
    }
    const Vec3 cornea = measures.eye + Vec3(5.3F, 0, 0);
    figure.cornea_centre = {head(pose.posed_whole(cornea)), head(pose.posed_whole({cornea.x, -cornea.y, cornea.z}))};
    figure.cornea_radius = 7.8 * static_cast<double>(head.scale);
    figure.eye_middle = head(pose.posed_whole({measures.eye.x + measures.eye_radius, 0, 0}));
    figure.head_centre = head(pose.posed_whole(meshes.centre));
    figure.head_radius = meshes.radius * head.scale;
    for (const Fibres& f : figure.hair)  // down to the jaw, where an outline ends
        for (const Vec3& p : f.points)
            if (p.z > figure.head_centre.z - 0.1F * head.scale * 1000)
                figure.head_radius =
                    std::max(figure.head_radius, static_cast<double>((p - figure.head_centre).length()));
    hold_meters(figure, mark.name, head, pose);
    return figure;
}

}  // namespace rushlight
