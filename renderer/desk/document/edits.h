// What a page wants changed, and the text of the file with it.
#pragma once

#include "pictures/words/json_value.h"
#include "setup/edit/edited_text.h"

#include <string>
#include <vector>

namespace rushlight::desk {

struct Edits {
    EditPlace place;
    std::string token;  // edits of one drag share one
    std::vector<ThingEdit> edits;
};
/// From {setup, option, coalesce, edits: [{do, kind, name, key, value, values, where}]}; throws InputError.
Edits edits_from(const JsonValue& body);
/// The text with all of them made, one after the other; `path` is for messages.
/// `wrote`, if given, is told where the last one went: "file", "set-up 2 cook", "option sun out".
std::string edited(const std::string& text, const std::string& path, const Edits& edits, std::string* wrote = nullptr);

}  // namespace rushlight::desk
