// Furniture and models in a place, seen from above.
#pragma once

#include "pictures/words/json_value.h"
#include "setup/plain/place.h"

namespace rushlight::desk {

/// Boxes, models and pictures, low ones first. Lines of models lie about their `at`, before they are turned.
JsonValue furniture_json(const Place& place);
/// The lines of a place that is a model itself; null where it is a room.
JsonValue structure_json(const Place& place);

}  // namespace rushlight::desk
