#include "setup/read/spots.h"

#include "setup/plain/whereabouts.h"
#include "setup/text/words.h"

#include <array>

namespace rushlight {

namespace {

constexpr std::array<const char*, 6> surfaces{"near wall", "far wall", "left wall", "right wall", "floor", "ceiling"};
constexpr std::array standing{ThingKind::lamp,  ThingKind::board, ThingKind::flag,
                              ThingKind::cloth, ThingKind::net,   ThingKind::camera};

Vec3 across(const Place& place, std::size_t surface, Vec3 from) {
    switch (surface) {
        case 0:
            from.y = place.lower.y;
            break;
        case 1:
            from.y = place.upper.y;
            break;
        case 2:
            from.x = place.lower.x;
            break;
        case 3:
            from.x = place.upper.x;
            break;
        case 4:
            from.z = place.lower.z;
            break;
        default:
            from.z = place.upper.z;
    }
    return from;
}

/// Of a box; for a model, whose size is not known before it is read, its origin.
Vec3 middle_of(const LayeredTable& furniture) {
    const std::vector<double> at = furniture.lengths("at", 2, 2);
    double z = furniture.length("from_floor");
    if (furniture.has("size")) z += furniture.lengths("size", 3, 3)[2] / 2;
    return {static_cast<float>(at[0]), static_cast<float>(at[1]), static_cast<float>(z)};
}

}  // namespace

std::optional<Vec3> Spots::find(const std::string& name, const Vec3& from) const {
    const std::string wanted = tidy(name);
    for (const ThingKind kind : standing)
        for (const Thing* thing : things_->all(kind))
            if (tidy(thing->name) == wanted) return thing->table(*context_).point_if_array("at");
    for (const Opening& o : place_->room.openings)
        if (tidy(o.name) == wanted) return hole_of(place_->room, o).centre;
    for (const Thing* thing : things_->all(ThingKind::furniture))
        if (tidy(thing->name) == wanted) return middle_of(thing->table(*context_));
    for (std::size_t i = 0; i < surfaces.size(); ++i)
        if (wanted == surfaces[i]) return across(*place_, i, from);
    return std::nullopt;
}

std::vector<std::string> Spots::names(const Vec3& from) const {
    std::vector<std::string> all;
    for (const ThingKind kind : standing)
        for (const Thing* thing : things_->all(kind)) {
            const auto at = thing->table(*context_).point_if_array("at");
            if (!at || (*at - from).length() > 1e-3F) all.push_back(thing->name);
        }
    for (const Opening& o : place_->room.openings) all.push_back(o.name);
    for (const Thing* thing : things_->all(ThingKind::furniture)) all.push_back(thing->name);
    all.insert(all.end(), surfaces.begin(), surfaces.end());
    return all;
}

}  // namespace rushlight
