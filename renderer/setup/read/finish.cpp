#include "setup/plain/catalogues.h"
#include "setup/read/readers.h"
#include "setup/text/trade_words.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace rushlight {

namespace {

std::vector<std::string> finish_names() {
    std::vector<std::string> names;
    for (const NamedFinish& n : finish_catalogue()) names.push_back(n.finish.name);
    return names;
}

Finish named_or_refused(const FileContext& context, const std::string& title, const toml::node& node) {
    const auto* text = node.as_string();
    if (!text) throw InputError(context.where(node), title + " is " + found_value(node) + "; expected a named finish");
    if (auto f = named_finish(text->get())) return *f;
    throw InputError(context.where(node),
                     title + ": unknown finish " + in_quotes(text->get()) + hint(text->get(), finish_names()));
}

Finish grey(double reflectance) {
    Finish f;
    f.name = "reflectance " + plain(reflectance);
    f.reflectance = Spectrum{static_cast<float>(reflectance)};
    return f;
}

/// The hue at that reflectance, or the highest that the hue can reach in the message.
Spectrum hued(const LayeredTable& t, std::string_view key, const std::string& hue, double reflectance) {
    const Spectrum s = reflectance_of(hue, reflectance).value();
    const double reached = luminous_share(s, equal_energy());
    if (reached < reflectance - 0.005)
        t.refuse(key, "is " + plain(reflectance) + "; " + hue + " reaches no more than " +
                          plain(static_cast<int>(reached * 100) / 100.0));
    return s;
}

Finish from_table(const LayeredTable& t) {
    Finish f = grey(0);
    if (const toml::node* like = t.find("like")) f = named_or_refused(t.context(), t.title() + " like", *like);
    const bool anything = t.has("reflectance") || t.has("metal") || t.has("through") || t.has("straight");
    if (!t.has("like") && !anything) throw InputError(t.where(), t.title() + " needs 'reflectance' or 'like'");
    if (f.pane && (anything || t.has("hue"))) t.refuse("like", "is a clear pane, which takes no other shares");

    const bool hue_given = t.has("hue");
    const std::string hue = hue_given ? hue_in(t, "hue") : "neutral";
    const auto reflectance = t.number_if_given("reflectance");
    if (reflectance && (hue_given || !t.has("like"))) {
        f.reflectance = hued(t, "reflectance", hue, *reflectance);
    } else if (reflectance) {
        // The shape of the finish that it is like, at another reflectance.
        const double now = luminous_share(f.reflectance, equal_energy());
        f.reflectance = now > 0 ? f.reflectance * static_cast<float>(*reflectance / now)
                                : Spectrum{static_cast<float>(*reflectance)};
        if (f.reflectance.largest() > 1) t.refuse("reflectance", "is more than this finish can reach");
    } else if (hue_given) {
        f.reflectance = hued(t, "hue", hue, luminous_share(f.reflectance, equal_energy()));
    }
    if (const auto v = t.number_if_given("gloss")) f.gloss = static_cast<float>(*v);
    if (const auto v = t.number_if_given("roughness")) f.roughness = static_cast<float>(*v);
    if (const auto v = t.number_if_given("metal")) f.metal = hued(t, "metal", hue, *v);
    if (const auto v = t.number_if_given("through")) f.through = hued(t, "through", hue, *v);
    if (const auto v = t.number_if_given("spread")) f.spread = static_cast<float>(*v);
    if (!f.pane)
        for (const char* key : {"passes", "index"})
            if (t.has(key)) t.refuse(key, "is for a clear sheet; expected like = \"glass\" beside it");
    if (const auto v = t.number_if_given("index")) f.pane_index = static_cast<float>(*v);
    if (const auto v = t.number_if_given("passes")) {
        const float most = lossless_pane_passes(f.pane_index);
        if (*v > static_cast<double>(most) + 5e-4)
            t.refuse("passes", "is " + plain(*v) + "; a sheet of index " + plain(f.pane_index) + " passes " +
                                   plain(std::floor(most * 1000) / 1000.0) + " at most: give coated glass its index");
        f.pane_transmittance = pane_transmittance_for(static_cast<float>(*v), f.pane_index);
    }
    if (t.has("pattern")) {
        f.pattern = word_in<PatternKind>(t, "pattern", pattern_words);
        if (f.pane || t.has("metal")) t.refuse("pattern", "is for a matt body; expected none beside glass and metal");
    }
    if (const auto v = t.number_if_given("straight")) f.straight = Spectrum{static_cast<float>(*v)};
    const float sum = (f.reflectance + f.metal + f.through + f.straight).largest();
    if (!f.pane && sum > 1.0005F)
        throw InputError(t.where(), t.title() + ": reflectance, metal, through and straight come to " + plain(sum) +
                                        " in the strongest colour; expected no more than 1");
    if (t.has("reflectance") || t.has("hue") || !t.has("like"))
        f.name = (hue == "neutral" ? "" : hue + ", ") + "reflectance " +
                 plain(luminous_share(f.reflectance, equal_energy()));
    return f;
}

}  // namespace

std::string hue_in(const LayeredTable& t, std::string_view key) {
    const std::string found = t.text(key);
    const std::string hue = tidy(found);
    const auto known = [](const std::string& name) {
        return std::find(hue_names().begin(), hue_names().end(), name) != hue_names().end();
    };
    for (std::size_t i = 0; const auto other = known(hue) ? std::nullopt : meaning(hue, i); ++i)
        if (known(*other)) return *other;
    if (!known(hue))
        throw InputError(t.where(key), t.title() + ": unknown hue " + in_quotes(found) + hint(found, hue_names()));
    return hue;
}

Finish finish_from(const FileContext& context, const std::string& title, const toml::node& node) {
    if (const auto* table = node.as_table()) return from_table({context, "finish", title, {table}});
    if (node.is_string()) return named_or_refused(context, title, node);
    const auto value = node.value<double>();
    if (!node.is_number() || !value)
        throw InputError(context.where(node),
                         title + " is " + found_value(node) + "; expected a named finish, a reflectance or a table");
    if (!(*value >= 0 && *value <= 1))
        throw InputError(context.where(node),
                         title + " is " + found_value(node) + "; expected a reflectance between 0 and 1");
    return grey(*value);
}

Finish finish_in(const LayeredTable& t, std::string_view key) {
    if (const toml::node* node = t.find(key))
        return finish_from(t.context(), t.title() + " " + std::string(key), *node);
    const Key* k = find_key(section(t.section_name()), key);
    const std::string standard(k->standard);
    if (auto named = named_finish(standard)) return *named;
    return grey(std::strtod(standard.c_str(), nullptr));
}

}  // namespace rushlight
