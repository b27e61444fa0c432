// Changes to a set-up file as somebody makes them who moves things about: which part of the file says it, and where a
// new value belongs. Text in, text out; whether the whole is sound is for SetupFile to say.
#pragma once

#include "setup/edit/toml_text.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace rushlight {

/// The set-up and option that are looked at.
struct EditPlace {
    std::string setup, option;
};

/// Parts of a file in which a thing and its values stand.
enum class FilePart { file, setup, option };
const char* word_of(FilePart part);  // "file", "set-up", "option"

struct ThingEdit {
    enum class Act { set, add, remove } act = Act::set;
    /// A kind of thing, or "day", "place", "file" (title), "setup", "option" (its notes, its camera).
    std::string kind, name;
    std::string key;                // with dots into tables: "person.pose"
    std::optional<NewValue> value;  // nothing: the key is taken out
    NewValue::Table values;         // of what is added, name left out
    /// Left out: into the option that is looked at; without one, where the value in force stands.
    std::optional<FilePart> part;
};

/// Makes one edit, and says where. Throws InputError where it cannot be made.
FilePart edit_text(TomlText& text, const EditPlace& place, const ThingEdit& edit);

/// A thing as the file shows it to a person: each key as it is written, and where it stands.
struct WrittenThing {
    FilePart part = FilePart::file;  // where the thing itself stands
    struct Value {
        std::string text;
        FilePart part = FilePart::file;
        std::vector<std::string> names;  // where it is a text, or a list of texts: what they say
    };
    std::map<std::string, Value> values;
};
/// Nothing where the file has no such thing in this set-up and option.
std::optional<WrittenThing> written_thing(const TomlText& text, const EditPlace& place, const std::string& kind,
                                          const std::string& name);

}  // namespace rushlight
