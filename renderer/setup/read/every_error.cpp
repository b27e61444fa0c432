#include "setup/read/every_error.h"

#include "setup/text/file_text.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cctype>
#include <chrono>
#include <cstdio>
#include <optional>
#include <vector>

namespace rushlight {

namespace {

constexpr std::size_t most_errors = 20;
constexpr std::chrono::milliseconds longest{500};

struct Position {
    int line = 0, column = 0;
    friend bool operator==(const Position&, const Position&) = default;
};
Position position_of(const toml::source_region& r) {
    return {static_cast<int>(r.begin.line), static_cast<int>(r.begin.column)};
}

/// What was taken out of the tree for one error.
struct LeftOut {
    Position at;                     // as the error gave it
    std::optional<Position> table;   // of the table that it stood in, when only a key went
    std::string key;                 // which one
    std::vector<std::string> names;  // of whole things that went
};

/// The names of all things in what goes.
void gather_names(const toml::node& node, std::vector<std::string>& names) {
    if (const auto* table = node.as_table()) {
        if (const auto* name = table->get_as<std::string>("name")) names.push_back(name->get());
        for (const auto& [key, value] : *table) gather_names(value, names);
    } else if (const auto* list = node.as_array()) {
        for (const toml::node& item : *list) gather_names(item, names);
    }
}

/// Keys without which a thing is another: it goes with them.
bool makes_the_thing(std::string_view key) {
    return key == "name" || key == "setups";
}

bool mentions(const std::string& said, const std::string& word) {
    const auto letter = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; };
    for (std::size_t at = 0; (at = said.find(word, at)) != said.npos; at += word.size())
        if ((at == 0 || !letter(said[at - 1])) && (at + word.size() == said.size() || !letter(said[at + word.size()])))
            return true;
    return false;
}

/// Takes out the key, or the whole [[thing]], that stands at `at`. Nothing when there is none that can be spared.
class TakeOut {
public:
    explicit TakeOut(Position at) : at_(at) {}

    std::optional<LeftOut> from(toml::table& root) {
        for (auto&& [key, node] : root) {
            if (position_of(key.source()) != at_ && !holds(node)) continue;
            if (position_of(key.source()) == at_ || (!node.is_table() && !node.is_array_of_tables())) {
                LeftOut all{at_, {}, std::string(key.str()), {}};
                gather_names(node, all.names);
                root.erase(key);
                return all;
            }
            return within(node);
        }
        return std::nullopt;
    }

private:
    bool holds(const toml::node& node) const {
        if (position_of(node.source()) == at_) return true;
        if (const auto* table = node.as_table())
            return std::any_of(table->begin(), table->end(), [&](const auto& entry) {
                return position_of(entry.first.source()) == at_ || holds(entry.second);
            });
        if (const auto* list = node.as_array())
            return std::any_of(list->begin(), list->end(), [&](const toml::node& item) { return holds(item); });
        return false;
    }

    bool without_it_another(const toml::node& thing) const {
        const auto* table = thing.as_table();
        return table != nullptr && std::any_of(table->begin(), table->end(), [&](const auto& entry) {
                   return makes_the_thing(entry.first.str()) && holds(entry.second);
               });
    }

    std::optional<LeftOut> within(toml::node& node) {
        if (auto* list = node.as_array()) {
            for (std::size_t i = 0; i < list->size(); ++i) {
                if (!holds((*list)[i])) continue;
                if (position_of((*list)[i].source()) != at_ && !without_it_another((*list)[i]))
                    return within((*list)[i]);
                LeftOut whole{at_, {}, {}, {}};
                gather_names((*list)[i], whole.names);
                list->erase(list->begin() + static_cast<std::ptrdiff_t>(i));
                return whole;
            }
            return std::nullopt;
        }
        auto* table = node.as_table();
        if (table == nullptr || position_of(node.source()) == at_) return std::nullopt;  // a table that must be there
        for (auto&& [key, value] : *table) {
            const bool here = position_of(key.source()) == at_ || position_of(value.source()) == at_;
            const bool deeper = !here && (value.is_table() || value.is_array_of_tables()) && holds(value);
            if (deeper) return within(value);
            if (!here && !holds(value)) continue;
            LeftOut one{at_, position_of(table->source()), std::string(key.str()), {}};
            table->erase(key);
            return one;
        }
        return std::nullopt;
    }

    Position at_;
};

/// Line and column of an error in `path`; nothing for one in another file, or without a place.
std::optional<Position> place_in(const std::string& path, const std::string& said) {
    if (said.rfind(path + ":", 0) != 0) return std::nullopt;
    Position at;
    const char* from = said.c_str() + path.size();
    if (std::sscanf(from, ":%d:%d: ", &at.line, &at.column) != 2) return std::nullopt;
    return at;
}

}  // namespace

InputError every_error(const std::string& text, const std::string& path, const InputError& first,
                       const std::function<void(toml::table root)>& read) {
    const auto start = std::chrono::steady_clock::now();
    std::vector<std::pair<Position, std::string>> said;
    std::vector<LeftOut> gone;
    std::string next = first.what();
    while (true) {
        const auto at = place_in(path, next);
        if (!at) {
            // In no place of this file: a second such may come of what is missing.
            if (said.empty()) said.emplace_back(Position{}, next);
            break;
        }
        // Where things stand is lost in copies of a tree: it is parsed anew, and all of it taken out again.
        toml::table root = parse_toml(text, path);
        for (const LeftOut& l : gone) TakeOut(l.at).from(root);
        const auto out = TakeOut(*at).from(root);
        const bool comes_of_another = std::any_of(gone.begin(), gone.end(), [&](const LeftOut& l) {
            if (l.at == *at || l.table == at) return true;
            const bool beside = !l.table || (out && l.table == out->table);
            if (beside && !l.key.empty() && mentions(next, l.key)) return true;
            return std::any_of(l.names.begin(), l.names.end(), [&](const std::string& name) {
                return !name.empty() && next.find(in_quotes(name)) != next.npos;
            });
        });
        if (!comes_of_another) said.emplace_back(*at, next);
        const bool again = std::any_of(gone.begin(), gone.end(), [&](const LeftOut& l) { return l.at == *at; });
        if (!out || again || said.size() >= most_errors || std::chrono::steady_clock::now() - start > longest) break;
        gone.push_back(*out);
        try {
            read(std::move(root));
            break;
        } catch (const InputError& error) {
            next = error.what();
        }
    }
    std::stable_sort(said.begin(), said.end(), [](const auto& a, const auto& b) {
        return std::pair(a.first.line, a.first.column) < std::pair(b.first.line, b.first.column);
    });
    std::string all;
    for (const auto& [at, line] : said) all += (all.empty() ? "" : "\n") + line;
    return InputError(all);
}

}  // namespace rushlight
