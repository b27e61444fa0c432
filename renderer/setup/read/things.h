// The things of a set-up: the base of the file, after the set-up and the option have changed, removed and added some.
#pragma once

#include "setup/keys/layered_table.h"

#include <array>
#include <string>
#include <unordered_map>
#include <vector>

namespace rushlight {

enum class ThingKind { opening, furniture, mark, lamp, board, flag, cloth, net, camera, meter };

struct ThingWord {
    ThingKind kind;
    const char* word;     // in change.WORD and add.WORD
    const char* section;  // in the key table
    std::size_t most;
};
inline constexpr std::array<ThingWord, 10> thing_words{{
    {ThingKind::opening, "opening", "[[place.opening]]", 200},
    {ThingKind::furniture, "furniture", "[[place.furniture]]", 10'000},
    {ThingKind::mark, "mark", "[[mark]]", 10'000},
    {ThingKind::lamp, "lamp", "[[lamp]]", 10'000},
    {ThingKind::board, "board", "[[board]]", 10'000},
    {ThingKind::flag, "flag", "[[flag]]", 10'000},
    {ThingKind::cloth, "cloth", "[[cloth]]", 10'000},
    {ThingKind::net, "net", "[[net]]", 10'000},
    {ThingKind::camera, "camera", "[[camera]]", 10'000},
    {ThingKind::meter, "meter", "[[meter]]", 10'000},
}};

struct Thing {
    const ThingWord* word = nullptr;
    std::string name;
    std::vector<const toml::table*> layers;  // base first
    bool there = true;

    LayeredTable table(const FileContext& context) const;
};

/// `parent[key]` as a list of tables, checked: "write [[lamp]]" and so on. Empty when it is not there.
std::vector<const toml::table*> tables_of(const FileContext& context, const toml::table& parent, std::string_view key,
                                          const std::string& written, std::size_t most);
/// The value of "name" in a table: some text, not too long.
std::string name_in(const FileContext& context, const toml::table& table, const std::string& title);

/// Names are unique over all kinds, so that "remove" is never in doubt.
class Things {
public:
    /// Everything at the top of the file and in [place].
    Things(const FileContext& context, const toml::table& root);
    /// Changes, removals and additions of one [[setup]] or [[option]], which is called `title`.
    void apply(const toml::table& changes, const std::string& title);

    std::vector<const Thing*> all(ThingKind kind) const;
    std::size_t count() const { return things_.size(); }

private:
    void add(const ThingWord& word, const toml::table& table);
    void add_all(const toml::table& parent, const ThingWord& word, const std::string& written);
    void change(const toml::table& changes, const std::string& title);
    std::vector<std::string> names(const ThingWord* kind) const;
    Thing* find(const std::string& name);

    const FileContext* context_;
    std::vector<Thing> things_;
    std::unordered_map<std::string, std::size_t> by_name_;
};

}  // namespace rushlight
