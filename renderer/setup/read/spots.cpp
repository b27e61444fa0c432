#include "setup/read/spots.h"

#include "setup/plain/whereabouts.h"
#include "setup/text/words.h"

#include <array>

namespace rushlight {

namespace {

constexpr std::array standing{ThingKind::lamp,  ThingKind::board, ThingKind::flag,
                              ThingKind::cloth, ThingKind::net,   ThingKind::camera};

/// The point of that wall that lies straight before `from`.
Vec3 across(const Place& place, Wall wall, Vec3 from) {
    const bool high = wall == Wall::far || wall == Wall::right || wall == Wall::ceiling;
    const int axis = wall == Wall::left || wall == Wall::right ? 0 : wall == Wall::near || wall == Wall::far ? 1 : 2;
    from[axis] = (high ? place.upper : place.lower)[axis];
    return from;
}

constexpr std::array walls{Wall::near, Wall::far, Wall::left, Wall::right, Wall::floor, Wall::ceiling};

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
    for (const Wall wall : walls)
        if (wanted == full_name(wall)) return across(*place_, wall, from);
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
    for (const Wall wall : walls) all.push_back(full_name(wall));
    return all;
}

}  // namespace rushlight
