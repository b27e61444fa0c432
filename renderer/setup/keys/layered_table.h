// One thing of the file, seen through its layers: the base, what the set-up changes, what the option changes.
// Each key is taken from the last layer that has it, in place, so that every error points at the very value.
#pragma once

#include "quantity/space.h"
#include "setup/keys/key_table.h"
#include "setup/text/patience.h"
#include "setup/text/where.h"

#include <toml++/toml.h>

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

class Kit;
class Spots;

/// Every reader needs this, to say where something stands and to note what was guessed.
struct FileContext {
    std::string path;  // as messages name the file
    std::vector<std::string>* remarks = nullptr;
    const Kit* kit = nullptr;      // what things may be like; null: the catalogue
    Patience patience = {};        // for readers of long files
    const Spots* spots = nullptr;  // what may be aimed at by name besides people; null: nothing

    Where where(const toml::node& node) const;
    Where where(const toml::key& key) const;
    /// Once only, however many set-ups meet it.
    void remark(const Where& where, const std::string& sentence) const;
};

/// "the number 3", "the text 'abc'", "a table"...
std::string found_value(const toml::node& node);

class LayeredTable {
public:
    /// Refuses words that the section does not have. `title` begins every message: "[[lamp]] 'key'".
    LayeredTable(const FileContext& context, std::string_view section_name, std::string title,
                 std::vector<const toml::table*> layers);

    /// The same, with what none of the layers has taken from `shared`, whose keys are the section's too; null: from
    /// nowhere.
    LayeredTable over(const toml::table* shared) const {
        LayeredTable one = *this;
        one.shared_ = shared;
        return one;
    }

    const FileContext& context() const { return *context_; }
    const std::string& title() const { return title_; }
    std::string_view section_name() const { return section_->name; }

    /// Null when no layer has the key.
    const toml::node* find(std::string_view key) const;
    bool has(std::string_view key) const { return find(key) != nullptr; }
    /// The place of the value, or of the whole table when the key is not there.
    Where where(std::string_view key) const;
    Where where() const;

    // Each of these takes range and default from the key table, and refuses what does not fit.
    std::string text(std::string_view key) const;
    /// The path of a file that is named as it lies from the file which names it; refuses what is not there.
    std::string file(std::string_view key) const;
    std::string word(std::string_view key) const;
    bool yes(std::string_view key) const;
    double number(std::string_view key) const;
    std::optional<double> number_if_given(std::string_view key) const;
    double length(std::string_view key) const;
    /// As many as `least`..`most`; one length alone may stand without brackets if `least` is 1.
    std::vector<double> lengths(std::string_view key, std::size_t least, std::size_t most) const;
    std::optional<Vec3> point_if_array(std::string_view key) const;
    std::vector<std::string> names(std::string_view key) const;
    /// The sub-tables of all layers, seen as one.
    std::optional<LayeredTable> table(std::string_view key, std::string_view section_name) const;

    /// A sub-table whose keys are free names, such as materials: the last layer that has a name gives its node.
    std::map<std::string, const toml::node*> free_table(std::string_view key) const;

    /// Value of a node that must be a number within the key's range.
    double number_in(const toml::node& node, std::string_view key) const;
    double length_in(const toml::node& node, std::string_view key) const;

    [[noreturn]] void refuse(std::string_view key, const std::string& what) const;
    [[noreturn]] void refuse_kind(std::string_view key, const toml::node& node, const std::string& expected) const;

private:
    const Key& key(std::string_view name) const;
    const toml::node& needed(std::string_view key) const;
    std::vector<double> standard_numbers(const Key& k) const;
    void check_range(const Key& k, const toml::node& node, double value) const;

    const FileContext* context_;
    const Section* section_;
    std::string title_;
    std::vector<const toml::table*> layers_;
    const toml::table* shared_ = nullptr;
};

}  // namespace rushlight
