// TOML text changed in place: one value, one table, and every other letter stays. A change is made only if the text
// then says exactly what was meant: each way of writing it is parsed and compared before it is taken.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace rushlight {

/// A value as it is to be written.
struct NewValue {
    struct Entry;
    using List = std::vector<NewValue>;
    using Table = std::vector<Entry>;
    std::variant<bool, double, std::string, List, Table> value;
    int decimals = -1;  // of a number; -1: up to six figures

    bool is_table() const { return std::holds_alternative<Table>(value); }
    /// Sets the decimals of all numbers in it.
    void round_to(int to);
};
struct NewValue::Entry {
    std::string first;
    NewValue second;
};

/// The way from the root to something: names of keys and numbers in lists.
struct TomlStep {
    std::string key;
    std::size_t index = 0;
    bool in_list = false;

    TomlStep(std::string k) : key(std::move(k)) {}        // NOLINT: a step is written as what it is
    TomlStep(const char* k) : key(k) {}                   // NOLINT
    TomlStep(std::size_t i) : index(i), in_list(true) {}  // NOLINT
};
using TomlPath = std::vector<TomlStep>;

class TomlText {
public:
    /// Throws InputError where the text is no TOML.
    TomlText(std::string text, std::string path);

    const std::string& text() const { return text_; }
    const toml::table& root() const { return root_; }
    const toml::node* at(const TomlPath& path) const;
    /// The letters of a value as they stand.
    std::string_view letters_of(const toml::node& node) const;

    /// `key` of the table at `table`, which is made where it is not there. Throws InputError where there is no way to
    /// write it that leaves the rest as it is.
    void set(const TomlPath& table, const std::string& key, const NewValue& value);
    /// Does nothing where there is no such key. A comment beside it stays.
    void take_out(const TomlPath& table, const std::string& key);
    /// One more table at the end of a list of tables, `list` ending in its key.
    void append(const TomlPath& list, const NewValue::Table& values);
    /// A table of a list of tables, with all that belongs to it.
    void remove(const TomlPath& item);

private:
    struct Block {  // what a header in brackets begins
        TomlPath path;
        std::size_t header = 0;  // where the header's line begins
        std::size_t end = 0;     // after the last line that holds something of it
    };
    std::size_t offset(const toml::source_position& p) const;
    std::size_t line_start(std::size_t at) const;
    std::size_t line_end(std::size_t at) const;  // after its line feed
    std::string newline() const;
    bool headed(const toml::node& table) const;
    std::vector<Block> blocks() const;
    std::size_t last_end_in(const toml::node& node, bool with_headed) const;
    std::size_t end_of_extent(const TomlPath& path) const;
    /// The table at or above `path` that has a header of its own, or the root: as many steps of `path`.
    std::size_t steps_to_header(const TomlPath& path) const;
    std::string with_line(std::size_t after, const std::string& line) const;
    std::optional<std::string> replaced(const toml::node& old, const NewValue& value) const;
    bool take(const std::string& candidate, const toml::table& expected);
    [[noreturn]] void give_up(const TomlPath& path) const;

    std::string text_, path_;
    toml::table root_;
    std::vector<std::size_t> lines_;  // where each begins
};

/// As it is written in TOML. `like`: what stood there before, whose style is kept.
std::string written(const NewValue& value, const toml::node* like = nullptr);
/// Bare where that is allowed, else in quotes.
std::string written_key(const std::string& key);

}  // namespace rushlight
