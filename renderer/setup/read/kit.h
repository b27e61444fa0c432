// The kit: what the crew owns and what exists in general, one item a name. A set-up file says `like = "..."` and then
// only where the thing stands.
#pragma once

#include "setup/plain/rig.h"
#include "setup/read/luminaires.h"
#include "setup/read/things.h"

#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// A thing of the kit: what it does to light, and what it takes to carry it, to feed it and to hold it up.
struct KitItem {
    std::string name;
    ThingKind kind = ThingKind::lamp;  // lamp, board, flag, cloth or net
    bool generic = false;              // of the catalogue that comes with the program
    std::optional<int> count;          // how many are owned; nothing: nobody said
    double weight = 0;                 // kg, without its stand; 0: not known
    std::string stand;                 // the kind of stand that holds it up, "" for none
    int stands = 0;
    std::vector<std::string> parts;  // what it shares with other items: one head, three reflectors
    std::string source, notes;
    bool practical = false;  // belongs to the place: nobody carries it
    Lamp lamp;               // as it would stand at the origin, if it is a lamp
    Panel panel;             // the same for a board, flag, cloth or net

    std::vector<const toml::table*> layers;  // the words of the file, base first
};

/// Parts and stands of items, counted over all of them.
struct KitPart {
    std::string name;
    std::optional<int> count;
    double weight = 0;  // kg
    std::string notes;
};

class Kit {
public:
    /// The catalogue that comes with the program, and the kit files that `root` names at its top, found from where the
    /// set-up file lies. Null where it names none: the catalogue alone is read when something is like an item of it.
    /// Throws InputError.
    static std::shared_ptr<const Kit> read(const FileContext& context, const toml::table& root);
    /// The catalogue alone.
    static std::shared_ptr<const Kit> catalogue();
    /// The catalogue as it is written: a kit file to copy from.
    static std::string_view catalogue_text();

    /// In the order of the catalogue and then of the files; a kit file's item hides a generic one of its name.
    std::vector<const KitItem*> items() const;
    const std::vector<KitPart>& parts() const { return parts_; }
    /// By its own name, or as the trade says it (trade_words.h). Null where there is none.
    const KitItem* item(std::string_view name) const;
    const KitPart* part(std::string_view name) const;
    /// True if a kit file was named: only then can something be short.
    bool owned() const { return owned_; }

private:
    void read_file(const FileContext& context, const std::string& text, bool generic);
    void read_item(const FileContext& context, const ThingWord& word, toml::table& written, bool generic);
    void read_parts(const FileContext& context, const toml::table& root);
    void read_own(const FileContext& context, const toml::table& root);

    struct Written {
        toml::table light, carried;  // words of the thing itself, words about carrying it
    };
    std::deque<toml::table> files_;
    std::deque<Written> written_;
    std::deque<KitItem> items_;
    std::vector<std::vector<const toml::table*>> carried_;  // of each item, base first
    std::vector<KitPart> parts_;
    Luminaires luminaires_;
    bool owned_ = false;
};

/// The item that a thing is like, by the last layer that says so; null when none does. Throws InputError.
const KitItem* item_like(const FileContext& context, const Thing& thing);

}  // namespace rushlight
