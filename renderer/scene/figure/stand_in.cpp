#include "scene/figure/stand_in.h"

#include "quantity/kept.h"
#include "scene/figure/eyes.h"
#include "scene/figure/hair.h"
#include "scene/person/head.h"
#include "scene/rays/ray_scene.h"
#include "scene/surface/complexion.h"

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
    constexpr double brows_of_the_bald = 0.05;
    constexpr std::size_t some = 16;  // its tables take longer to fill than all else of a figure that is known
    static LastFew<std::pair<double, double>, Fibre> fibres(some);
    const double tress = person.hair < 0 ? brows_of_the_bald : person.hair;
    return *fibres.get({tress, person.hair_warmth}, [&] {
        const float warmth = static_cast<float>(std::clamp(person.hair_warmth, 0.0, 1.0));
        const Spectrum neutral{static_cast<float>(tress)};
        const Spectrum warm = reflectance_of("brown", tress).value_or(neutral);
        return Fibre(absorption_for(neutral * (1 - warmth) + warm * warmth));
    });
}

struct Spot {
    Vec3 at, normal;
};
/// On the left cheek, between cheekbone and jaw, where the skin looks 65 degrees away from the nose and most
/// nearly level: the plane that a key from the side lights and one from the front leaves.
Spot cheek(const Mesh& head) {
    constexpr float wanted = static_cast<float>(65 * pi / 180);
    Spot best{{0, 0, 0}, {1, 0, 0}};
    float least = 1e9F;
    for (std::size_t i = 0; i < head.positions.size(); ++i) {
        const Vec3 &p = head.positions[i], &n = head.normals[i];
        if (p.z < -52 || p.z > -22 || p.x < 15 || p.y < 20 || p.y > 72) continue;
        const float miss = std::abs(std::atan2(n.y, n.x) - wanted) + std::abs(n.z) + 0.004F * std::abs(p.z + 37);
        if (miss >= least) continue;
        least = miss;
        best = {p, n};
    }
    return best;
}

/// The bridge of the nose, a little under the eyes.
Vec3 bridge(const Mesh& head) {
    Vec3 best(0);
    float least = 1e9F;
    for (const Vec3& p : head.positions) {
        const float miss = std::abs(p.z + 8) + 2 * std::abs(p.y);
        if (p.x < 70 || miss >= least) continue;
        least = miss;
        best = p;
    }
    return {best.x, 0, best.z};
}

constexpr float off_skin = 5;  // mm: a meter's disc does not touch

void hold_meters(Figure& figure, const std::string& name, const Placement& skull, const OwnHead& head) {
    const Spot left = cheek(head.skin);
    const float gap = off_skin / (skull.scale * 1000);
    const auto mirrored = [](const Vec3& v) { return Vec3(v.x, -v.y, v.z); };
    figure.left_cheek = {name + " left cheek", skull(left.at + left.normal * gap), skull.turned(left.normal)};
    figure.right_cheek = {name + " right cheek", skull(mirrored(left.at + left.normal * gap)),
                          skull.turned(mirrored(left.normal))};
    figure.front = {name + " front", skull(bridge(head.skin) + Vec3(gap, 0, 0)), figure.nose};
}

std::shared_ptr<const Fibres> fibres_of(const std::shared_ptr<const GrownHair>& grown) {
    return {grown, &grown->fibres};
}

/// A mesh of those that are kept together.
template <class Meshes>
PlacedMesh placed(const std::shared_ptr<const Meshes>& kept, const Mesh& one, const Placement& at,
                  const Finish& finish) {
    return {std::shared_ptr<const Mesh>(kept, &one), at, finish};
}

/// Trousers under a jumper or a shirt are darker than it, and grey; shoes are of dark leather.
void put_on_clothes(Figure& figure, const StandIn& person, const MadePerson& made, const Placement& body) {
    const Finish cloth = finish_of("wardrobe", person.wardrobe_hue, person.wardrobe, 0, 0.5F);
    const Finish shirt = finish_of("shirt", person.shirt_hue, person.shirt.value_or(0.6), 0, 0.5F);
    const Finish trousers = finish_of("trousers", "neutral", std::clamp(0.5 * person.wardrobe, 0.03, 0.2), 0, 0.5F);
    const Finish leather = finish_of("shoes", "brown", 0.035, 0.04F, 0.25F);
    for (const Garment& g : made.worn) {
        const Finish& f = g.of == Garment::Of::wardrobe   ? cloth
                          : g.of == Garment::Of::shirt    ? shirt
                          : g.of == Garment::Of::trousers ? trousers
                                                          : leather;
        figure.wardrobe.push_back({g.mesh, body, f});
    }
}

void put_on_glasses(Figure& figure, const StandIn& person, const OwnHead& head, const Placement& skull) {
    if (person.glasses == Rims::none) return;
    const auto glasses = kept_glasses(person.glasses, person.lenses, glasses_fit(head));
    for (const Mesh* m : {&glasses->rims, &glasses->temples})
        figure.rims.push_back(placed(glasses, *m, skull, m->finish));
    if (person.lenses == Lenses::empty) return;
    for (const Mesh& m : glasses->glass) figure.lens_glass.push_back(placed(glasses, m, skull, m.finish));
    figure.spectacles = glasses->lenses;
    for (SpectacleLens& l : *figure.spectacles)
        l = {skull(l.ball),      l.radius * skull.scale,     skull.turned(l.out),        skull.turned(l.left),
             skull.turned(l.up), l.half_width * skull.scale, l.half_height * skull.scale};
}

void put_in_eyes(Figure& figure, const OwnHead& head, const Placement& skull, const std::optional<Vec3>& target) {
    // Tears: index 1.34 to 1.376, 2.2 to 2.5 % at normal incidence (ophthalmology texts, from memory), and smooth. The
    // white is no paper: blood vessels and the shade of lids take it to a third (common practice, no source).
    constexpr float tears = 0.025F, smooth = 0.02F;
    const auto eye = eye_meshes();
    const std::array<std::pair<const Mesh*, Finish>, 5> parts{
        {{&eye->white, finish_of("white of the eye", "cream", 0.30, tears, smooth)},
         {&eye->limbus, finish_of("rim of the iris", "brown", 0.022, tears, smooth)},
         {&eye->iris, finish_of("iris", "brown", 0.035, tears, smooth)},
         {&eye->fibres, finish_of("threads of the iris", "brown", 0.075, tears, smooth)},
         {&eye->pupil, finish_of("pupil", "neutral", 0.004, tears, smooth)}}};
    std::optional<Vec3> seen;
    if (target) seen = skull.within(*target);
    for (std::size_t side = 0; side < 2; ++side) {
        const Vec3 look = look_from(head.eyes.at(side), seen);
        const Vec3 left = Vec3(0, 0, 1).cross(look).normalized();
        const Vec3 front = look * (head.eye_radius + cornea_stands_out - cornea_radius);
        const Placement ball = skull(Placement{look, left, look.cross(left), head.eye_radius, head.eyes.at(side)});
        const Placement cornea = skull(Placement{look, left, look.cross(left), 1, head.eyes.at(side) + front});
        for (const auto& [mesh, finish] : parts)
            figure.eyes.push_back(placed(eye, *mesh, mesh == &eye->white ? ball : cornea, finish));
        figure.cornea_centre.at(side) = cornea.origin;
        figure.gaze.at(side) = cornea.x;
    }
    figure.cornea_radius = static_cast<double>(cornea_radius * skull.scale);
    figure.eye_middle = skull((head.eyes[0] + head.eyes[1]) * 0.5F + Vec3(head.eye_radius, 0, 0));
}

}  // namespace

Figure stand_in(const Mark& mark) {
    const StandIn& person = mark.person;
    const double facing = radians(Degree{mark.facing});
    const auto c = static_cast<float>(std::cos(facing)), s = static_cast<float>(std::sin(facing));
    const Placement place{{c, s, 0}, {-s, c, 0}, {0, 0, 1}, 1, mark.at};
    const HeadTurn turn{static_cast<float>(radians(Degree{mark.head_turn})),
                        static_cast<float>(radians(Degree{mark.head_tilt}))};
    const PersonKey key = person_key(person);
    const bool bald = person.hair < 0;

    auto head_in_work = std::async(std::launch::async, [&] {  // beside the body, the first time
        auto head = own_head(key);
        if (!bald) RayScene::grow_ahead(fibres_of(grown_hair(person.cut, person.wave, head)));
        return head;
    });
    const std::shared_ptr<const MadePerson> made = made_person(key);
    const Placement skull = place(made->body.skull(turn));

    Figure figure;
    figure.nose = skull.x;
    Finish skin = finish_of("skin", "neutral", person.skin, 0.028F, 0.4F);
    skin.reflectance = skin_body(person.skin);
    figure.skin = {{skin_of(made, turn), place, skin}};
    const auto head = head_in_work.get();
    float reach = head->radius;
    figure.hair_fibre = hair_fibre(person);
    if (!bald) {
        const auto grown = grown_hair(person.cut, person.wave, head);
        figure.hair.push_back({fibres_of(grown), skull});
        reach = std::max(reach, grown->reach);
    }
    figure.hair.push_back({brows_and_lashes(head), skull});
    put_on_clothes(figure, person, *made, place);
    put_on_glasses(figure, person, *head, skull);
    put_in_eyes(figure, *head, skull, mark.gaze);
    figure.head_centre = skull(head_centre);
    figure.head_radius = static_cast<double>(reach * skull.scale);
    hold_meters(figure, mark.name, skull, *head);
    for (const std::vector<PlacedMesh>* meshes : {&figure.skin, &figure.wardrobe, &figure.eyes, &figure.rims})
        for (const PlacedMesh& m : *meshes) RayScene::grow_ahead(m.made);
    return figure;
}

}  // namespace rushlight
