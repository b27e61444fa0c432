// Ways through a TOML tree, for toml_text.cpp and toml_tables.cpp alone.
#pragma once

#include "setup/edit/toml_text.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

namespace rushlight {

/// "setup.change.lamp", list numbers left out, from a step on.
inline std::string dotted(const TomlPath& path, std::size_t from) {
    std::string text;
    for (std::size_t i = from; i < path.size(); ++i) {
        if (path[i].in_list) continue;
        if (!text.empty()) text += '.';
        text += written_key(path[i].key);
    }
    return text;
}

inline TomlPath joined(TomlPath path, TomlStep step) {
    path.push_back(std::move(step));
    return path;
}

inline bool starts_with(const TomlPath& path, const TomlPath& start) {
    if (path.size() < start.size()) return false;
    for (std::size_t i = 0; i < start.size(); ++i)
        if (path[i].in_list != start[i].in_list || path[i].key != start[i].key || path[i].index != start[i].index)
            return false;
    return true;
}

template <class Node>
Node* step_down(Node* node, const TomlStep& step) {
    if (!node) return nullptr;
    if (step.in_list) {
        auto* list = node->as_array();
        return list ? list->get(step.index) : nullptr;
    }
    auto* table = node->as_table();
    return table ? table->get(step.key) : nullptr;
}

/// The same as `value` says, as the parser would have it. Throws InputError for what cannot be written, such as a table
/// with a key twice.
inline toml::table parsed_value(const NewValue& value, const toml::node* like) {
    const std::string text = written(value, like);
    try {
        return toml::parse("value = " + text);
    } catch (const toml::parse_error&) {
        throw InputError("this cannot be written into the file as a value: " + in_quotes(text));
    }
}

}  // namespace rushlight
