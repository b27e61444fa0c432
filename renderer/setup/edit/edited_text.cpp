#include "setup/edit/edited_text.h"

#include "setup/keys/key_table.h"
#include "setup/read/things.h"
#include "setup/text/trade_words.h"
#include "setup/text/typed_values.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

const ThingWord* thing_word(const std::string& kind) {
    const auto* found =
        std::find_if(thing_words.begin(), thing_words.end(), [&](const ThingWord& w) { return kind == w.word; });
    return found == thing_words.end() ? nullptr : found;
}

TomlPath operator+(TomlPath path, TomlStep step) {
    path.push_back(std::move(step));
    return path;
}

bool is_named(const toml::node& node, const std::string& name) {
    const auto* table = node.as_table();
    const auto* text = table ? table->get_as<std::string>("name") : nullptr;
    return text && text->get() == name;
}

/// The key as this table says it: the trade's word for it, where that stands there.
std::string as_said(const TomlText& text, const TomlPath& table, const std::string& key) {
    const toml::node* node = text.at(table);
    const auto* in = node ? node->as_table() : nullptr;
    if (!in || in->contains(key)) return key;
    for (const KeyWord& w : key_words())
        if (w.ours == key && in->contains(w.said)) return std::string(w.said);
    return key;
}

/// What a kind of thing may be called in a file.
std::vector<std::string> words_for(const ThingWord& word) {
    std::vector<std::string> words{word.word};
    for (const KeyWord& w : key_words())
        if (w.ours == word.word) words.emplace_back(w.said);
    return words;
}

/// The table of that name in a list of tables.
std::optional<TomlPath> named_in(const TomlText& text, const TomlPath& list, const std::string& name) {
    const toml::node* node = text.at(list);
    const auto* tables = node ? node->as_array() : nullptr;
    for (std::size_t i = 0; tables && i < tables->size(); ++i)
        if (is_named(*tables->get(i), name)) return list + i;
    return std::nullopt;
}

bool lists(const toml::node* list, const std::string& name) {
    const auto* names = list ? list->as_array() : nullptr;
    return names && std::any_of(names->begin(), names->end(),
                                [&](const toml::node& n) { return n.value<std::string>() == name; });
}

/// [[setup]] and [[option]] that are looked at; options of one name may stand more than once.
struct Overrides {
    std::optional<TomlPath> setup, option;
    std::array<std::pair<FilePart, const std::optional<TomlPath>*>, 2> last_first() const {
        return {{{FilePart::option, &option}, {FilePart::setup, &setup}}};
    }
};

Overrides overrides_of(const TomlText& text, const EditPlace& place) {
    Overrides all;
    all.setup = named_in(text, {"setup"}, place.setup);
    const toml::node* node = text.at({"option"});
    const auto* options = node ? node->as_array() : nullptr;
    for (std::size_t i = 0; options && i < options->size(); ++i) {
        if (!is_named(*options->get(i), place.option)) continue;
        const toml::node* setups = options->get(i)->as_table()->get("setups");
        if (!setups || lists(setups, place.setup)) all.option = TomlPath{"option", i};
    }
    return all;
}

/// Where a thing stands, and the tables that change it.
struct FoundThing {
    FilePart part = FilePart::file;
    TomlPath table;
    std::vector<std::pair<FilePart, TomlPath>> layers;  // last first; the thing's own table is the last
};

TomlPath base_list(const ThingWord& word) {
    const bool in_place = word.kind == ThingKind::opening || word.kind == ThingKind::furniture;
    return in_place ? TomlPath{"place", word.word} : TomlPath{word.word};
}

std::optional<FoundThing> found_thing(const TomlText& text, const EditPlace& place, const ThingWord& word,
                                      const std::string& name) {
    const Overrides over = overrides_of(text, place);
    FoundThing s;
    for (const auto& [part, entry] : over.last_first()) {
        if (!*entry) continue;
        if (lists(text.at(**entry + "remove"), name)) return std::nullopt;
        for (const std::string& said : words_for(word)) {
            const TomlPath change = **entry + "change" + said + name;
            if (const toml::node* node = text.at(change); node && node->is_table()) s.layers.emplace_back(part, change);
        }
        for (const std::string& said : words_for(word))
            if (const auto own = named_in(text, **entry + "add" + said, name)) {
                s.part = part;
                s.table = *own;
                s.layers.emplace_back(part, *own);
                return s;
            }
    }
    for (const std::string& said : words_for(word)) {
        TomlPath list = base_list(word);
        list.back() = said;
        const auto own = named_in(text, list, name);
        if (!own) continue;
        s.table = *own;
        s.layers.emplace_back(FilePart::file, *own);
        return s;
    }
    return std::nullopt;
}

/// "person.pose" as the tables to go through, and the last key.
std::pair<TomlPath, std::string> taken_apart(TomlPath table, const std::string& key) {
    const std::vector<std::string> names = split(key, '.');
    for (std::size_t i = 0; i + 1 < names.size(); ++i) table.emplace_back(names[i]);
    return {table, names.back()};
}

const Key* key_of(const std::string& section_name, const std::string& key) {
    for (const Section& s : key_table())
        if (s.name == section_name || s.name == section_name + " " + key.substr(0, key.find('.')))
            if (const Key* k = find_key(s, key.substr(key.rfind('.') + 1))) return k;
    return nullptr;
}

/// No finer than anybody could put up a stand: lengths to the millimetre, angles to a tenth of a degree.
void round_as_a_person_would(NewValue& value, const Key* key) {
    const bool points = std::holds_alternative<NewValue::List>(value.value);
    if (key && key->unit == "degrees")
        value.round_to(1);
    else if (points || (key && (key->kind == KeyKind::length || key->kind == KeyKind::lengths)))
        value.round_to(3);
}

/// A length that is still what it was stays as it was spelled: "4ft".
void keep_spelling(NewValue& value, const toml::node* old) {
    if (!old) return;
    if (auto* list = std::get_if<NewValue::List>(&value.value)) {
        const auto* items = old->as_array();
        for (std::size_t i = 0; items && i < items->size() && i < list->size(); ++i)
            keep_spelling((*list)[i], items->get(i));
        return;
    }
    const auto* number = std::get_if<double>(&value.value);
    const auto* text = old->as_string();
    if (!number || !text) return;
    constexpr double half_a_millimetre = 0.0005;
    const auto length = length_from(text->get());
    if (length && std::abs(*length - *number) < half_a_millimetre) value = {text->get()};
}

void put(TomlText& text, const TomlPath& table, const std::string& key, std::optional<NewValue> value,
         const std::string& section_name) {
    const auto [in, own] = taken_apart(table, key);
    const std::string last = as_said(text, in, own);
    if (!value) return text.take_out(in, last);
    round_as_a_person_would(*value, key_of(section_name, key));
    keep_spelling(*value, text.at(in + last));
    text.set(in, last, *value);
}

bool has(const TomlText& text, const TomlPath& table, const std::string& key) {
    const auto [in, last] = taken_apart(table, key);
    return text.at(in + as_said(text, in, last)) != nullptr;
}

[[noreturn]] void refuse(const std::string& line) {
    throw InputError(line);
}

/// The entry that a part of the file means; the file's own tables begin at the root.
TomlPath entry_of(const Overrides& over, FilePart part, const EditPlace& place) {
    if (part == FilePart::file) return {};
    const auto& entry = part == FilePart::setup ? over.setup : over.option;
    if (!entry)
        refuse("there is no " + std::string(word_of(part)) + " " +
               in_quotes(part == FilePart::setup ? place.setup : place.option) + " in the file to write this into");
    return *entry;
}

FilePart set_value(TomlText& text, const EditPlace& place, const ThingEdit& e, const ThingWord& word) {
    const auto s = found_thing(text, place, word, e.name);
    if (!s) refuse("there is no " + e.kind + " " + in_quotes(e.name) + " here");
    if (e.key == "name") refuse("the name of " + in_quotes(e.name) + " cannot change here: other parts may go by it");
    const Overrides over = overrides_of(text, place);
    FilePart part = FilePart::file;
    if (e.part) {
        part = std::max(*e.part, s->part);
    } else if (over.option) {
        part = FilePart::option;
    } else {
        part = s->part;
        for (const auto& [of, table] : s->layers)
            if (has(text, table, e.key)) {
                part = of;
                break;
            }
    }
    TomlPath table = s->table;
    if (part != s->part) {
        table = entry_of(over, part, place) + "change" + word.word + e.name;
        for (const auto& [of, layer] : s->layers)
            if (of == part) table = layer;
    }
    put(text, table, e.key, e.value, word.section);
    return part;
}

FilePart set_day(TomlText& text, const EditPlace& place, const ThingEdit& e) {
    const Overrides over = overrides_of(text, place);
    FilePart part = FilePart::file;
    if (e.part) {
        part = *e.part;
    } else if (over.option) {
        part = FilePart::option;
    } else if (over.setup && has(text, *over.setup + "day", e.key)) {
        part = FilePart::setup;
    }
    put(text, entry_of(over, part, place) + "day", e.key, e.value, "[day]");
    return part;
}

/// A value that belongs to no thing in a place.
void expect_entry(const ThingEdit& e) {
    if (e.kind != "setup" && e.kind != "option") refuse("unknown kind of thing " + in_quotes(e.kind));
}

FilePart add_thing(TomlText& text, const EditPlace& place, const ThingEdit& e) {
    if (std::any_of(e.values.begin(), e.values.end(), [](const NewValue::Entry& v) { return v.first == "name"; }))
        refuse("a new thing's name stands beside its values, not among them");
    NewValue::Table values{{"name", {e.name}}};
    values.insert(values.end(), e.values.begin(), e.values.end());
    const ThingWord* word = thing_word(e.kind);
    if (!word) expect_entry(e);
    for (auto& [key, value] : values)
        round_as_a_person_would(value, key_of(word ? word->section : "[[" + e.kind + "]]", key));
    if (!word) {
        text.append({e.kind}, values);
        return FilePart::file;
    }
    const Overrides over = overrides_of(text, place);
    const FilePart part = e.part ? *e.part : over.option ? FilePart::option : FilePart::file;
    text.append(part == FilePart::file ? base_list(*word) : entry_of(over, part, place) + "add" + word->word, values);
    return part;
}

FilePart remove_thing(TomlText& text, const EditPlace& place, const ThingEdit& e) {
    const ThingWord* word = thing_word(e.kind);
    if (!word) {
        expect_entry(e);
        const auto item = named_in(text, {e.kind}, e.name);
        if (!item) refuse("there is no " + e.kind + " " + in_quotes(e.name) + " to remove");
        text.remove(*item);
        return FilePart::file;
    }
    const auto s = found_thing(text, place, *word, e.name);
    if (!s) refuse("there is no " + e.kind + " " + in_quotes(e.name) + " here to remove");
    const Overrides over = overrides_of(text, place);
    const FilePart part = std::max(e.part ? *e.part : over.option ? FilePart::option : s->part, s->part);
    if (part == s->part) {
        text.remove(s->table);
        return part;
    }
    const TomlPath entry = entry_of(over, part, place);
    NewValue::List names;
    if (const toml::node* old = text.at(entry + "remove"); old && old->is_array())
        for (const toml::node& n : *old->as_array()) names.push_back({n.value_or(std::string())});
    names.push_back({e.name});
    text.set(entry, "remove", {names});
    return part;
}

}  // namespace

const char* word_of(FilePart part) {
    static constexpr const char* words[] = {"file", "set-up", "option"};
    return words[static_cast<std::size_t>(part)];
}

FilePart edit_text(TomlText& text, const EditPlace& place, const ThingEdit& e) {
    if (e.act == ThingEdit::Act::add) return add_thing(text, place, e);
    if (e.act == ThingEdit::Act::remove) return remove_thing(text, place, e);
    if (e.key.empty() || e.key.front() == '.' || e.key.back() == '.') refuse("an edit needs a key");
    if (const ThingWord* word = thing_word(e.kind)) return set_value(text, place, e, *word);
    if (e.kind == "day") return set_day(text, place, e);
    if (e.kind == "place") {
        put(text, {"place"}, e.key, e.value, "[place]");
        return FilePart::file;
    }
    if (e.kind == "file") {
        put(text, {}, e.key, e.value, "the file");
        return FilePart::file;
    }
    if (e.kind == "setup" || e.kind == "option") {
        const auto item =
            e.kind == "option" ? overrides_of(text, {place.setup, e.name}).option : named_in(text, {e.kind}, e.name);
        if (!item) refuse("there is no " + e.kind + " " + in_quotes(e.name) + " in the file");
        put(text, *item, e.key, e.value, "[[" + e.kind + "]]");
        return e.kind == "setup" ? FilePart::setup : FilePart::option;
    }
    refuse("unknown kind of thing " + in_quotes(e.kind));
}

std::optional<WrittenThing> written_thing(const TomlText& text, const EditPlace& place, const std::string& kind,
                                          const std::string& name) {
    const ThingWord* word = thing_word(kind);
    const auto s = word ? found_thing(text, place, *word, name) : std::nullopt;
    if (!s) return std::nullopt;
    WrittenThing thing{s->part, {}};
    for (const auto& [part, path] : s->layers)
        for (const auto& [key, value] : *text.at(path)->as_table()) {
            if (value.is_table() && !value.as_table()->is_inline()) continue;
            WrittenThing::Value v{std::string(text.letters_of(value)), part, {}};
            if (const auto* one = value.as_string()) v.names.push_back(one->get());
            if (const auto* list = value.as_array())
                for (const toml::node& item : *list)
                    if (const auto* one = item.as_string()) v.names.push_back(one->get());
            const Key* k = find_key(section(word->section), key.str());
            thing.values.try_emplace(std::string(k ? k->name : key.str()), std::move(v));
        }
    return thing;
}

}  // namespace rushlight
