// What a lamp, a board or a lens may be aimed at by name, besides people: the room's surfaces, openings, furniture, and
// whatever else stands in the set-up.
#pragma once

#include "setup/plain/place.h"
#include "setup/read/things.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

class Spots {
public:
    Spots(const FileContext& context, const Place& place, const Things& things)
        : context_(&context), place_(&place), things_(&things) {}

    /// "ceiling", "floor" and "far wall": the point of it straight across from `from`. An opening, a piece of
    /// furniture, a lamp, board, flag, cloth, net or camera: its middle. Nothing where nothing is called so.
    std::optional<Vec3> find(const std::string& name, const Vec3& from) const;
    /// All of them but what stands at `from` itself, for a hint.
    std::vector<std::string> names(const Vec3& from) const;

private:
    const FileContext* context_;
    const Place* place_;
    const Things* things_;
};

}  // namespace rushlight
