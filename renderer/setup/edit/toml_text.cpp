#include "setup/edit/toml_text.h"

#include "setup/edit/toml_steps.h"
#include "setup/text/code_points.h"
#include "setup/text/file_text.h"
#include "setup/text/where.h"

#include <algorithm>
#include <functional>

namespace rushlight {

TomlText::TomlText(std::string text, std::string path)
    : text_(std::move(text)), path_(std::move(path)), root_(parse_toml(text_, path_)) {
    lines_.push_back(0);
    for (std::size_t i = 0; i < text_.size(); ++i)
        if (text_[i] == '\n') lines_.push_back(i + 1);
}

const toml::node* TomlText::at(const TomlPath& path) const {
    const toml::node* node = &root_;
    for (const TomlStep& step : path) node = step_down(node, step);
    return node;
}

/// Columns of the parser count code points.
std::size_t TomlText::offset(const toml::source_position& p) const {
    std::size_t at = p.line >= 1 && p.line <= lines_.size() ? lines_[p.line - 1] : text_.size();
    if (p.line == 1 && text_.compare(0, 3, "\xEF\xBB\xBF") == 0) at = 3;
    for (auto column = p.column; column > 1 && at < text_.size(); --column) at += code_point_at(text_, at).used;
    return at;
}

std::string_view TomlText::letters_of(const toml::node& node) const {
    const std::size_t from = offset(node.source().begin), to = offset(node.source().end);
    return std::string_view(text_).substr(from, to > from ? to - from : 0);
}

std::size_t TomlText::line_start(std::size_t at) const {
    const std::size_t feed = at == 0 ? std::string::npos : text_.rfind('\n', at - 1);
    return feed == std::string::npos ? 0 : feed + 1;
}

std::size_t TomlText::line_end(std::size_t at) const {
    const std::size_t feed = text_.find('\n', at);
    return feed == std::string::npos ? text_.size() : feed + 1;
}

std::string TomlText::newline() const {
    const std::size_t feed = text_.find('\n');
    return feed != std::string::npos && feed > 0 && text_[feed - 1] == '\r' ? "\r\n" : "\n";
}

/// True if it, or a table in it, begins with a header. A table inside the line of a value has none.
bool TomlText::headed(const toml::node& node) const {
    const auto* table = node.as_table();
    if (!table || table->is_inline()) return false;
    const std::size_t at = offset(node.source().begin);
    return at < text_.size() && text_[at] == '[';
}

std::vector<TomlText::Block> TomlText::blocks() const {
    std::vector<Block> all;
    const std::function<void(const toml::node&, const TomlPath&)> look = [&](const toml::node& node,
                                                                             const TomlPath& path) {
        if (const auto* list = node.as_array())
            for (std::size_t i = 0; i < list->size(); ++i) look(*list->get(i), joined(path, i));
        const auto* table = node.as_table();
        if (!table) return;
        if (!path.empty() && headed(node)) {
            const std::size_t at = line_start(offset(node.source().begin));
            const std::size_t end = std::max(last_end_in(node, false), line_end(offset(node.source().end)));
            // A table that only its sub-table's header names has no block: the deeper one comes later and wins.
            std::erase_if(all, [&](const Block& b) { return b.header == at; });
            all.push_back({path, at, end});
        }
        for (const auto& [key, value] : *table) look(value, joined(path, std::string(key.str())));
    };
    look(root_, {});
    std::sort(all.begin(), all.end(), [](const Block& a, const Block& b) { return a.header < b.header; });
    return all;
}

/// After the last line on which a value of it stands; 0 where there is none. Sub-tables under headers of their own
/// count only `with_headed`.
std::size_t TomlText::last_end_in(const toml::node& node, bool with_headed) const {
    std::size_t last = 0;
    const auto* table = node.as_table();
    if (table && !table->is_inline()) {
        for (const auto& [key, value] : *table) {
            const auto* list = value.as_array();
            const bool tables = list && !list->empty() && headed(*list->get(0));
            if ((headed(value) || tables) && !with_headed) continue;
            last = std::max(last, last_end_in(value, with_headed));
        }
        if (with_headed && headed(node)) last = std::max(last, line_end(offset(node.source().end)));
        return last;
    }
    if (const auto* list = node.as_array(); list && !list->empty() && headed(*list->get(0))) {
        for (const toml::node& item : *list) last = std::max(last, last_end_in(item, with_headed));
        return last;
    }
    return line_end(offset(node.source().end));
}

/// After all that belongs to the table at `path`, sub-tables included, wherever they stand.
std::size_t TomlText::end_of_extent(const TomlPath& path) const {
    std::size_t end = 0;
    for (const Block& b : blocks())
        if (starts_with(b.path, path)) end = std::max(end, b.end);
    return end;
}

std::size_t TomlText::steps_to_header(const TomlPath& path) const {
    const std::vector<Block> all = blocks();
    for (std::size_t steps = path.size(); steps > 0; --steps) {
        const TomlPath upto(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(steps));
        for (const Block& b : all)
            if (b.path.size() == steps && starts_with(b.path, upto)) return steps;
    }
    return 0;
}

/// The text with one more line, or several, after the line that ends at `after`.
std::string TomlText::with_line(std::size_t after, const std::string& line) const {
    std::string text = text_;
    const bool open_ended = after > 0 && text_[after - 1] != '\n';
    text.insert(after, (open_ended ? newline() : "") + line + newline());
    return text;
}

bool TomlText::take(const std::string& candidate, const toml::table& expected) {
    try {
        TomlText next(candidate, path_);
        if (next.root_ != expected) return false;
        *this = std::move(next);
    } catch (const InputError&) {
        return false;
    }
    return true;
}

void TomlText::give_up(const TomlPath& path) const {
    throw InputError(Where{path_}, "there is no way to write '" + dotted(path, 0) +
                                       "' without writing the file anew; change it in an editor");
}

/// Only what differs: of a list of the same length, single items.
std::optional<std::string> TomlText::replaced(const toml::node& old, const NewValue& value) const {
    const auto* old_list = old.as_array();
    const auto* list = std::get_if<NewValue::List>(&value.value);
    struct Piece {
        std::size_t from, to;
        std::string text;
    };
    std::vector<Piece> pieces;
    const auto whole = [&](const toml::node& node, const NewValue& v) {
        pieces.push_back({offset(node.source().begin), offset(node.source().end), written(v, &node)});
    };
    const auto is_same = [](const toml::node& node, const NewValue& v) {
        const toml::table t = parsed_value(v, &node);
        const auto* number = std::get_if<double>(&v.value);
        if (number && node.is_number() && v.decimals >= 0) {
            double half_a_step = 0.5;
            for (int i = 0; i < v.decimals; ++i) half_a_step /= 10;
            return std::abs(*node.value<double>() - *number) < half_a_step;
        }
        toml::table before;
        before.insert("value", node);
        return before == t;
    };
    if (old_list && list && !old_list->empty() && list->size() >= old_list->size()) {
        for (std::size_t i = 0; i < old_list->size(); ++i)
            if (!is_same(*old_list->get(i), (*list)[i])) whole(*old_list->get(i), (*list)[i]);
        const std::size_t end = offset(old_list->get(old_list->size() - 1)->source().end);
        std::string more;
        for (std::size_t i = old_list->size(); i < list->size(); ++i) more += ", " + written((*list)[i]);
        if (!more.empty()) pieces.push_back({end, end, more});
    } else if (!is_same(old, value)) {
        whole(old, value);
    }
    std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) { return a.from > b.from; });
    std::string text = text_;
    for (const Piece& p : pieces) text.replace(p.from, p.to - p.from, p.text);
    return text;
}

void TomlText::set(const TomlPath& table, const std::string& key, const NewValue& value) {
    const toml::node* there = at(table);
    if (there && !there->is_table()) give_up(joined(table, key));
    if (there)
        if (const toml::node* old = there->as_table()->get(key)) {
            if (headed(*old)) give_up(joined(table, key));
            const auto text = replaced(*old, value);
            // A list keeps the items that are near enough, so that the rest of the tree is what must be the same.
            toml::table expected = root_, now;
            try {
                now = parse_toml(*text, path_);
            } catch (const InputError&) {
                give_up(joined(table, key));
            }
            toml::node *in_expected = &expected, *in_now = &now;
            for (const TomlStep& step : table)
                in_expected = step_down(in_expected, step), in_now = step_down(in_now, step);
            if (!in_now || !in_now->is_table() || !in_now->as_table()->get(key)) give_up(joined(table, key));
            in_expected->as_table()->insert_or_assign(key, *in_now->as_table()->get(key));
            if (!take(*text, expected)) give_up(joined(table, key));
            return;
        }

    toml::table expected = root_;
    toml::node* in = &expected;
    std::size_t known = 0;  // steps of `table` that are there
    for (const TomlStep& step : table) {
        toml::node* next = step_down(in, step);
        if (next) {
            ++known;
        } else {
            if (step.in_list || !in->is_table()) give_up(joined(table, key));
            next = &in->as_table()->insert_or_assign(step.key, toml::table{}).first->second;
        }
        in = next;
    }
    if (!in->is_table()) give_up(joined(table, key));
    in->as_table()->insert_or_assign(key, *parsed_value(value, nullptr).get("value"));

    const TomlPath whole = joined(table, key);
    const TomlPath upto(table.begin(), table.begin() + static_cast<std::ptrdiff_t>(known));
    const toml::node& nearest = *at(upto);
    if (!nearest.is_table()) give_up(whole);
    const std::string value_text = written(value);
    if (nearest.as_table()->is_inline()) {
        const std::size_t brace = offset(nearest.source().end) - 1;
        const bool empty = nearest.as_table()->empty();
        std::size_t after = brace;
        while (after > 0 && (text_[after - 1] == ' ' || text_[after - 1] == '\t')) --after;
        std::string text = text_;
        text.replace(after, brace - after, (empty ? " " : ", ") + dotted(whole, known) + " = " + value_text + " ");
        if (take(text, expected)) return;
        give_up(whole);
    }
    const std::size_t header = steps_to_header(upto);
    const TomlPath of_header(upto.begin(), upto.begin() + static_cast<std::ptrdiff_t>(header));
    const toml::node& head = *at(of_header);
    // After its nearest relatives, else after the header's other values, else right under the header.
    std::size_t after = std::max(last_end_in(nearest, false), std::size_t{0});
    if (after == 0 || nearest.as_table() == head.as_table()) after = last_end_in(head, false);
    if (after == 0 && header > 0) after = line_end(offset(head.source().end));
    const std::size_t margin_at = line_start(after == 0 ? 0 : after - 1);
    std::size_t margin_end = margin_at;
    while (header > 0 && margin_end < text_.size() && (text_[margin_end] == ' ' || text_[margin_end] == '\t'))
        ++margin_end;
    const std::string margin = text_.substr(margin_at, margin_end - margin_at);
    std::vector<std::string> ways;
    if (known < table.size()) {
        const TomlPath path_of_table(table.begin(), table.end());
        ways.push_back(with_line(
            after, margin + dotted(path_of_table, header) + " = { " + written_key(key) + " = " + value_text + " }"));
    }
    ways.push_back(with_line(after, margin + dotted(whole, header) + " = " + value_text));
    if (known < table.size()) {
        const std::size_t end = header > 0 ? end_of_extent(of_header) : text_.size();
        ways.push_back(
            with_line(end, "[" + dotted(table, 0) + "]" + newline() + written_key(key) + " = " + value_text));
    }
    for (const std::string& way : ways)
        if (take(way, expected)) return;
    give_up(whole);
}

void TomlText::take_out(const TomlPath& table, const std::string& key) {
    const toml::node* there = at(table);
    const auto* in = there ? there->as_table() : nullptr;
    const auto found = in ? in->find(key) : toml::table::const_iterator{};
    if (!in || found == in->cend()) return;
    toml::table expected = root_;
    toml::node* node = &expected;
    for (const TomlStep& step : table) node = step_down(node, step);
    node->as_table()->erase(key);

    std::size_t from = offset(found->first.source().begin), to = offset(found->second.source().end);
    std::string text = text_;
    if (in->is_inline()) {
        // With the comma after it, or the one before it if it is the last.
        std::size_t next = text_.find_first_not_of(" \t", to);
        if (next != std::string::npos && text_[next] == ',') {
            to = text_.find_first_not_of(" \t", next + 1);
        } else {
            const std::size_t before = text_.find_last_not_of(" \t", from - 1);
            if (before != std::string::npos && text_[before] == ',') from = before;
        }
        text.erase(from, to - from);
    } else {
        const std::size_t comment = text_.find_first_not_of(" \t", to);
        const bool says_more = comment != std::string::npos && text_[comment] == '#';
        from = line_start(from);
        to = says_more ? comment : line_end(to);
        text.erase(from, to - from);
    }
    if (take(text, expected)) return;
    // A table that only this key made is gone with it.
    TomlPath up = table;
    while (!up.empty()) {
        toml::node* parent = &expected;
        for (std::size_t i = 0; i + 1 < up.size(); ++i) parent = step_down(parent, up[i]);
        auto* t = parent ? parent->as_table() : nullptr;
        const auto* gone = t && !up.back().in_list ? t->get(up.back().key) : nullptr;
        if (!gone || !gone->is_table() || !gone->as_table()->empty()) break;
        t->erase(up.back().key);
        up.pop_back();
        if (take(text, expected)) return;
    }
    give_up(joined(table, key));
}

}  // namespace rushlight
