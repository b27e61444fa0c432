// Tables put into lists of tables, and taken out again.
#include "setup/edit/toml_steps.h"
#include "setup/edit/toml_text.h"

#include <algorithm>

namespace rushlight {

void TomlText::append(const TomlPath& list, const NewValue::Table& values) {
    toml::table expected = root_;
    toml::node* node = &expected;
    for (std::size_t i = 0; i < list.size(); ++i) {
        toml::node* next = step_down(node, list[i]);
        if (!next) {
            toml::table* in = node->as_table();
            if (!in || list[i].in_list) give_up(list);
            const bool last = i + 1 == list.size();
            next = last ? &in->insert_or_assign(list[i].key, toml::array{}).first->second
                        : &in->insert_or_assign(list[i].key, toml::table{}).first->second;
        }
        node = next;
    }
    if (!node->is_array()) give_up(list);
    NewValue whole{values};
    node->as_array()->push_back(*parsed_value(whole, nullptr).get("value")->as_table());
    // Written in one line or many, a table is the same table.
    std::string block = newline() + "[[" + dotted(list, 0) + "]]";
    for (const auto& [key, value] : values) block += newline() + written_key(key) + " = " + written(value);

    std::vector<std::string> ways;
    if (const toml::node* old = at(list); old && !old->as_array()->empty() && !headed(*old->as_array()->get(0))) {
        const std::size_t end = offset(old->as_array()->get(old->as_array()->size() - 1)->source().end);
        std::string text = text_;
        text.insert(end, ", " + written(whole));
        ways.push_back(text);
    }
    if (const std::size_t end = end_of_extent(list); end > 0) ways.push_back(with_line(end, block));
    for (std::size_t steps = list.size() - 1; steps > 0; --steps) {
        const TomlPath upto(list.begin(), list.begin() + static_cast<std::ptrdiff_t>(steps));
        if (const std::size_t end = end_of_extent(upto); end > 0) ways.push_back(with_line(end, block));
    }
    // The base that set-ups start from stands before them in the file.
    std::size_t before = 0;
    for (const Block& b : blocks()) {
        if (b.path.front().key == "setup" || b.path.front().key == "option") break;
        before = std::max(before, b.end);
    }
    if (list.front().key != "setup" && list.front().key != "option" && before > 0)
        ways.push_back(with_line(before, block));
    ways.push_back(with_line(text_.size(), block));
    for (const std::string& way : ways)
        if (take(way, expected)) return;
    give_up(list);
}

void TomlText::remove(const TomlPath& item) {
    toml::table expected = root_;
    toml::node* parent = &expected;
    toml::table* above = nullptr;
    for (std::size_t i = 0; i + 1 < item.size(); ++i) {
        above = parent->as_table();
        parent = step_down(parent, item[i]);
        if (!parent) give_up(item);
    }
    auto* list = parent->as_array();
    const toml::node* old = at(item);
    if (!list || !old) give_up(item);
    list->erase(list->cbegin() + static_cast<std::ptrdiff_t>(item.back().index));

    std::string text = text_;
    if (!headed(*old)) {
        std::size_t from = offset(old->source().begin), to = offset(old->source().end);
        const std::size_t next = text_.find_first_not_of(" \t\r\n", to);
        if (next != std::string::npos && text_[next] == ',') {
            to = text_.find_first_not_of(" \t", next + 1);
        } else {
            const std::size_t before = text_.find_last_not_of(" \t\r\n", from - 1);
            if (before != std::string::npos && text_[before] == ',') from = before;
        }
        text.erase(from, to - from);
    } else {
        // Bottom up: its sub-tables may stand apart from it.
        std::vector<Block> own;
        for (const Block& b : blocks())
            if (starts_with(b.path, item)) own.push_back(b);
        for (auto b = own.rbegin(); b != own.rend(); ++b) {
            // With the blank line before it, if there is one.
            std::size_t from = b->header;
            const std::size_t line = from > 0 ? line_start(from - 1) : from;
            if (text_.find_first_not_of("\r\n", line) >= from) from = line;
            text.erase(from, b->end - from);
        }
    }
    if (take(text, expected)) return;
    // The last one takes the list, and the tables that only it made, along.
    if (list->empty() && above) {
        above->erase(item[item.size() - 2].key);
        if (take(text, expected)) return;
        for (std::size_t steps = item.size() - 2; steps > 0; --steps) {
            toml::node* node = &expected;
            for (std::size_t i = 0; i + 1 < steps; ++i) node = step_down(node, item[i]);
            auto* t = node ? node->as_table() : nullptr;
            if (!t || item[steps - 1].in_list) break;
            t->erase(item[steps - 1].key);
            if (take(text, expected)) return;
        }
    }
    give_up(item);
}

}  // namespace rushlight
