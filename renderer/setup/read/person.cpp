#include "setup/plain/cast.h"
#include "setup/plain/catalogues.h"
#include "setup/read/readers.h"
#include "setup/text/typed_values.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <tuple>
#include <type_traits>

namespace rushlight {

namespace {

void read_hair(const LayeredTable& t, StandIn& who) {
    const toml::node* node = t.find("hair");
    if (!node || !node->is_string()) {
        who.hair = t.number("hair");
        return;
    }
    const std::string found = t.text("hair");
    const HairKind* kind = kind_named(hair_kinds(), tidy(found));
    if (!kind)
        throw InputError(t.where("hair"),
                         t.title() + ": unknown hair " + in_quotes(found) + hint(found, names_of(hair_kinds())));
    who.hair = kind->reflectance;
    who.hair_warmth = kind->warmth;
}

/// The hue of what is worn, which must be able to reach the reflectance that was given for it.
std::string worn_hue(const LayeredTable& t, const std::string& key, double reflectance) {
    const std::string hue = t.has(key + "_hue") ? hue_in(t, key + "_hue") : "neutral";
    if (luminous_share(*reflectance_of(hue, reflectance), equal_energy()) < reflectance - 0.005)
        t.refuse(key, "is " + plain(reflectance) + ", more than " + hue + " can reach");
    return hue;
}

/// What a word of the file stands for, or what stands already.
template <class T>
void read_word(const LayeredTable& t, std::string_view key,
               std::initializer_list<std::pair<std::string_view, std::type_identity_t<T>>> words, T& value) {
    if (!t.has(key)) return;
    const std::string found = t.word(key);
    for (const auto& [word, meaning] : words)
        if (word == found) value = meaning;
}

void read_glasses(const LayeredTable& t, StandIn& who) {
    read_word(t, "glasses", {{"none", Rims::none}, {"wire", Rims::wire}, {"dark", Rims::dark}, {"pale", Rims::pale}},
              who.glasses);
    read_word(t, "lenses", {{"plain", Lenses::plain}, {"coated", Lenses::coated}, {"empty", Lenses::empty}},
              who.lenses);
    if (t.has("lenses") && who.glasses == Rims::none)
        t.context().remark(t.where("lenses"), t.title() + ": lenses means nothing for someone without glasses");
}

/// Who is not described is guessed from what is: files of people that say no more than height and hair stay people of
/// both sexes and all ages.
void guess_the_rest(const std::optional<LayeredTable>& t, const std::string& mark, StandIn& who) {
    const auto given = [&](std::string_view key) { return t && t->has(key); };
    const bool long_hair =
        who.hair >= 0 && (who.cut == HairCut::bob || who.cut == HairCut::loose || who.cut == HairCut::tied);
    if (!given("sex")) who.sex = long_hair || (who.height < 1.62 && who.hair >= 0) ? Sex::woman : Sex::man;
    const bool neutral = who.hair_warmth < 0.05;
    if (!given("age"))
        who.age = who.height < 1.60 - (who.sex == Sex::woman ? 0.12 : 0)
                      ? std::clamp(10 + (who.height - 1.38) / 0.06, 3.0, 16.0)  // some 6 cm a year (memory)
                  : neutral && who.hair >= 0.45 ? 70
                  : neutral && who.hair >= 0.20 ? 56
                                                : 34;
    if (!given("face")) {
        std::uint32_t sum = 7;
        for (const char c : mark) sum = sum * 31 + static_cast<unsigned char>(c);
        who.face = static_cast<int>(1 + sum % 9999);
    }
}

}  // namespace

std::optional<std::pair<double, double>> hours_in(const LayeredTable& t, std::string_view key) {
    const toml::node* node = t.find(key);
    if (!node) return std::nullopt;
    const auto* list = node->as_array();
    const auto clock = [&](std::size_t i) {
        if (!list || list->size() != 2) t.refuse_kind(key, *node, "two times such as [\"09:30\", \"15:00\"]");
        const auto* text = list->get(i)->as_string();
        const auto hours = text ? clock_from(text->get()) : std::nullopt;
        if (!hours) t.refuse_kind(key, *list->get(i), "a time between \"00:00\" and \"23:59\"");
        return *hours;
    };
    const double from = clock(0), until = clock(1);
    if (until <= from) t.refuse(key, "ends before it begins; expected the earlier time first");
    return std::pair{from, until};
}

StandIn read_person(const std::optional<LayeredTable>& given, const std::string& mark) {
    StandIn who;
    if (!given) {
        guess_the_rest({}, mark, who);
        return who;
    }
    const LayeredTable& t = *given;
    const bool cast = t.has("cast");
    if (cast) {
        const std::string name = t.text("cast");
        const CastPerson* member = kind_named(cast_people(), tidy(name));
        if (!member)
            throw InputError(t.where("cast"),
                             t.title() + ": nobody is called " + in_quotes(name) + hint(name, names_of(cast_people())));
        who = member->who;
    }
    const auto given_or_first = [&](std::string_view key) { return !cast || t.has(key); };
    if (given_or_first("height")) who.height = t.length("height");
    read_word(t, "pose",
              {{"standing", Pose::standing},
               {"walking", Pose::walking},
               {"leaning", Pose::leaning},
               {"seated", Pose::seated}},
              who.pose);
    who.seat = t.length("seat");
    read_word(t, "hands",
              {{"at rest", Hands::sides},
               {"in lap", Hands::lap},
               {"on table", Hands::table},
               {"cup", Hands::cup},
               {"book", Hands::book}},
              who.hands);
    who.table = t.length("table");
    if (given_or_first("skin")) who.skin = t.number("skin");
    if (given_or_first("hair")) read_hair(t, who);
    read_word(t, "hair_cut",
              {{"cropped", HairCut::cropped},
               {"short", HairCut::shorter},
               {"bob", HairCut::bob},
               {"long", HairCut::loose},
               {"tied back", HairCut::tied}},
              who.cut);
    if (given_or_first("hair_wave")) who.wave = t.number("hair_wave");
    read_word(t, "sex", {{"woman", Sex::woman}, {"man", Sex::man}}, who.sex);
    if (t.has("age")) who.age = t.number("age");
    read_word(t, "build",
              {{"slim", Physique::slim},
               {"average", Physique::average},
               {"sturdy", Physique::sturdy},
               {"heavy", Physique::heavy}},
              who.build);
    if (t.has("face")) who.face = static_cast<int>(std::lround(t.number("face")));
    read_word(t, "expression",
              {{"neutral", Expression::neutral},
               {"listening", Expression::listening},
               {"smiling", Expression::smiling},
               {"worried", Expression::worried},
               {"eyes closed", Expression::closed}},
              who.expression);
    if (given_or_first("wardrobe")) who.wardrobe = t.number("wardrobe");
    if (given_or_first("wardrobe_hue")) who.wardrobe_hue = worn_hue(t, "wardrobe", who.wardrobe);
    if (t.has("shirt") || !cast) who.shirt = t.number_if_given("shirt");
    if (who.shirt && !t.has("wear")) who.wear = Wear::jacket;
    read_word(t, "wear",
              {{"jumper", Wear::jumper},
               {"shirt", Wear::shirt},
               {"tee", Wear::tee},
               {"jacket", Wear::jacket},
               {"dress", Wear::dress}},
              who.wear);
    if (t.has("shirt") && who.wear != Wear::jacket)
        t.context().remark(t.where("shirt"), t.title() + ": a shirt of its own is seen under a jacket only");
    if (t.has("shirt"))
        who.shirt_hue = worn_hue(t, "shirt", *who.shirt);
    else if (t.has("shirt_hue"))
        t.context().remark(t.where("shirt_hue"), t.title() + ": shirt_hue means nothing without shirt");
    read_glasses(t, who);
    if (const auto hours = hours_in(t, "hours")) std::tie(who.free_from, who.free_until) = *hours;
    if (!cast) guess_the_rest(t, mark, who);
    if (t.has("seat") && who.pose != Pose::seated)
        t.context().remark(t.where("seat"), t.title() + ": seat means nothing for someone who stands");
    return who;
}

}  // namespace rushlight
