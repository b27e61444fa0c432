#include "setup/read/setup_file.h"

#include "setup/read/every_error.h"
#include "setup/read/kit.h"
#include "setup/read/readers.h"
#include "setup/read/spots.h"
#include "setup/text/file_text.h"
#include "setup/text/words.h"

#include <algorithm>

namespace rushlight {

namespace {

constexpr std::size_t most_setups = 100, most_options = 100;
constexpr std::size_t most_to_check = 1'000'000;  // things times set-ups times options

/// A [[setup]] or [[option]] as it stands in the file.
struct Entry {
    std::string name;
    const toml::table* table = nullptr;  // none for what always exists
    std::vector<std::string> setups;     // of an option: empty means all
};

bool offered(const Entry& option, const std::string& setup) {
    return option.setups.empty() || std::find(option.setups.begin(), option.setups.end(), setup) != option.setups.end();
}

std::vector<std::string> names_of_entries(const std::vector<Entry>& entries) {
    std::vector<std::string> names;
    for (const Entry& e : entries) names.push_back(e.name);
    return names;
}

}  // namespace

struct SetupFile::Contents {
    FileContext context;
    std::vector<std::string> remarks;
    toml::table root;
    std::shared_ptr<const Kit> kit;
    std::string title;
    std::vector<Entry> setups, options;
    std::vector<Target> targets;
    BalanceRules balance;
    std::optional<std::pair<double, double>> hours;
    mutable RoughModels models;
    mutable Luminaires luminaires;

    Contents(toml::table tree, const std::string& path, const Patience& patience) : root(std::move(tree)) {
        context.path = path;
        context.patience = patience;
        context.remarks = &remarks;
        const LayeredTable top(context, "the file", "the file", {&root});
        title = top.text("title");
        std::replace_if(
            title.begin(), title.end(), [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
        hours = hours_in(top, "hours");
        kit = Kit::read(context, root);
        context.kit = kit.get();
        if (!top.has("place")) throw InputError(Where{path, 1, 1}, "the file needs [place]");
        for (const char* one : {"place", "day"})
            if (const toml::node* node = top.find(one); node && !node->is_table())
                throw InputError(context.where(*node), std::string(one) + " is " + found_value(*node) + "; expected [" +
                                                           one + "] with one bracket");
        read_setups();
        read_options();
        targets = read_targets(context, root, names_of_entries(setups));
        balance = read_balance(context, root);
        check_all();
        context.patience = {};
    }

    void read_setups() {
        for (const toml::table* t : tables_of(context, root, "setup", "[[setup]]", most_setups)) {
            Entry e{name_in(context, *t, "[[setup]]"), t, {}};
            for (const Entry& other : setups)
                if (other.name == e.name)
                    throw InputError(context.where(*t->get("name")), "a second set-up " + in_quotes(e.name));
            const LayeredTable words(context, "[[setup]]", "[[setup]] " + in_quotes(e.name), {t});
            words.text("notes");
            setups.push_back(e);
        }
        if (setups.empty()) setups.push_back({as_found_name, nullptr, {}});
    }

    void read_options() {
        options.push_back({as_found_name, nullptr, {}});
        for (const toml::table* t : tables_of(context, root, "option", "[[option]]", most_options)) {
            Entry e{name_in(context, *t, "[[option]]"), t, {}};
            const LayeredTable words(context, "[[option]]", "[[option]] " + in_quotes(e.name), {t});
            words.text("notes");
            if (e.name == as_found_name) words.refuse("name", "is 'as found', which is always there; expected another");
            e.setups = words.names("setups");
            if (words.has("setups") && e.setups.empty())
                words.refuse("setups", "is empty; leave it out for all set-ups");
            for (std::size_t i = 0; i < e.setups.size(); ++i)
                if (!find(setups, e.setups[i]))
                    throw InputError(context.where(*words.find("setups")->as_array()->get(i)),
                                     words.title() + ": no set-up " + in_quotes(e.setups[i]) +
                                         hint(e.setups[i], names_of_entries(setups)));
            // The same name may stand again for other set-ups: one idea, done differently from each side.
            for (const Entry& other : options)
                for (const Entry& s : setups)
                    if (other.name == e.name && offered(other, s.name) && offered(e, s.name))
                        throw InputError(context.where(*t->get("name")),
                                         "a second option " + in_quotes(e.name) + " for set-up " + in_quotes(s.name));
            options.push_back(e);
        }
    }

    static const Entry* find(const std::vector<Entry>& entries, const std::string& name) {
        for (const Entry& e : entries)
            if (e.name == name) return &e;
        return nullptr;
    }

    void check_all() const {
        const std::size_t things = Things(context, root).count() + 1;
        if (things * setups.size() * options.size() > most_to_check)
            throw InputError(Where{context.path},
                             std::to_string(things) + " things in " + std::to_string(setups.size()) + " set-ups with " +
                                 std::to_string(options.size()) + " options are too many; expected a product of " +
                                 std::to_string(most_to_check) + " at most");
        for (const Entry& s : setups)
            for (const Entry& o : options)
                if (offered(o, s.name)) check(s, o);
    }

    /// An error that the base alone does not have says in which set-up and option it came up.
    void check(const Entry& s, const Entry& o) const {
        try {
            complete(s, o, false);
        } catch (const InputError& error) {
            if (!s.table && !o.table) throw;
            try {
                complete({as_found_name, nullptr, {}}, {as_found_name, nullptr, {}}, false);
            } catch (const InputError& in_base) {
                if (std::string(in_base.what()) == error.what()) throw;
            }
            std::string which = s.table ? "set-up " + in_quotes(s.name) : "";
            if (o.table) which += (which.empty() ? "" : ", ") + ("option " + in_quotes(o.name));
            throw InputError(std::string(error.what()) + " (in " + which + ")");
        }
    }

    Setup complete(const Entry& s, const Entry& o, bool with_models) const {
        context.patience.look();
        Setup setup;
        setup.title = title;
        setup.name = s.name;
        setup.option = o.name;
        Things things(context, root);
        std::vector<const toml::table*> days;
        if (const toml::table* day = root["day"].as_table()) days.push_back(day);
        for (const auto& [entry, word] : {std::pair{&s, "[[setup]]"}, std::pair{&o, "[[option]]"}}) {
            if (!entry->table) continue;
            const LayeredTable t(context, word, std::string(word) + " " + in_quotes(entry->name), {entry->table});
            things.apply(*entry->table, t.title());
            if (t.has("notes")) setup.notes.push_back(t.text("notes"));
            if (t.table("day", "[day]")) days.push_back(t.find("day")->as_table());
        }
        setup.place = read_place(context, root, things, models, with_models);
        setup.day = read_day(context, setup.place, days);
        days.resize(root["day"].is_table() ? 1 : 0);
        setup.scouted = read_day(context, setup.place, days);
        remark_on_location(setup.day);
        const Spots spots(context, setup.place, things);
        FileContext here = context;
        here.spots = &spots;
        setup.rig = read_rig(here, root, things, luminaires);
        setup.camera = camera_of(s, setup.rig);
        for (Mark& m : setup.rig.marks)
            if (m.gaze_at_lens && setup.camera >= 0) m.gaze = setup.its_camera()->at;
        setup.balance = balance;
        for (const Target& t : targets)
            if (t.setups.empty() || std::count(t.setups.begin(), t.setups.end(), s.name) > 0)
                setup.targets.push_back(t);
        read_schedule(s, setup);
        return setup;
    }

    void read_schedule(const Entry& s, Setup& setup) const {
        std::vector<std::string> marks;
        for (const Mark& m : setup.rig.marks) marks.push_back(m.name);
        setup.needs = marks;
        if (!s.table) return;
        const LayeredTable t(context, "[[setup]]", "[[setup]] " + in_quotes(s.name), {s.table});
        setup.minutes = t.number("minutes");
        if (!t.has("needs")) return;
        setup.needs = t.names("needs");
        for (const std::string& name : setup.needs)
            if (std::find(marks.begin(), marks.end(), name) == marks.end())
                throw InputError(t.where("needs"), t.title() + ": no mark " + in_quotes(name) + hint(name, marks));
    }

    void remark_on_location(const Day& day) const {
        const toml::table& place = *root["place"].as_table();
        if (day.dark || day.uniform_sky_luminance >= 0 || (place.get("latitude") && place.get("longitude"))) return;
        std::string sentence = "latitude and longitude are not given; 50 and 0 degrees are assumed";
        if (place.get("longitude")) sentence = "latitude is not given; 50 degrees is assumed";
        if (place.get("latitude")) sentence = "longitude is not given; 0 degrees is assumed";
        context.remark(context.where(place), sentence);
    }

    int camera_of(const Entry& s, const Rig& rig) const {
        if (s.table && s.table->get("camera")) {
            const LayeredTable t(context, "[[setup]]", "[[setup]] " + in_quotes(s.name), {s.table});
            const std::string name = t.text("camera");
            std::vector<std::string> names;
            for (std::size_t i = 0; i < rig.cameras.size(); ++i) {
                if (rig.cameras[i].name == name) return static_cast<int>(i);
                names.push_back(rig.cameras[i].name);
            }
            throw InputError(t.where("camera"), t.title() + ": no camera " + in_quotes(name) + hint(name, names));
        }
        return rig.cameras.empty() ? -1 : 0;
    }
};

SetupFile::SetupFile(std::unique_ptr<Contents> contents) : contents_(std::move(contents)) {}
SetupFile::~SetupFile() = default;
SetupFile::SetupFile(SetupFile&&) noexcept = default;
SetupFile& SetupFile::operator=(SetupFile&&) noexcept = default;

SetupFile SetupFile::read(const std::string& path, const Patience& patience) {
    return from_text(text_of_file(path), path, patience);
}

SetupFile SetupFile::from_text(const std::string& text, const std::string& path, const Patience& patience) {
    try {
        return SetupFile(std::make_unique<Contents>(parse_toml(text, path), path, patience));
    } catch (const InputError& first) {
        parse_toml(text, path);  // throws again where it is no TOML at all
        throw every_error(text, path, first, [&](toml::table left) { Contents(std::move(left), path, patience); });
    }
}

const std::string& SetupFile::title() const {
    return contents_->title;
}

std::vector<std::string> SetupFile::setup_names() const {
    return names_of_entries(contents_->setups);
}

std::vector<std::string> SetupFile::option_names(const std::string& setup) const {
    std::vector<std::string> names;
    for (const Entry& o : contents_->options)
        if (offered(o, setup)) names.push_back(o.name);
    return names;
}

Setup SetupFile::setup(const std::string& name, const std::string& option) const {
    const Entry* s = Contents::find(contents_->setups, name);
    if (!s)
        throw InputError(Where{contents_->context.path}, "no set-up " + in_quotes(name) + hint(name, setup_names()));
    for (const Entry& o : contents_->options)
        if (o.name == option && offered(o, name)) return contents_->complete(*s, o, true);
    throw InputError(Where{contents_->context.path}, "no option " + in_quotes(option) + " for set-up " +
                                                         in_quotes(name) + hint(option, option_names(name)));
}

Setup SetupFile::setup() const {
    return contents_->complete(contents_->setups.front(), contents_->options.front(), true);
}

std::optional<std::pair<double, double>> SetupFile::working_hours() const {
    return contents_->hours;
}

const Kit& SetupFile::kit() const {
    return contents_->kit ? *contents_->kit : *Kit::catalogue();
}

const std::vector<std::string>& SetupFile::remarks() const {
    return contents_->remarks;
}

}  // namespace rushlight
