#include "setup/keys/layered_table.h"

#include "setup/text/code_points.h"
#include "setup/text/trade_words.h"
#include "setup/text/typed_number.h"
#include "setup/text/typed_values.h"
#include "setup/text/whole_file.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

namespace rushlight {

namespace {

constexpr std::size_t most_remarks = 200;

/// A word may come from a kit file, which then is the one to name.
Where where_from(const std::string& path, const toml::source_region& r) {
    const bool named = r.path && !r.path->empty();
    return {named ? *r.path : path, static_cast<int>(r.begin.line), static_cast<int>(r.begin.column)};
}

std::string unit_of(const Key& k) {
    if (k.kind == KeyKind::number) {
        if (k.unit == "share" || k.unit == "density" || k.unit == "T" || k.unit.empty()) return "";
        return " " + std::string(k.unit);
    }
    return k.kind == KeyKind::length || k.kind == KeyKind::lengths ? " m" : "";
}

}  // namespace

Where FileContext::where(const toml::node& node) const {
    return where_from(path, node.source());
}
Where FileContext::where(const toml::key& key) const {
    return where_from(path, key.source());
}

void FileContext::remark(const Where& where, const std::string& sentence) const {
    if (!remarks || remarks->size() > most_remarks) return;
    if (remarks->size() == most_remarks) {
        remarks->push_back(path + ": further remarks are left out");
        return;
    }
    const std::string full = InputError::written(where) + sentence;
    if (std::find(remarks->begin(), remarks->end(), full) == remarks->end()) remarks->push_back(full);
}

std::string found_value(const toml::node& node) {
    if (const auto* s = node.as_string()) return "the text " + in_quotes(s->get());
    if (const auto* i = node.as_integer()) return "the number " + std::to_string(i->get());
    if (const auto* f = node.as_floating_point()) return "the number " + plain(f->get());
    if (const auto* b = node.as_boolean()) return b->get() ? "true" : "false";
    if (node.is_array()) return "a list";
    if (node.is_table()) return "a table";
    return node.is_time() ? "a time" : "a date";
}

LayeredTable::LayeredTable(const FileContext& context, std::string_view section_name, std::string title,
                           std::vector<const toml::table*> layers)
    : context_(&context), section_(&section(section_name)), title_(std::move(title)), layers_(std::move(layers)) {
    for (const toml::table* layer : layers_)
        for (const auto& [name, node] : *layer) {
            if (const Key* k = find_key(*section_, name.str())) {
                if (k->name == name.str() || !layer->contains(k->name)) continue;
                throw InputError(context.where(name), title_ + ": " + std::string(name.str()) +
                                                          " is another word for " + std::string(k->name) +
                                                          ", which is given too; expected one of the two");
            }
            const std::string_view here = what_it_is_here(name.str());
            throw InputError(context.where(name),
                             "unknown key " + in_quotes(name.str()) + " in " + title_ +
                                 (here.empty() ? hint(name.str(), key_names(*section_)) : "; " + std::string(here)));
        }
}

const toml::node* LayeredTable::find(std::string_view name) const {
    const auto found_in = [&](const toml::table& layer) -> const toml::node* {
        if (const toml::node* node = layer.get(name)) return node;
        for (const KeyWord& w : key_words()) {
            if (w.ours != name) continue;
            const toml::node* node = layer.get(w.said);
            // A section may have a key of its own by that word.
            if (node && find_key(*section_, w.said)->name == name) return node;
        }
        return nullptr;
    };
    for (auto layer = layers_.rbegin(); layer != layers_.rend(); ++layer)
        if (const toml::node* node = found_in(**layer)) return node;
    return shared_ != nullptr ? found_in(*shared_) : nullptr;
}

Where LayeredTable::where(std::string_view name) const {
    const toml::node* node = find(name);
    return node ? context_->where(*node) : where();
}

Where LayeredTable::where() const {
    return layers_.empty() ? Where{context_->path} : context_->where(*layers_.front());
}

const Key& LayeredTable::key(std::string_view name) const {
    const Key* k = find_key(*section_, name);
    if (!k) throw std::logic_error("no key " + std::string(name) + " in " + std::string(section_->name));
    return *k;
}

void LayeredTable::refuse(std::string_view name, const std::string& what) const {
    throw InputError(where(name), title_ + ": " + std::string(name) + " " + what);
}

void LayeredTable::refuse_kind(std::string_view name, const toml::node& node, const std::string& expected) const {
    throw InputError(context_->where(node),
                     title_ + ": " + std::string(name) + " is " + found_value(node) + "; expected " + expected);
}

const toml::node& LayeredTable::needed(std::string_view name) const {
    const toml::node* node = find(name);
    if (!node) throw InputError(where(), title_ + " needs " + in_quotes(name));
    return *node;
}

std::string LayeredTable::text(std::string_view name) const {
    const Key& k = key(name);
    if (!k.standard.empty() && !has(name)) return k.standard == "-" ? "" : std::string(k.standard);
    const toml::node& node = needed(name);
    const auto* s = node.as_string();
    if (!s) refuse_kind(name, node, "text in quotes");
    // Notes may have several lines; what a terminal obeys is no text anywhere.
    const std::string hidden = hidden_letter(s->get(), "\n\t\r");
    if (!hidden.empty()) refuse(name, "is " + in_quotes(s->get()) + " with the hidden character " + hidden);
    return s->get();
}

std::string LayeredTable::file(std::string_view name) const {
    namespace fs = std::filesystem;
    const std::string found = text(name);
    const fs::path named_in = where(name).file;
    const std::string path = (named_in.parent_path() / found).string();
    const std::string trouble = trouble_with_file(path);
    if (trouble == no_such_file)
        refuse(name, "is " + in_quotes(found) + "; " + trouble + " beside " + named_in.filename().string());
    if (!trouble.empty()) refuse(name, "is " + in_quotes(found) + "; " + trouble + "; expected a file");
    return path;
}

std::string LayeredTable::word(std::string_view name) const {
    const std::vector<std::string> valid = split(key(name).words, '|');
    const std::string found = text(name);
    const std::string w = tidy(found);
    const auto is_valid = [&](const std::string& word) {
        return std::find(valid.begin(), valid.end(), word) != valid.end();
    };
    if (is_valid(w)) return w;
    for (std::size_t i = 0; const auto other = meaning(w, i); ++i)
        if (is_valid(*other)) return *other;
    throw InputError(where(name),
                     title_ + ": unknown " + std::string(name) + " " + in_quotes(found) + hint(found, valid));
}

bool LayeredTable::yes(std::string_view name) const {
    const Key& k = key(name);
    if (!k.standard.empty() && !has(name)) return k.standard == "true";
    const toml::node& node = needed(name);
    const auto* b = node.as_boolean();
    if (!b) refuse_kind(name, node, "true or false");
    return b->get();
}

void LayeredTable::check_range(const Key& k, const toml::node& node, double value) const {
    const std::string range = "between " + plain(k.low) + " and " + plain(k.high) + unit_of(k);
    if (!std::isfinite(value))
        throw InputError(context_->where(node),
                         title_ + ": " + std::string(k.name) + " is no finite number; expected one " + range);
    if (value < k.low || value > k.high)
        throw InputError(context_->where(node), title_ + ": " + std::string(k.name) + " is " + plain(value) +
                                                    unit_of(k) + "; expected " + range);
}

double LayeredTable::number_in(const toml::node& node, std::string_view name) const {
    const Key& k = key(name);
    if (const auto* text = node.as_string()) {
        const auto typed = k.kind == KeyKind::number ? typed_number(text->get(), k.name, k.unit) : std::nullopt;
        if (!typed) refuse_kind(name, node, number_forms(k.name, k.unit));
        check_range(k, node, *typed);
        return *typed;
    }
    // The library gives no double for a whole number that one cannot hold exactly.
    const auto* whole = node.as_integer();
    const auto value = whole ? std::optional(static_cast<double>(whole->get())) : node.value<double>();
    if (!node.is_number() || !value) refuse_kind(name, node, "a number");
    check_range(k, node, *value);
    return *value;
}

double LayeredTable::length_in(const toml::node& node, std::string_view name) const {
    if (const auto* s = node.as_string()) {
        const auto metres = length_from(s->get());
        if (!metres) refuse_kind(name, node, "a length such as 0.9, \"90 cm\" or \"6ft 2in\"");
        check_range(key(name), node, *metres);
        return *metres;
    }
    if (!node.is_number()) refuse_kind(name, node, "a length such as 0.9, \"90 cm\" or \"6ft 2in\"");
    return number_in(node, name);
}

std::vector<double> LayeredTable::standard_numbers(const Key& k) const {
    std::vector<double> numbers;
    std::string text(k.standard);
    for (char& c : text)
        if (c == '[' || c == ']') c = ' ';
    for (const std::string& part : split(text, ',')) numbers.push_back(std::strtod(part.c_str(), nullptr));
    return numbers;
}

double LayeredTable::number(std::string_view name) const {
    const Key& k = key(name);
    if (!k.standard.empty() && !has(name)) return standard_numbers(k).at(0);
    return number_in(needed(name), name);
}

std::optional<double> LayeredTable::number_if_given(std::string_view name) const {
    const toml::node* node = find(name);
    return node ? std::optional(number_in(*node, name)) : std::nullopt;
}

double LayeredTable::length(std::string_view name) const {
    const Key& k = key(name);
    if (!k.standard.empty() && !has(name)) return standard_numbers(k).at(0);
    return length_in(needed(name), name);
}

std::vector<double> LayeredTable::lengths(std::string_view name, std::size_t least, std::size_t most) const {
    const Key& k = key(name);
    if (!k.standard.empty() && !has(name)) return standard_numbers(k);
    const toml::node& node = needed(name);
    const auto* list = node.as_array();
    if (!list) {
        if (least > 1) refuse_kind(name, node, std::string(k.unit));
        return {length_in(node, name)};
    }
    if (list->size() < least || list->size() > most)
        throw InputError(context_->where(node), title_ + ": " + std::string(name) + " has " +
                                                    std::to_string(list->size()) + " numbers; expected " +
                                                    std::string(k.unit));
    std::vector<double> values;
    for (const toml::node& item : *list) values.push_back(length_in(item, name));
    return values;
}

std::optional<Vec3> LayeredTable::point_if_array(std::string_view name) const {
    const toml::node* node = find(name);
    if (!node || !node->is_array()) return std::nullopt;
    const std::vector<double> v = lengths(name, 3, 3);
    return Vec3(static_cast<float>(v[0]), static_cast<float>(v[1]), static_cast<float>(v[2]));
}

std::vector<std::string> LayeredTable::names(std::string_view name) const {
    std::vector<std::string> all;
    const toml::node* node = find(name);
    if (!node) return all;
    const auto* list = node->as_array();
    if (!list) refuse_kind(name, *node, "a list of names such as [\"a\", \"b\"]");
    for (const toml::node& item : *list) {
        const auto* s = item.as_string();
        if (!s) refuse_kind(name, item, "a name in quotes");
        all.push_back(s->get());
    }
    return all;
}

std::optional<LayeredTable> LayeredTable::table(std::string_view name, std::string_view section_name) const {
    std::vector<const toml::table*> layers;
    for (const toml::table* layer : layers_)
        if (const toml::node* node = layer->get(name)) {
            if (!node->is_table()) refuse_kind(name, *node, "a table such as " + std::string(name) + " = { ... }");
            layers.push_back(node->as_table());
        }
    if (layers.empty()) return std::nullopt;
    return LayeredTable(*context_, section_name, title_ + " " + std::string(name), std::move(layers));
}

std::map<std::string, const toml::node*> LayeredTable::free_table(std::string_view name) const {
    std::map<std::string, const toml::node*> all;
    for (const toml::table* layer : layers_) {
        const toml::node* node = layer->get(name);
        if (!node) continue;
        if (!node->is_table()) refuse_kind(name, *node, "a table such as { \"Plaster\" = 0.6 }");
        for (const auto& [key_of, value] : *node->as_table()) all[std::string(key_of.str())] = &value;
    }
    return all;
}

}  // namespace rushlight
