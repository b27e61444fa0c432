// Everything that stands in a place, for the plan and its captions; and the words a page offers.
#pragma once

#include "desk/document/document.h"
#include "pictures/words/json_value.h"

namespace rushlight::desk {

JsonValue plan_json(const Document& document, const std::string& setup, const std::string& option);
JsonValue state_json(const Document& document, bool read_only);
/// Names that a page may offer: gels.
JsonValue words_json();
/// How light becomes colour on a display for this set-up's camera, what gels and levels do to its lamps, and the
/// false-colour scale in display values of 0..255.
JsonValue colour_json(const Setup& setup);

}  // namespace rushlight::desk
