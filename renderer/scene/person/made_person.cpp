#include "scene/person/made_person.h"

#include "quantity/kept.h"
#include "scene/person/kept_shapes.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>

namespace rushlight {

namespace {

constexpr std::size_t kept = 16;

std::vector<std::pair<std::string, Garment::Of>> garments(Wear wear, bool woman) {
    using Of = Garment::Of;
    const std::pair<std::string, Of> shoes{"shoes", Of::shoes};
    const std::pair<std::string, Of> trousers{woman ? "trousers" : "suit trousers", Of::trousers};
    switch (wear) {
        case Wear::jumper:
            return {{"jumper", Of::wardrobe}, trousers, shoes};
        case Wear::shirt:
            return {{"shirt", Of::wardrobe}, trousers, shoes};
        case Wear::tee:
            return {{"tee", Of::wardrobe}, trousers, shoes};
        case Wear::jacket:
            return {{"jacket", Of::wardrobe}, {"suit trousers", Of::wardrobe}, shoes};
        case Wear::dress:
            return {{"dress", Of::wardrobe}, shoes};
    }
    return {};
}

/// Where a collar or a flap is sewn on, a third sheet begins: it gets corners of its own, so that each sheet has two
/// sides and no more.
Cage cage_of(const Fitted& thing, Points points) {
    Cage c;
    c.points = std::move(points);
    std::set<std::pair<std::uint32_t, std::uint32_t>> sewn;
    std::map<std::uint32_t, std::uint32_t> own;
    const auto taken = [&](const Quad& q) {
        for (std::size_t i = 0; i < 4; ++i)
            if (q.at(i) != q.at((i + 1) % 4) && sewn.count({q.at(i), q.at((i + 1) % 4)}) > 0) return true;
        return false;
    };
    for (std::size_t i = 0; i + 3 < thing.faces.size(); i += 4) {
        Quad q{thing.faces[i], thing.faces[i + 1], thing.faces[i + 2], thing.faces[i + 3]};
        if (taken(q))
            for (std::uint32_t& corner : q) {
                const auto [it, added] = own.emplace(corner, static_cast<std::uint32_t>(c.points.size()));
                if (added) c.points.push_back(Vec3(c.points[corner]));
                corner = it->second;
            }
        for (std::size_t k = 0; k < 4; ++k) sewn.insert({q.at(k), q.at((k + 1) % 4)});
        c.faces.push_back(q);
    }
    c.part.assign(thing.part.begin(), thing.part.end());
    return c;
}

/// Cloth that was cut coarsely is divided once more than cloth that was cut finely.
std::shared_ptr<const Mesh> sewn(Cage cage, const std::string& name) {
    constexpr std::size_t fine_enough = 3000;
    if (cage.faces.size() < fine_enough && name == "wardrobe") cage = subdivided(cage);
    Mesh m = divided_mesh(cage, [](std::size_t) { return true; });
    m.name = name;
    round_over(m);
    return std::make_shared<const Mesh>(std::move(m));
}

/// `seat`: the height of what the person sits on, as far forward as `seat_until`; 0 for somebody who does not sit.
std::vector<Garment> dressed(const PersonKey& key, const Points& body, const Points& rest, float seat = 0,
                             float seat_until = 0) {
    std::vector<Garment> worn;
    for (const auto& [name, of] : garments(key.wear, key.looks.woman > 0.5F)) {
        const Fitted& thing = body_data().fitted.at(name);
        Cage cage = cage_of(thing, fitted_on(thing, body, rest));
        if (seat > 0)  // cloth lies on the seat and does not hang through it
            for (Vec3& p : cage.points)
                if (p.x < seat_until) p.z = std::max(p.z, seat);
        const bool has_shirt = std::find(cage.part.begin(), cage.part.end(), 1) != cage.part.end();
        const std::string called = of == Garment::Of::wardrobe ? "wardrobe" : name;
        worn.push_back(
            {sewn(has_shirt ? part_of(cage, [&](std::size_t f) { return cage.part[f] == 0; }) : cage, called), of});
        if (has_shirt)
            worn.push_back(
                {sewn(part_of(cage, [&](std::size_t f) { return cage.part[f] == 1; }), "shirt"), Garment::Of::shirt});
    }
    return worn;
}

/// An open collar shows skin as far as the second button.
bool in_the_v(const Vec3& at_rest) {
    return at_rest.z > 0.40F && at_rest.x > 0.02F && std::abs(at_rest.y) < 0.075F;
}

std::vector<bool> shown_under(const PersonKey& key) {
    const BodyData& data = body_data();
    const bool bare_legs = key.wear == Wear::dress;  // down to the shoes
    std::vector<bool> hidden(data.base.size(), false);
    for (const auto& [name, of] : garments(key.wear, key.looks.woman > 0.5F))
        for (const std::uint16_t c : data.fitted.at(name).hides) {
            // Suit trousers were drawn for wear under a jacket, and hide what that hides.
            const bool over_the_waist = name == "suit trousers" && data.base[c].z > 0.12F;
            const bool seen = (name == "shirt" && in_the_v(data.base[c])) || over_the_waist ||
                              (bare_legs && data.base[c].z > -0.735F);
            hidden[c] = hidden[c] || !seen || name == "dress";
        }
    std::vector<bool> shown;
    for (const Quad& q : data.skin)
        shown.push_back(std::any_of(q.begin(), q.end(), [&](std::uint32_t c) { return !hidden[c]; }));
    return shown;
}

std::vector<bool> corners_of_ears() {
    std::vector<bool> ears(body_data().base.size(), false);
    for (const char* name : {"l-ear-scale-incr", "r-ear-scale-incr"})
        for (const std::uint16_t c : body_data().targets.find(name)->second.at) ears[c] = true;
    return ears;
}

void add_corners(Surroundings& s, const Mesh& m, const std::vector<bool>* left_out = nullptr) {
    for (std::size_t i = 0; i < m.positions.size(); ++i) {
        if (left_out != nullptr && (*left_out)[i]) continue;
        s.points.push_back(m.positions[i]);
        s.normals.push_back(m.normals[i]);
    }
}

Mesh flat_mesh(const Cage& cage) {
    Mesh m;
    m.positions = cage.points;
    for (const Quad& q : cage.faces) {
        m.triangles.push_back({q[0], q[1], q[2]});
        if (q[2] != q[3]) m.triangles.push_back({q[0], q[2], q[3]});
    }
    round_over(m);
    return m;
}

/// Asked for by the body, the head and what hair grows on.
std::shared_ptr<const SizedBody> sized_for(const PersonKey& key) {
    static LastFew<std::pair<Looks, double>, SizedBody> bodies(kept);
    return bodies.get({key.looks, key.height}, [&] {
        StandIn who;
        who.height = key.height;
        return sized_body(key.looks, build_of(who));
    });
}

/// The head, its neck and what of the shoulders is bare, in the head's frame; `of_ear` gets which corners are the
/// ears'.
Mesh bare_head(const PersonKey& key, const SizedBody& sized, std::vector<bool>& of_ear) {
    const BodyData& data = body_data();
    const std::vector<bool> ears = corners_of_ears(), shown = shown_under(key);
    Cage cage{sized.rest, {}, {}};
    for (Vec3& p : cage.points) p = sized.in_head(p);
    for (std::size_t f = 0; f < data.skin.size(); ++f) {
        const Quad& q = data.skin[f];
        if (!shown[f] || cage.points[q[0]].z < -330) continue;
        cage.faces.push_back(q);
        cage.part.push_back(std::all_of(q.begin(), q.end(), [&](std::uint32_t c) { return ears[c]; }) ? 1 : 0);
    }
    cage = subdivided(part_of(cage, [](std::size_t) { return true; }));
    of_ear.assign(cage.points.size(), false);
    for (std::size_t f = 0; f < cage.faces.size(); ++f)
        for (const std::uint32_t c : cage.faces[f])
            if (cage.part[f] == 1) of_ear[c] = true;
    return flat_mesh(cage);
}

OwnHead head_of(const PersonKey& key) {
    const auto body = sized_for(key);
    const SizedBody& sized = *body;
    OwnHead h;
    h.of = key;
    h.skin = bare_head(key, sized, h.of_ear);
    for (std::size_t side = 0; side < 2; ++side) h.eyes.at(side) = sized.in_head(sized.eyes.at(side));
    h.eye_radius = sized.eye_radius * 1000 / sized.head_scale;
    h.radius = 0;
    for (const Vec3& p : h.skin.positions)
        if (p.z > -121) h.radius = std::max(h.radius, (p - head_centre).length());
    for (const auto& [name, to] : {std::pair{"brows", &h.brows}, std::pair{"lashes", &h.lashes}})
        for (const Vec3& p : fitted_on(body_data().fitted.find(name)->second, sized.rest, sized.rest))
            to->push_back(sized.in_head(p));
    return h;
}

HeadField field_of(const OwnHead& head) {
    const auto body = sized_for(head.of);
    const SizedBody& sized = *body;
    Surroundings bare, all;
    add_corners(bare, head.skin, &head.of_ear);
    add_corners(all, head.skin);
    for (const Garment& g : dressed(head.of, sized.rest, sized.rest)) {
        if (g.of == Garment::Of::shoes || g.of == Garment::Of::trousers) continue;
        Mesh cloth = *g.mesh;
        for (Vec3& p : cloth.positions) p = sized.in_head(p);
        add_corners(all, cloth);
    }
    return {bare, all};
}

PersonKey at_ease(PersonKey key) {
    key.doing = {};
    return key;
}

/// Light is judged on the face: there and on the ears the faces are divided once more.
Mesh seen_skin(const MadePerson& person, const HeadTurn& head) {
    Cage cage{person.body.with_head(head), body_data().skin, {}};
    cage = subdivided(part_of(cage, [&](std::size_t f) { return person.shown[f]; }));
    const Placement skull = person.body.skull(head);
    Mesh m = divided_mesh(cage, [&](std::size_t f) {
        const Vec3 at = skull.within(cage.points[cage.faces[f][0]]);
        return at.z > -118 && at.z < 50 && at.x > 25 && at.length() < 200;
    });
    m.name = "skin";
    round_over(m);
    return m;
}

}  // namespace

PersonKey person_key(const StandIn& person) {
    PersonKey k;
    k.looks = looks_of(person);
    k.height = person.height;
    k.doing = {person.pose, person.hands, static_cast<float>(person.seat), static_cast<float>(person.table),
               static_cast<float>(build_of(person).eyes)};
    if (person.pose != Pose::seated) k.doing.seat = 0;
    k.wear = person.wear;
    return k;
}

Content& operator<<(Content& c, const PersonKey& key) {
    const auto& [looks, height, doing, wear] = key;
    const auto& [woman, age, weight, roots, face, expression] = looks;
    // Of the shapes that come of a key: raised whenever they change, so that none of an older program is taken.
    constexpr std::uint32_t edition = 2;
    c << edition << woman << age << weight << roots[0] << roots[1] << roots[2] << face << expression << height
      << doing.pose << doing.hands << doing.seat << doing.table << doing.eyes << wear;
    return c;
}

MadePerson::MadePerson(const PersonKey& key)
    : of(key),
      body(*sized_for(key), key.doing),
      worn(dressed(key, body.points(), sized_for(key)->rest, key.doing.seat, body.seat_until())),
      shown(shown_under(key)) {}

std::shared_ptr<const MadePerson> made_person(const PersonKey& key) {
    static LastFew<PersonKey, MadePerson> people(kept);
    return people.get(key, [&] { return MadePerson(key); });
}

std::shared_ptr<const Mesh> skin_of(const std::shared_ptr<const MadePerson>& person, const HeadTurn& head) {
    static LastFew<std::pair<std::shared_ptr<const MadePerson>, HeadTurn>, Mesh> skins(kept);
    return skins.get({person, head}, [&] {
        return kept_mesh(Content() << "skin" << person->of << head.turn << head.tilt,
                         [&] { return seen_skin(*person, head); });
    });
}

std::shared_ptr<const OwnHead> own_head(const PersonKey& key) {
    static LastFew<PersonKey, OwnHead> heads(kept);
    return heads.get(at_ease(key), [&] { return head_of(at_ease(key)); });
}

std::shared_ptr<const HeadField> head_field(const PersonKey& key) {
    static LastFew<PersonKey, HeadField> fields(kept);
    return fields.get(at_ease(key), [&] { return field_of(*own_head(key)); });
}

}  // namespace rushlight
