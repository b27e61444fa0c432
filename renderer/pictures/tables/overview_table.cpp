#include "pictures/tables/overview_table.h"

#include "pictures/words/columns.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

const PersonReadings* subject_of(const Sheet& s) {
    for (const PersonReadings& p : s.people)
        if (s.camera && p.mark == s.camera->subject) return &p;
    return s.people.empty() ? nullptr : &s.people.front();
}

std::string whose(const Sheet& s) {
    const PersonReadings* p = subject_of(s);
    if (p != nullptr) return p->mark;
    return s.readings.empty() ? "" : s.readings.front().mark;
}

std::string stop_text(const Sheet& s) {
    for (const Reading& r : s.readings)
        if (r.mark == whose(s) && r.side == "key" && r.t_stop > 0) return t_stop_text(r.t_stop);
    return "-";
}

/// (K+F):F by the flat meter, as a ratio target asks for it.
std::string ratio_of(const Sheet& s) {
    for (const Ratio& r : s.ratios)
        if (!whose(s).empty() && r.name.rfind(whose(s) + " cheeks", 0) == 0) return ratio_text(r.ratio);
    return "-";
}

std::string hair_text(const Sheet& s) {
    for (const Separation& sep : s.separations)
        if (sep.mark == whose(s)) return stops_text(sep.stops.value);
    return "-";
}

std::string background_text(const Sheet& s) {
    const PersonReadings* p = subject_of(s);
    return p != nullptr && p->background_step ? stops_text(p->background_step->value) : "-";
}

std::string eye_text(const Sheet& s) {
    const PersonReadings* p = subject_of(s);
    if (p == nullptr || !p->eye_seen) return "-";
    if (p->eye_lights.empty()) return "none";
    return p->eye_lights.front().source +
           (p->eye_lights.size() > 1 ? " +" + std::to_string(p->eye_lights.size() - 1) : "");
}

std::string windows_text(const Sheet& s) {
    if (!s.camera || s.camera->windows.empty()) return "-";
    double over = 0;
    for (const WindowInView& w : s.camera->windows)
        if (!w.holds) over = std::max(over, w.over_grey.value - s.camera->headroom);
    return over > 0 ? "clips by " + fixed(over, 1) : "hold";
}

std::string in_shot_text(const Sheet& s) {
    std::string all;
    for (const std::string& name : s.in_shot) all += (all.empty() ? "" : ", ") + name;
    return all.empty() ? "-" : all;
}

std::string verdict(const Match& m) {
    std::string apart, unsure;
    const auto add = [](std::string& list, const std::string& what) { list += (list.empty() ? "" : ", ") + what; };
    for (const MatchRow& r : m.rows) {
        if (!r.known) continue;
        const double by = r.unit == "stops" ? r.apart.value : std::round(r.apart.value);
        const std::string much =
            r.unit == "stops" ? stops_text(by) + " stops"
                              : (by < 0 ? "−" : "+") + fixed(std::abs(by), 0) + (r.unit.empty() ? "" : " " + r.unit);
        if (r.unsure() && r.apart.error > 0)
            add(unsure, r.name);
        else if (!r.matches())
            add(apart, r.name + " " + much);
    }
    if (apart.empty() && unsure.empty()) return "they match";
    std::string text = apart.empty() ? "" : "apart in " + apart;
    if (!unsure.empty()) text += (text.empty() ? "" : "; ") + std::string("too near to call: ") + unsure;
    return text;
}

}  // namespace

std::string overview(const std::vector<Sheet>& sheets, const std::vector<Match>& matches) {
    Column setup{"Set-up", true, {}}, person{"of", true, {}}, stop{"T", false, {}}, ratio{"key:fill", false, {}},
        hair{"hair", false, {}}, behind{"backgr.", false, {}}, eye{"eye light", true, {}}, window{"windows", true, {}},
        things{"in shot", true, {}};
    std::string title;
    constexpr int widest_setup = 24, widest_option = 22, widest_person = 8, widest_eye = 12;
    std::string last;
    for (const Sheet& s : sheets) {
        if (title.empty()) title = s.title;
        if (s.setup != last) {
            setup.cells.push_back(cut_to(s.setup, widest_setup));
        } else {
            setup.cells.push_back("  " + cut_to(s.option, widest_option));
        }
        last = s.setup;
        person.cells.push_back(cut_to(whose(s), widest_person));
        stop.cells.push_back(stop_text(s));
        ratio.cells.push_back(ratio_of(s));
        hair.cells.push_back(hair_text(s));
        behind.cells.push_back(background_text(s));
        eye.cells.push_back(cut_to(eye_text(s), widest_eye));
        window.cells.push_back(windows_text(s));
        things.cells.push_back(in_shot_text(s));
    }
    const int used = width_of(setup) + width_of(person) + width_of(stop) + width_of(ratio) + width_of(hair) +
                     width_of(behind) + width_of(eye) + width_of(window) + 8 * column_gap + 2;
    for (std::string& cell : things.cells) cell = cut_to(cell, std::max(8, widest - used));
    std::string text = title.empty() ? "" : cut_to(title, widest) + "\n\n";
    text += side_by_side({setup, person, stop, ratio, hair, behind, eye, window, things});
    text +=
        "  T: incident on the key cheek. key:fill: cheek to cheek, (K+F):F. hair: over its background, stops.\n"
        "  backgr.: background against the key cheek, stops. Rows set in are options of the set-up above.\n";
    if (!matches.empty()) text += "\n  Do the two sides cut together?\n";
    for (const Match& m : matches)
        text += wrapped(utf8(code_points(m.here + " and " + m.there + ": " + verdict(m) + ".")), "    ", "      ");
    return text;
}

}  // namespace rushlight
