#include "setup/read/kit.h"

#include "setup/read/readers.h"
#include "setup/text/file_text.h"
#include "setup/text/trade_words.h"
#include "setup/text/words.h"

#include <algorithm>
#include <filesystem>

namespace rushlight {

namespace {

constexpr std::size_t most_items = 2000, most_files = 20;
constexpr std::array kit_kinds{ThingKind::lamp, ThingKind::board, ThingKind::flag, ThingKind::cloth, ThingKind::net};
/// Words about one place and day: they stay in the set-up file.
constexpr std::array<std::string_view, 7> placed_words{"at", "aim", "facing", "roll", "level", "on", "circuit"};

bool is_placed(std::string_view word) {
    return std::find(placed_words.begin(), placed_words.end(), word) != placed_words.end();
}

bool is_carried(std::string_view word) {
    return find_key(section("kit item"), word) != nullptr;
}

/// Somewhere, so that the reader of the thing can have a look at it.
const toml::table& standing_somewhere(ThingKind kind) {
    static const toml::table lamp = toml::parse("at = [0, 0, 0]\naim = [0, 1, 0]\n");
    static const toml::table panel = toml::parse("at = [0, 0, 0]\nfacing = [0, 1, 0]\n");
    return kind == ThingKind::lamp ? lamp : panel;
}

PanelKind panel_kind(ThingKind kind) {
    switch (kind) {
        case ThingKind::board:
            return PanelKind::board;
        case ThingKind::flag:
            return PanelKind::flag;
        case ThingKind::cloth:
            return PanelKind::cloth;
        default:
            return PanelKind::net;
    }
}

void check_words(const FileContext& context, const ThingWord& word, const toml::table& t, const std::string& title) {
    for (const auto& [key, node] : t) {
        if (is_placed(key.str()))
            throw InputError(context.where(key), title + ": " + std::string(key.str()) +
                                                     " says where a thing is; that belongs in the set-up file");
        if (is_carried(key.str()) || find_key(section(word.section), key.str()) != nullptr) continue;
        std::vector<std::string> valid = key_names(section("kit item"));
        for (const std::string& name : key_names(section(word.section)))
            if (!is_placed(name)) valid.push_back(name);
        throw InputError(context.where(key),
                         "unknown key " + in_quotes(key.str()) + " in " + title + hint(key.str(), valid));
    }
}

int whole(const LayeredTable& t, std::string_view key) {
    const double n = t.number(key);
    if (n != std::floor(n)) t.refuse(key, "is " + plain(n) + "; expected a whole number");
    return static_cast<int>(n);
}

std::vector<std::string> names_of_kind(const Kit& kit, ThingKind kind) {
    std::vector<std::string> names;
    for (const KitItem* i : kit.items())
        if (i->kind == kind) names.push_back(i->name);
    return names;
}

const KitItem& found_item(const FileContext& context, const Kit& kit, const ThingWord& word, const toml::node& like,
                          const std::string& title) {
    const auto* text = like.as_string();
    if (!text)
        throw InputError(context.where(like),
                         title + ": like is " + found_value(like) + "; expected the name of an item of the kit");
    const KitItem* item = kit.item(text->get());
    if (item && item->kind == word.kind) return *item;
    throw InputError(context.where(like), title + ": no " + word.word + " in the kit called " + in_quotes(text->get()) +
                                              hint(text->get(), names_of_kind(kit, word.kind)));
}

}  // namespace

namespace {

/// By its own name, the last of that name first; or by what the trade calls it.
template <class All>
const typename All::value_type* by_name(const All& all, std::string_view name) {
    for (auto i = all.rbegin(); i != all.rend(); ++i)
        if (i->name == name) return &*i;
    const std::string ours = item_in_our_words(tidy(name));
    for (auto i = all.rbegin(); i != all.rend(); ++i)
        if (tidy(i->name) == ours) return &*i;
    return nullptr;
}

}  // namespace

const KitItem* Kit::item(std::string_view name) const {
    return by_name(items_, name);
}

const KitPart* Kit::part(std::string_view name) const {
    return by_name(parts_, name);
}

std::vector<const KitItem*> Kit::items() const {
    std::vector<const KitItem*> all;
    for (const KitItem& i : items_)
        if (item(i.name) == &i) all.push_back(&i);
    return all;
}

void Kit::read_item(const FileContext& context, const ThingWord& word, toml::table& written, bool generic) {
    const std::string name = name_in(context, written, word.section);
    const std::string title = std::string(word.section) + " " + in_quotes(name);
    const KitItem* hidden = item(name);
    if (hidden && (!hidden->generic || generic))
        throw InputError(context.where(*written.get("name")), "a second " + in_quotes(name) + " in the kit");
    if (hidden && hidden->kind != word.kind)
        throw InputError(context.where(*written.get("name")),
                         in_quotes(name) + " is no " + word.word + " in the catalogue; expected another name");
    check_words(context, word, written, title);

    KitItem item;
    item.name = name;
    item.kind = word.kind;
    item.generic = generic;
    std::vector<const toml::table*> carried;
    // The item that it is like, or the generic item of just that name.
    const KitItem* base = hidden;
    if (const toml::node* like = written.get("like")) base = &found_item(context, *this, word, *like, title);
    if (base) {
        item.layers = base->layers;
        for (std::size_t i = 0; i < items_.size(); ++i)
            if (&items_[i] == base) carried = carried_[i];
    }
    Written& kept = written_.emplace_back();
    for (auto&& [key, node] : written) {
        toml::table& to = is_carried(key.str()) ? kept.carried : kept.light;
        node.visit([&, &at = key](auto& value) { to.insert(at, std::move(value)); });
    }
    item.layers.push_back(&kept.light);
    carried.push_back(&kept.carried);

    const LayeredTable c(context, "kit item", title, carried);
    if (c.has("count")) item.count = whole(c, "count");
    item.weight = c.number("weight");
    item.stand = c.text("stand");
    item.stands = c.has("stands") ? whole(c, "stands") : item.stand.empty() ? 0 : 1;
    item.parts = c.names("parts");
    item.source = c.text("source");
    item.notes = c.text("notes");
    item.practical = c.yes("practical");
    // A count belongs to the item that gives it, not to those made from it.
    if (base && !kept.carried.contains("count")) item.count = base == hidden ? base->count : std::nullopt;
    if (!generic && !item.count && item.parts.empty()) item.count = 1;

    std::vector<const toml::table*> layers{&standing_somewhere(word.kind)};
    layers.insert(layers.end(), item.layers.begin(), item.layers.end());
    FileContext here = context;
    here.kit = this;
    const LayeredTable t(here, word.section, title, layers);
    if (word.kind == ThingKind::lamp) {
        item.lamp = read_lamp(t, {}, luminaires_);
    } else {
        item.panel = read_panel(t, panel_kind(word.kind), {});
    }
    items_.push_back(std::move(item));
    carried_.push_back(std::move(carried));
}

void Kit::read_parts(const FileContext& context, const toml::table& root) {
    for (const toml::table* table : tables_of(context, root, "part", "[[part]]", most_items)) {
        const LayeredTable t(context, "[[part]]", "[[part]] " + in_quotes(name_in(context, *table, "[[part]]")),
                             {table});
        KitPart p;
        p.name = t.text("name");
        if (t.has("count")) p.count = whole(t, "count");
        p.weight = t.number("weight");
        p.notes = t.text("notes");
        if (part(p.name) && part(p.name)->count)
            throw InputError(t.where("name"), "a second part " + in_quotes(p.name) + " in the kit");
        parts_.push_back(p);
    }
}

/// [own]: generic items and parts by name, each with how many there are.
void Kit::read_own(const FileContext& context, const toml::table& root) {
    const toml::node* node = root.get("own");
    if (!node) return;
    const auto* own = node->as_table();
    if (!own)
        throw InputError(context.where(*node), "own is " + found_value(*node) +
                                                   "; expected [own] with lines such as "
                                                   "\"1.2 m board, white foam\" = 2");
    for (const auto& [key, value] : *own) {
        const auto count = value.is_integer() ? value.value<std::int64_t>() : std::nullopt;
        if (!count || *count < 0 || *count > 1000)
            throw InputError(context.where(value), "[own]: " + in_quotes(key.str()) + " is " + found_value(value) +
                                                       "; expected a whole number up to 1000");
        const int n = static_cast<int>(*count);
        if (const KitItem* counted = item(key.str()); counted && !counted->generic)
            throw InputError(context.where(key),
                             "[own]: " + in_quotes(key.str()) + " is in the kit already; expected one place for each");
        if (const KitItem* generic = item(key.str()); generic && generic->generic) {
            KitItem mine = *generic;  // under its own name, whatever it was called
            mine.generic = false;
            mine.count = n;
            std::vector<const toml::table*> carried;
            for (std::size_t i = 0; i < items_.size(); ++i)
                if (&items_[i] == generic) carried = carried_[i];
            carried_.push_back(std::move(carried));
            items_.push_back(std::move(mine));
        } else if (const KitPart* p = part(key.str())) {
            KitPart mine = *p;
            mine.count = n;
            parts_.push_back(mine);
        } else {
            std::vector<std::string> valid;
            for (const KitItem* i : items()) valid.push_back(i->name);
            for (const KitPart& x : parts_) valid.push_back(x.name);
            throw InputError(context.where(key),
                             "[own]: nothing in the catalogue called " + in_quotes(key.str()) + hint(key.str(), valid));
        }
    }
}

void Kit::read_file(const FileContext& context, const std::string& text, bool generic) {
    toml::table& root = files_.emplace_back(parse_toml(text, context.path));
    const LayeredTable top(context, "a kit file", "the kit file", {&root});
    top.text("title");
    read_parts(context, root);
    for (const ThingWord& word : thing_words) {
        if (std::find(kit_kinds.begin(), kit_kinds.end(), word.kind) == kit_kinds.end()) continue;
        std::vector<std::string_view> called{word.word};
        for (const KeyWord& w : key_words())
            if (w.ours == word.word) called.push_back(w.said);
        for (const std::string_view key : called) {
            tables_of(context, root, key, word.section, most_items);  // refuses what is no list of tables
            if (toml::array* list = root[key].as_array())
                for (toml::node& item : *list) read_item(context, word, *item.as_table(), generic);
        }
    }
    read_own(context, root);
    if (!generic) owned_ = true;
}

std::shared_ptr<const Kit> Kit::catalogue() {
    static const std::shared_ptr<const Kit> kit = [] {
        auto k = std::make_shared<Kit>();
        k->read_file({"the catalogue", nullptr}, std::string(catalogue_text()), true);
        return k;
    }();
    return kit;
}

std::shared_ptr<const Kit> Kit::read(const FileContext& context, const toml::table& root) {
    const LayeredTable top(context, "the file", "the file", {&root});
    const toml::node* node = top.find("kit");
    if (!node) return nullptr;
    std::vector<const toml::node*> files{node};
    if (const auto* list = node->as_array()) {
        files.clear();
        for (const toml::node& f : *list) files.push_back(&f);
    }
    if (files.empty() || files.size() > most_files) top.refuse("kit", "lists no file, or more than 20");
    auto kit = std::make_shared<Kit>();
    kit->read_file({"the catalogue", nullptr}, std::string(catalogue_text()), true);
    std::size_t bytes = 0;
    for (const toml::node* f : files) {
        const auto* name = f->as_string();
        if (!name) top.refuse_kind("kit", *f, "the path of a kit file, or a list of these");
        const std::string path = (std::filesystem::path(context.path).parent_path() / name->get()).string();
        std::string text;
        try {
            text = text_of_file(path, "a kit file");
        } catch (const InputError& e) {
            throw InputError(context.where(*f), "kit: " + std::string(e.what()));
        }
        bytes += text.size();
        if (bytes > largest_setup_file)
            throw InputError(context.where(*f), "kit: more than 16 MB in all kit files; expected what a crew owns");
        kit->read_file({path, context.remarks}, text, false);
    }
    return kit;
}

std::string item_name_in(const LayeredTable& t) {
    const std::string said = t.text("like");
    const KitItem* item = said.empty()                 ? nullptr
                          : t.context().kit != nullptr ? t.context().kit->item(said)
                                                       : Kit::catalogue()->item(said);
    return item ? item->name : said;
}

const KitItem* item_like(const FileContext& context, const Thing& thing) {
    for (auto layer = thing.layers.rbegin(); layer != thing.layers.rend(); ++layer)
        if (const toml::node* like = (*layer)->get("like"))
            return &found_item(context, context.kit != nullptr ? *context.kit : *Kit::catalogue(), *thing.word, *like,
                               std::string(thing.word->section) + " " + in_quotes(thing.name));
    return nullptr;
}

}  // namespace rushlight
