#include "results/compare/match.h"

#include "setup/plain/setup.h"

#include <cmath>
#include <optional>

namespace rushlight {

namespace {

constexpr double third_of_a_stop = 1.0 / 3, half_a_stop = 0.5, noticed_mired = 20;

struct Side {
    const PersonReadings* person = nullptr;
    const Reading* key = nullptr;
    const Ratio* cheeks = nullptr;
};

Side side_of(const Sheet& sheet) {
    Side s;
    if (!sheet.camera) return s;
    for (const PersonReadings& p : sheet.people)
        if (p.mark == sheet.camera->subject) s.person = &p;
    if (s.person == nullptr) return s;
    for (const Reading& r : sheet.readings)
        if (r.mark == s.person->mark && r.side == "key") s.key = &r;
    if (!s.person->key_to_fill.empty()) s.cheeks = &s.person->key_to_fill.front();
    return s;
}

Measured exposure_of(const Side& s, const Sheet& sheet) {
    return stops_between({sheet.camera->metered}, s.key->lux);
}

Measured mired_from_balance(const Side& s, const Sheet& sheet) {
    return {1e6 / s.key->kelvin - 1e6 / sheet.camera->white_balance, 0};
}

std::string title(const Sheet& sheet, const Side& s) {
    std::string text = sheet.setup;
    if (!sheet.option.empty() && sheet.option != as_found_name) text += " · " + sheet.option;
    return s.person != nullptr ? text + " (" + s.person->mark + ")" : text;
}

}  // namespace

bool are_two_sides(const Sheet& a, const Sheet& b) {
    return a.camera && b.camera && a.camera->lens == b.camera->lens && !a.camera->subject.empty() &&
           !b.camera->subject.empty() && a.camera->subject != b.camera->subject;
}

Match match_of(const Sheet& a, const Sheet& b) {
    const Side here = side_of(a), there = side_of(b);
    Match m{title(a, here), title(b, there), {}, {}};
    if (here.person == nullptr || there.person == nullptr) {
        m.remarks.emplace_back("One of the two has no camera on a person: there is nothing to match.");
        return m;
    }
    const auto row = [&](const char* name, const char* unit, const std::optional<Measured>& one,
                         const std::optional<Measured>& other, double allowed) {
        MatchRow r{name, unit, one.value_or(Measured{}), other.value_or(Measured{}), {}, allowed, one && other};
        r.apart = {r.there.value - r.here.value, std::hypot(r.here.error, r.there.error)};
        m.rows.push_back(r);
    };
    const bool lit = here.key != nullptr && there.key != nullptr;
    const auto if_lit = [&](const Measured& value) { return lit ? std::optional(value) : std::nullopt; };
    row("key cheek, incident over asked", "stops", if_lit(lit ? exposure_of(here, a) : Measured{}),
        if_lit(lit ? exposure_of(there, b) : Measured{}), third_of_a_stop);
    row("cheek to cheek, (K+F):F", "stops", here.cheeks ? std::optional(here.cheeks->stops) : std::nullopt,
        there.cheeks ? std::optional(there.cheeks->stops) : std::nullopt, third_of_a_stop);
    const bool coloured = lit && here.key->kelvin > 0 && there.key->kelvin > 0;
    row("colour of the key, from balance", "mired",
        coloured ? std::optional(mired_from_balance(here, a)) : std::nullopt,
        coloured ? std::optional(mired_from_balance(there, b)) : std::nullopt, noticed_mired);
    row("background against key cheek", "stops", here.person->background_step, there.person->background_step,
        half_a_stop);
    const auto eyes = [](const PersonReadings& p) {
        return p.eye_seen ? std::optional(Measured{static_cast<double>(p.eye_lights.size()), 0}) : std::nullopt;
    };
    row("eye lights", "", eyes(*here.person), eyes(*there.person), 0);

    if (a.camera->mist != b.camera->mist) m.remarks.emplace_back("The two have not the same mist before the lens.");
    if (a.camera->lens != b.camera->lens) m.remarks.emplace_back("The two lenses differ in length.");
    return m;
}

}  // namespace rushlight
