#include "results/compare/comparison.h"
#include "results/light/remarks.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rushlight {

namespace {

MainNumber of_reading(const Reading& r, const std::string& name) {
    const bool lit = r.lux.value > 0;
    return {name, lit ? in_words("T%.1f", r.t_stop) + in_words("  %.0f lx", r.lux.value) : "no light",
            lit ? stops_of(r.lux) : Measured{-INFINITY, 0}};
}

/// With a minus as it is set, not a hyphen: the same letters as in every table.
std::string signed_stops(double stops) {
    std::string words = in_words("%+.1f stops", stops);
    if (words == "-0.0 stops" || words == "+0.0 stops") return "0.0 stops";
    if (words.front() == '-') words.replace(0, 1, "−");
    return words;
}

}  // namespace

std::vector<MainNumber> main_numbers(const Sheet& sheet) {
    std::vector<MainNumber> all;
    std::vector<std::string> marks;
    for (const Reading& r : sheet.readings)
        if (!r.mark.empty() && std::find(marks.begin(), marks.end(), r.mark) == marks.end()) marks.push_back(r.mark);
    for (const std::string& mark : marks) {
        // Near and far stay put when the light moves; key and fill do not.
        for (const Reading& r : sheet.readings)
            if (r.mark == mark && r.name.ends_with(" cheek")) all.push_back(of_reading(r, r.name));
        for (const Ratio& r : sheet.ratios)
            if (r.name.rfind(mark + " cheeks", 0) == 0)
                all.push_back({mark + " cheeks", in_words(r.ratio < 9.95 ? "%.1f:1" : "%.0f:1", r.ratio), r.stops});
        for (const Separation& s : sheet.separations)
            if (s.name.rfind(mark + " ", 0) == 0) all.push_back({s.name, signed_stops(s.stops.value), s.stops});
    }
    for (const Reading& r : sheet.readings)
        if (r.mark.empty()) all.push_back(of_reading(r, r.name));
    return all;
}

MainDifference difference(const MainNumber& now, const std::vector<MainNumber>& first) {
    for (const MainNumber& f : first) {
        if (f.name != now.name) continue;
        const Measured stops{now.stops.value - f.stops.value, std::hypot(now.stops.error, f.stops.error)};
        return {std::isfinite(stops.value), stops};
    }
    return {};
}

}  // namespace rushlight
