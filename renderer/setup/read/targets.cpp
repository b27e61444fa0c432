#include "setup/read/readers.h"
#include "setup/text/words.h"

#include <algorithm>

namespace rushlight {

namespace {

constexpr std::size_t most_targets = 100;

}  // namespace

std::vector<Target> read_targets(const FileContext& context, const toml::table& root,
                                 const std::vector<std::string>& setup_names) {
    std::vector<Target> targets;
    for (const toml::table* table : tables_of(context, root, "target", "[[target]]", most_targets)) {
        const LayeredTable t(context, "[[target]]", "[[target]]", {table});
        Target target;
        target.reading = t.text("reading");
        target.text = t.text("want");
        target.where = t.where("reading");
        const auto want = want_from(target.text);
        if (!want)
            throw InputError(t.where("want"),
                             t.title() + ": want is " + in_quotes(target.text) +
                                 "; expected such as \"T4\", \"400 lx\", \"4:1\", \"1 over\", \"at most 3 over grey\", "
                                 "\"2 under B near cheek\", \"match 1 wide within 1/3\" or \"5600 K\"");
        target.want = *want;
        if (want->kind == Want::Kind::match) {
            const auto known = std::find_if(setup_names.begin(), setup_names.end(),
                                            [&](const std::string& n) { return tidy(n) == want->other; });
            if (known == setup_names.end())
                throw InputError(t.where("want"), t.title() + ": no set-up " + in_quotes(want->other) + " to match" +
                                                      hint(want->other, setup_names));
            target.want.other = *known;
        }
        target.setups = t.names("setups");
        for (std::size_t i = 0; i < target.setups.size(); ++i)
            if (std::count(setup_names.begin(), setup_names.end(), target.setups[i]) == 0)
                throw InputError(
                    context.where(*t.find("setups")->as_array()->get(i)),
                    t.title() + ": no set-up " + in_quotes(target.setups[i]) + hint(target.setups[i], setup_names));
        targets.push_back(std::move(target));
    }
    return targets;
}

BalanceRules read_balance(const FileContext& context, const toml::table& root) {
    BalanceRules rules;
    const toml::node* node = root.get("balance");
    if (!node) return rules;
    if (!node->is_table())
        throw InputError(context.where(*node),
                         "balance is " + found_value(*node) + "; expected [balance] with one bracket");
    const LayeredTable t(context, "[balance]", "[balance]", {node->as_table()});
    if (t.has("lamps")) rules.lamps = t.names("lamps");
    rules.gels = t.yes("gels");
    rules.nd = t.yes("nd");
    if (const toml::node* stop = t.find("stop")) {
        const auto* list = stop->as_array();
        if (!list || list->size() != 2) t.refuse_kind("stop", *stop, "[from, to] such as [2.8, 5.6]");
        rules.stop = {t.number_in(*list->get(0), "stop"), t.number_in(*list->get(1), "stop")};
        if (rules.stop->first > rules.stop->second) t.refuse("stop", "runs from more to less; expected [from, to]");
    }
    constexpr std::size_t most_moves = 8;
    for (const toml::table* table : tables_of(context, *node->as_table(), "move", "[[balance.move]]", most_moves)) {
        const LayeredTable move(context, "[[balance.move]]", "[[balance.move]]", {table});
        rules.moves.push_back({move.text("name"), point_in(move, "to"), move.where("name")});
    }
    return rules;
}

}  // namespace rushlight
