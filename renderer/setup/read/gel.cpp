#include "setup/plain/catalogues.h"
#include "setup/read/readers.h"
#include "setup/text/words.h"

#include <cmath>

namespace rushlight {

namespace {

constexpr std::size_t most_gels = 10;

/// Shares that pass one gel put before white light of `base`, which it then turns into light of another kelvin.
Spectrum pass_gel(const LayeredTable& t, std::string_view key, const toml::node& node, double& base) {
    GelKind found{"", 0, 0};
    if (const auto* text = node.as_string()) {
        const GelKind* kind = kind_named(gel_kinds(), tidy(text->get()));
        if (!kind)
            throw InputError(t.context().where(node), t.title() + ": unknown gel " + in_quotes(text->get()) +
                                                          hint(text->get(), names_of(gel_kinds())));
        found = *kind;
    } else if (const auto* table = node.as_table()) {
        const LayeredTable g(t.context(), "gel", t.title() + " gel", {table});
        found = {"", g.number("mired"), g.number("stops"), g.number("duv")};
        if (found.mired != 0 && found.duv != 0) g.refuse("duv", "can't go with mired; expected a list of two gels");
    } else {
        t.refuse_kind(key, node, "a name such as \"half orange\", a table of mired and stops, or a list of these");
    }
    const auto shares = gel_before(base, found);
    if (!shares)
        throw InputError(t.context().where(node),
                         t.title() + ": gel takes light of " + plain(std::round(base)) + " K out of 1000 to 25000 K");
    return *shares;
}

std::string words_of(const toml::node& node) {
    if (const auto* text = node.as_string()) {
        const GelKind* kind = kind_named(gel_kinds(), tidy(text->get()));
        return kind ? std::string(kind->name) : tidy(text->get());
    }
    const auto* table = node.as_table();
    if (!table) return "";
    std::string words;
    for (const char* unit : {"mired", "stops", "duv"})
        if (const auto number = (*table)[unit].value<double>(); number && *number != 0)
            words += (words.empty() ? "" : ", ") + plain(*number) + " " + unit;
    return words;
}

}  // namespace

std::string gel_words_in(const LayeredTable& t, std::string_view key) {
    const toml::node* node = t.find(key);
    if (!node) return "";
    const auto* list = node->as_array();
    if (!list) return words_of(*node);
    std::string words;
    for (const toml::node& item : *list) words += (words.empty() ? "" : " + ") + words_of(item);
    return words;
}

Spectrum gels_in(const LayeredTable& t, std::string_view key, double kelvin) {
    Spectrum shares{1.0F};
    const toml::node* node = t.find(key);
    if (!node) return shares;
    const auto* list = node->as_array();
    if (!list) return pass_gel(t, key, *node, kelvin);
    if (list->size() > most_gels) t.refuse(key, "lists more than " + std::to_string(most_gels) + " gels");
    for (const toml::node& item : *list) shares *= pass_gel(t, key, item, kelvin);
    return shares;
}

}  // namespace rushlight
