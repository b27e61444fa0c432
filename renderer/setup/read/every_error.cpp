#include "setup/read/every_error.h"

#include "setup/text/file_text.h"
#include "setup/text/words.h"

#include <algorithm>
#include <chrono>
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
    Position at;                      // as the error gave it
    std::optional<Position> table;    // of the table that it stood in, when only a key went
    std::optional<std::string> name;  // of the whole thing, when all of it went
};

/// Takes out the key, or the whole [[thing]], that stands at `at`. Nothing when there is none that can be spared.
class TakeOut {
public:
    explicit TakeOut(Position at) : at_(at) {}

    std::optional<LeftOut> from(toml::table& root) {
        for (auto&& [key, node] : root) {
            if (position_of(key.source()) != at_ && !holds(node)) continue;
            if (position_of(key.source()) == at_ || (!node.is_table() && !node.is_array_of_tables())) {
                root.erase(key);
                return LeftOut{at_, {}, {}};
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

    std::optional<LeftOut> within(toml::node& node) {
        if (auto* list = node.as_array()) {
            for (std::size_t i = 0; i < list->size(); ++i) {
                if (!holds((*list)[i])) continue;
                if (position_of((*list)[i].source()) != at_) return within((*list)[i]);
                LeftOut whole{at_, {}, std::string()};
                if (const auto* thing = (*list)[i].as_table())
                    if (const auto* name = thing->get_as<std::string>("name")) whole.name = name->get();
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
            const Position parent = position_of(table->source());
            table->erase(key);
            return LeftOut{at_, parent, {}};
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
        const auto induced = [&](const LeftOut& l) {
            return (at && l.table == at) || (l.name && !l.name->empty() && next.find(in_quotes(*l.name)) != next.npos);
        };
        if (!at && !said.empty()) break;  // in no place of this file: it may come of what is missing
        if (std::none_of(gone.begin(), gone.end(), induced)) said.emplace_back(at.value_or(Position{}), next);
        const bool again = at && std::any_of(gone.begin(), gone.end(), [&](const LeftOut& l) { return l.at == *at; });
        if (!at || again || said.size() >= most_errors || std::chrono::steady_clock::now() - start > longest) break;

        // Where things stand is lost in copies of a tree: it is parsed anew, and all of it taken out again.
        toml::table root = parse_toml(text, path);
        for (const LeftOut& l : gone) TakeOut(l.at).from(root);
        const auto out = TakeOut(*at).from(root);
        if (!out) break;
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
