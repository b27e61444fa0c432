#include "setup/plain/catalogues.h"
#include "setup/read/readers.h"
#include "setup/text/words.h"

namespace rushlight {

std::optional<Finish> curtain_in(const LayeredTable& t) {
    const toml::node* node = t.find("curtain");
    if (!node || !node->is_string()) return sheer_curtain(t.number("curtain"));
    const std::string found = t.text("curtain");
    if (const CurtainKind* kind = kind_named(curtain_kinds(), tidy(found))) return curtain_finish(*kind);
    if (const ClothKind* kind = kind_named(cloth_kinds(), tidy(found))) return cloth_finish(*kind);
    std::vector<std::string> valid = names_of(curtain_kinds());
    for (const std::string& cloth : names_of(cloth_kinds())) valid.push_back(cloth);
    throw InputError(t.where("curtain"), t.title() + ": unknown curtain " + in_quotes(found) + hint(found, valid));
}

std::optional<Blind> blind_in(const LayeredTable& opening) {
    const auto t = opening.table("blind", "[[place.opening]] blind");
    if (!t) return std::nullopt;
    Blind b;
    b.slat = t->length("slat");
    b.pitch = t->has("pitch") ? t->length("pitch") : 0.85 * b.slat;
    b.tilt = t->number("tilt");
    b.drawn = t->number("drawn");
    b.upright = t->yes("upright");
    b.finish = finish_in(*t, "finish");
    return b;
}

}  // namespace rushlight
