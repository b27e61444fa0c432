// The messages to pages about the light: docs/desk.md has the words.
#pragma once

#include "desk/light/live_light.h"
#include "desk/light/picture_light.h"
#include "pictures/words/json_value.h"

namespace rushlight::desk {

/// A number with five figures, null where it is none: what a page needs, and no more bytes than that.
JsonValue short_number(double v);
JsonValue bands_json(const Spectrum& s);
/// To a tenth of a millimetre.
JsonValue metres_json(double v);
JsonValue point_json(const Vec3& v);

JsonValue sheet_json(const OpenPage& open_page);
JsonValue picture_json(const OpenPage& open_page, const PictureLight& light, const PackedPicture& packed);
std::string trouble_json(const std::string& line);
/// "lamp", "sun" or "sky".
const char* kind_of_source(const Setup& setup, const std::string& source);

}  // namespace rushlight::desk
