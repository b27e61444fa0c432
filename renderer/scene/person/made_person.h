// Somebody as meshes, made once and kept: the skin that is seen, the eyes' places, clothes, and what hair needs to
// know.
#pragma once

#include "quantity/content.h"
#include "scene/person/head.h"
#include "scene/person/head_field.h"
#include "scene/person/pose.h"
#include "scene/person/subdivide.h"

#include <memory>

namespace rushlight {

/// What decides a body and its clothes.
struct PersonKey {
    Looks looks;
    double height = 1.7;
    Doing doing;
    Wear wear = Wear::jumper;
    bool operator==(const PersonKey&) const = default;
};
PersonKey person_key(const StandIn& person);
Content& operator<<(Content& c, const PersonKey& key);

struct Garment {
    std::shared_ptr<const Mesh> mesh;
    enum class Of { wardrobe, shirt, trousers, shoes } of = Of::wardrobe;
};

struct MadePerson {
    PersonKey of;
    PosedBody body;
    std::vector<Garment> worn;
    std::vector<bool> shown;  // faces of the body's cage that no garment hides

    explicit MadePerson(const PersonKey& key);
};
std::shared_ptr<const MadePerson> made_person(const PersonKey& key);
/// Head, neck, hands and what else is bare, in the body's metres.
std::shared_ptr<const Mesh> skin_of(const std::shared_ptr<const MadePerson>& person, const HeadTurn& head);

/// The head that hair, brows, lashes, glasses and meters are fitted to, in millimetres of a head 230 mm high; the same
/// whatever the body does.
struct OwnHead {
    PersonKey of;
    Mesh skin;                 // with normals
    std::vector<bool> of_ear;  // which of its corners are the ears'
    std::array<Vec3, 2> eyes;
    float eye_radius = 12;
    float radius = 130;               // of a ball round head_centre that holds it, without the neck
    std::vector<Vec3> brows, lashes;  // corners of their sheets
};
std::shared_ptr<const OwnHead> own_head(const PersonKey& key);
/// How far things are from that head; made only where hair is grown or glasses are tried on.
std::shared_ptr<const HeadField> head_field(const PersonKey& key);

}  // namespace rushlight
