#include "desk/document/edits.h"

#include "setup/text/where.h"
#include "setup/text/words.h"

namespace rushlight::desk {

namespace {

constexpr std::size_t most_edits = 1000;
constexpr int deepest = 6;

NewValue value_from(const JsonValue& j, int depth = 0) {
    if (depth > deepest) throw InputError("a value is nested too deep");
    if (j.is_boolean()) return {j.get<bool>()};
    if (j.is_number()) return {j.get<double>()};
    if (j.is_string()) return {j.get<std::string>()};
    if (j.is_array()) {
        NewValue::List list;
        for (const JsonValue& item : j) list.push_back(value_from(item, depth + 1));
        return {list};
    }
    if (j.is_object()) {
        NewValue::Table table;
        for (const auto& [key, value] : j.items()) table.push_back({key, value_from(value, depth + 1)});
        return {table};
    }
    throw InputError("a value is missing");
}

std::string text_of(const JsonValue& j, const char* name) {
    const auto found = j.find(name);
    return found != j.end() && found->is_string() ? found->get<std::string>() : "";
}

ThingEdit edit_from(const JsonValue& j) {
    if (!j.is_object()) throw InputError("an edit is no JSON object");
    ThingEdit e;
    const std::string act = text_of(j, "do");
    if (act == "add")
        e.act = ThingEdit::Act::add;
    else if (act == "remove")
        e.act = ThingEdit::Act::remove;
    else if (!act.empty() && act != "set")
        throw InputError("unknown act " + in_quotes(act) + hint(act, {"set", "add", "remove"}));
    e.kind = text_of(j, "kind");
    e.name = text_of(j, "name");
    e.key = text_of(j, "key");
    if (const auto v = j.find("value"); v != j.end() && !v->is_null()) e.value = value_from(*v);
    if (const auto v = j.find("values"); v != j.end() && v->is_object())
        for (const auto& [key, value] : v->items()) e.values.push_back({key, value_from(value)});
    const std::string part = text_of(j, "where");
    for (const FilePart p : {FilePart::file, FilePart::setup, FilePart::option})
        if (part == word_of(p)) e.part = p;
    return e;
}

}  // namespace

Edits edits_from(const JsonValue& body) {
    Edits all;
    all.place = {text_of(body, "setup"), text_of(body, "option")};
    all.token = text_of(body, "coalesce");
    const auto list = body.find("edits");
    if (list == body.end() || !list->is_array() || list->empty()) throw InputError("expected a list of edits");
    if (list->size() > most_edits)
        throw InputError(std::to_string(list->size()) + " edits at once; expected no more than " +
                         std::to_string(most_edits));
    for (const JsonValue& e : *list) all.edits.push_back(edit_from(e));
    return all;
}

std::string edited(const std::string& text, const std::string& path, const Edits& edits, std::string* wrote) {
    TomlText changed(text, path);
    for (const ThingEdit& e : edits.edits) {
        const FilePart part = edit_text(changed, edits.place, e);
        if (!wrote) continue;
        *wrote = word_of(part);
        if (part == FilePart::setup) *wrote += " " + edits.place.setup;
        if (part == FilePart::option) *wrote += " " + edits.place.option;
    }
    return changed.text();
}

}  // namespace rushlight::desk
