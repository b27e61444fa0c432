#include "setup/read/things.h"

#include "setup/read/kit.h"
#include "setup/text/code_points.h"
#include "setup/text/trade_words.h"
#include "setup/text/words.h"

#include <algorithm>

namespace rushlight {

namespace {

constexpr std::size_t longest_name = 100;

std::vector<std::string> kind_words() {
    std::vector<std::string> words;
    for (const ThingWord& w : thing_words) words.emplace_back(w.word);
    return words;
}

const ThingWord& thing_word(const FileContext& context, const toml::key& key, const std::string& where) {
    for (const ThingWord& w : thing_words)
        if (key.str() == w.word || key_in_our_words(key.str()) == w.word) return w;
    const std::string_view here = what_it_is_here(key.str());
    throw InputError(context.where(key), "unknown key " + in_quotes(key.str()) + " in " + where +
                                             (here.empty() ? hint(key.str(), kind_words()) : "; " + std::string(here)));
}

const toml::table& table_in(const FileContext& context, const toml::node& node, const std::string& title) {
    if (const auto* t = node.as_table()) return *t;
    throw InputError(context.where(node), title + " is " + found_value(node) + "; expected a table");
}

}  // namespace

LayeredTable Thing::table(const FileContext& context) const {
    std::vector<const toml::table*> all;
    if (const KitItem* item = item_like(context, *this)) all = item->layers;
    all.insert(all.end(), layers.begin(), layers.end());
    return {context, word->section, std::string(word->section) + " " + in_quotes(name), all};
}

std::vector<const toml::table*> tables_of(const FileContext& context, const toml::table& parent, std::string_view key,
                                          const std::string& written, std::size_t most) {
    std::vector<const toml::table*> tables;
    const toml::node* node = parent.get(key);
    if (!node) return tables;
    const auto* list = node->as_array();
    if (!list)
        throw InputError(context.where(*node), std::string(key) + " is " + found_value(*node) + "; expected " +
                                                   written + " with two brackets, once for each");
    if (list->size() > most)
        throw InputError(context.where(*node), std::to_string(list->size()) + " times " + written +
                                                   "; expected no more than " + std::to_string(most));
    for (const toml::node& item : *list) tables.push_back(&table_in(context, item, written));
    return tables;
}

std::string name_in(const FileContext& context, const toml::table& table, const std::string& title) {
    const toml::node* node = table.get("name");
    if (!node) throw InputError(context.where(table), title + " needs 'name'");
    const auto* text = node->as_string();
    if (!text)
        throw InputError(context.where(*node), title + ": name is " + found_value(*node) + "; expected text in quotes");
    const std::string& name = text->get();
    const bool blank = name.find_first_not_of(' ') == std::string::npos;
    if (blank || !hidden_letter(name).empty() || name.size() > longest_name)
        throw InputError(context.where(*node), title + ": name is " + in_quotes(name) + "; expected 1 to " +
                                                   std::to_string(longest_name) + " letters on one line");
    return name;
}

Things::Things(const FileContext& context, const toml::table& root) : context_(&context) {
    const toml::node* place = root.get("place");
    for (const ThingWord& word : thing_words) {
        const bool in_place = word.kind == ThingKind::opening || word.kind == ThingKind::furniture;
        if (!in_place)
            add_all(root, word, word.section);
        else if (place && place->is_table())
            add_all(*place->as_table(), word, word.section);
    }
}

void Things::add_all(const toml::table& parent, const ThingWord& word, const std::string& written) {
    for (const toml::table* t : tables_of(*context_, parent, word.word, written, word.most)) add(word, *t);
    for (const KeyWord& w : key_words())
        if (w.ours == word.word)
            for (const toml::table* t :
                 tables_of(*context_, parent, w.said, "[[" + std::string(w.said) + "]]", word.most))
                add(word, *t);
}

void Things::add(const ThingWord& word, const toml::table& table) {
    const std::string name = name_in(*context_, table, word.section);
    if (const Thing* other = find(name)) {
        const Where first = context_->where(*other->layers.front());
        throw InputError(context_->where(*table.get("name")), "a second " + in_quotes(name) + "; the first is the " +
                                                                  other->word->word + " in line " +
                                                                  std::to_string(first.line));
    }
    by_name_[name] = things_.size();
    things_.push_back({&word, name, {&table}});
}

Thing* Things::find(const std::string& name) {
    const auto it = by_name_.find(name);
    return it != by_name_.end() && things_[it->second].there ? &things_[it->second] : nullptr;
}

std::vector<std::string> Things::names(const ThingWord* kind) const {
    std::vector<std::string> all;
    for (const Thing& t : things_)
        if (t.there && (!kind || t.word == kind)) all.push_back(t.name);
    return all;
}

void Things::apply(const toml::table& changes, const std::string& title) {
    if (const toml::node* node = changes.get("change")) change(table_in(*context_, *node, title + " change"), title);
    if (const toml::node* node = changes.get("remove")) {
        const auto* list = node->as_array();
        if (!list)
            throw InputError(context_->where(*node), title + ": remove is " + found_value(*node) +
                                                         "; expected a list of names such as [\"far black\"]");
        for (const toml::node& item : *list) {
            const auto* text = item.as_string();
            Thing* thing = text ? find(text->get()) : nullptr;
            if (!thing && text && by_name_.count(text->get()) > 0) {
                context_->remark(context_->where(item),
                                 title + ": " + in_quotes(text->get()) + " is removed already; nothing more to do");
                continue;
            }
            if (!thing)
                throw InputError(context_->where(item),
                                 title + ": nothing to remove called " +
                                     (text ? in_quotes(text->get()) + hint(text->get(), names(nullptr))
                                           : found_value(item) + "; expected a name"));
            thing->there = false;
        }
    }
    if (const toml::node* node = changes.get("add")) {
        const std::string whose = title.substr(2, title.find(']') - 2);
        for (const auto& [key, value] : table_in(*context_, *node, title + " add")) {
            const ThingWord& word = thing_word(*context_, key, title + " add");
            add_all(*node->as_table(), word, "[[" + whose + ".add." + word.word + "]]");
        }
    }
}

void Things::change(const toml::table& changes, const std::string& title) {
    for (const auto& [kind, things] : changes) {
        const ThingWord& word = thing_word(*context_, kind, title + " change");
        for (const auto& [key, node] : table_in(*context_, things, title + " change." + word.word)) {
            const std::string name(key.str());
            Thing* thing = find(name);
            if (!thing || thing->word != &word)
                throw InputError(context_->where(key), title + ": no " + word.word + " to change called " +
                                                           in_quotes(name) + hint(name, names(&word)));
            const toml::table& layer =
                table_in(*context_, node, title + " change." + word.word + " " + in_quotes(name));
            if (const toml::node* renamed = layer.get("name"))
                throw InputError(context_->where(*renamed),
                                 title + ": the name of " + in_quotes(name) + " cannot change");
            thing->layers.push_back(&layer);
        }
    }
}

std::vector<const Thing*> Things::all(ThingKind kind) const {
    std::vector<const Thing*> found;
    for (const Thing& t : things_)
        if (t.there && t.word->kind == kind) found.push_back(&t);
    return found;
}

}  // namespace rushlight
