#include "pictures/tables/day_table.h"

#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"
#include "quantity/clock.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr int widest = 100;

std::string interval_text(const Interval& i) {
    return clock_text(i.from) + "–" + clock_text(i.to);
}
std::string intervals_text(const std::vector<Interval>& all) {
    std::string text;
    for (const Interval& i : all) text += (text.empty() ? "" : ", ") + interval_text(i);
    return text;
}

std::string stops_or_dash(const Measured& m) {
    return std::isfinite(m.value) ? stops_text(m.value) : "-";
}
std::string kelvin_text(double kelvin) {
    return kelvin > 0 ? fixed(std::round(kelvin / 10) * 10, 0) : "-";
}

/// In lines that fit; later lines set in by `in` columns.
std::string wrapped(const std::string& text, int in) {
    std::string out, line;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t to = std::min(text.find(' ', from), text.size());
        const std::string word = text.substr(from, to - from);
        if (!line.empty() && columns(line) + 1 + columns(word) > widest) {
            out += line + "\n";
            line = std::string(static_cast<std::size_t>(in), ' ') + word;
        } else {
            line += (from == 0 ? "" : " ") + word;
        }
        from = to + 1;
    }
    return out + line + "\n";
}

std::string sun_block(const DayCourse& day) {
    std::string text;
    for (const SunOn& s : day.sun_on) {
        if (s.when.empty()) continue;
        text += s.what == "the lens" ? wrapped("  Sun in the picture   " + intervals_text(s.when) +
                                                   "  never look at it through a finder or a lens; it can burn both",
                                               23)
                                     : wrapped("  Sun on " + padded(s.what, 13) + " " + intervals_text(s.when), 23);
    }
    return text.empty() ? "  No sun on a face, a meter or the lens between these hours.\n" : text;
}

std::string window_text(const DayCourse& day, const WeatherCourse& w) {
    std::string text = "  " + padded(std::string(word_of(w.weather)), 9);
    if (w.around_plan.length() <= 0) return text + "no sun window: the light changes within a step\n";
    text += "as planned " + interval_text(w.around_plan);
    if (!w.first_to_go.empty()) text += "; the " + w.first_to_go + " goes first";
    std::vector<Interval> others;
    for (const Interval& i : w.holds)
        if (i.from != w.around_plan.from) others.push_back(i);
    if (!others.empty()) text += "; alike again " + intervals_text(others);
    if (w.cloud_swing < -0.05 || w.cloud_swing > 0.05)
        text += "; when cloud covers the sun " + stops_text(w.cloud_swing) + " at " +
                day.weathers.front().faces.front().mark;
    return wrapped(text, 11);
}

std::string hold_text(const ViewHold& h) {
    if (h.mark.empty()) return "";
    std::string text = "  " + padded(std::string(word_of(h.weather)), 9) + "view through the " + h.opening + " " +
                       stops_text(h.over_face) + " over " + h.mark + "'s face, headroom " + stops_text(h.headroom) +
                       ": ";
    if (!h.needed) return wrapped(text + "holds", 11);
    text += "does not hold. ";
    if (h.nd_helps())
        text += "ND " + fixed(h.nd_density, 2) + " (" + fixed(h.nd_density / 0.30103, 1) +
                " stops) on that glass: " + stops_text(h.over_face_with_nd) + ", and " +
                fixed(std::max(0.0, h.face_loss), 1) + " stops less on the face. Or ";
    else if (h.nd_density > 0)
        text += "ND on that glass takes as much off the face. It needs ";
    else
        text += "It needs ";
    text += lux_text(h.more_lux) + " lx more on the key cheek. ";
    text += h.holds_by_itself.empty() ? "It doesn't hold without help at any hour of this day."
                                      : "It holds without help at " + intervals_text(h.holds_by_itself) + ".";
    return wrapped(text, 11);
}

std::string hours_block(const DayCourse& day, const WeatherCourse& w) {
    std::vector<const FaceCourse*> faces;
    for (const FaceCourse& f : w.faces)
        if (f.in_frame) faces.push_back(&f);
    if (faces.empty())
        for (const FaceCourse& f : w.faces) faces.push_back(&f);
    faces.resize(std::min<std::size_t>(faces.size(), 3));
    std::string text = "\n  " + padded(std::string(word_of(w.weather)), 9) + " sun";
    for (const FaceCourse* f : faces) text += "   " + padded(cut_to(f->mark, 8) + ": level  key:fill  view    K", 34);
    text += "\n";
    // A listing a person reads: every half hour, and the plan; the rest is in --csv, --json and the plot.
    for (std::size_t h = 0; h < day.clock.size(); ++h) {
        const double half_hours = day.clock[h] * 2;
        const bool plan = h == day.plan;
        if (!plan && std::abs(half_hours - std::round(half_hours)) > 1e-6) continue;
        std::string row = "  " + clock_text(day.clock[h]) + (plan ? " plan" : "     ") +
                          padded_left(fixed(day.sun[h].altitude.value, 0) + "°", 4);
        for (const FaceCourse* f : faces)
            row += "   " + std::string(static_cast<std::size_t>(std::min(8, columns(f->mark)) + 2), ' ') +
                   padded_left(stops_or_dash(f->level[h]), 5) + padded_left(stops_or_dash(f->key_fill[h]), 10) +
                   padded_left(stops_or_dash(f->view[h]), 6) + padded_left(kelvin_text(f->kelvin[h]), 7);
        row.erase(row.find_last_not_of(' ') + 1);
        text += row + "\n";
    }
    return text;
}

double largest_error(const DayCourse& day) {
    std::vector<double> errors;
    for (const WeatherCourse& w : day.weathers)
        for (const FaceCourse& f : w.faces)
            for (const Measured& m : f.key_fill)
                if (std::isfinite(m.error)) errors.push_back(m.error);
    std::sort(errors.begin(), errors.end());
    return errors.empty() ? 0 : errors[errors.size() * 9 / 10];
}

}  // namespace

std::string table(const DayCourse& day) {
    std::string text = cut_to(day.title, widest) + "\n";
    text += cut_to(day.setup + (day.option == as_found_name ? "" : " · " + day.option) + " · planned for " +
                       clock_text(day.clock[day.plan]) + " (" + day.zone + ")",
                   widest) +
            "\n\n";
    text += sun_block(day) + "\n";
    text += "  Sun windows: dome to lens and key to fill within 1/3 stop of the plan, colour within 200 K\n";
    for (const WeatherCourse& w : day.weathers) text += window_text(day, w);
    if (!day.view_holds.empty()) {
        text += "\n  The view at " + clock_text(day.clock[day.plan]) + ", with the key cheek at grey\n";
        for (const ViewHold& h : day.view_holds) text += hold_text(h);
    }
    for (const WeatherCourse& w : day.weathers)
        if (!w.faces.empty()) text += hours_block(day, w);
    text +=
        "\n" + wrapped(
                   "  Stops. Level: dome to lens against the plan's. key:fill: the plan's key cheek over the other. "
                   "View: the brightest opening over the face. Nine key-to-fill numbers in ten are accurate to ±" +
                       fixed(largest_error(day), 2) + " stop (one standard error).",
                   2);
    for (const std::string& r : day.remarks) text += wrapped("  Note: " + r, 4);
    text += "  Traced in " + fixed(day.seconds, 1) + " s.\n";
    return text;
}

std::string table(const std::vector<Mismatch>& mismatches, const std::vector<ShootingOrder>& orders) {
    std::string text;
    for (const ShootingOrder& o : orders) {
        text +=
            "Suggested order, " + std::string(word_of(o.weather)) + " weather" + (o.exact ? "" : " (in lots)") + "\n";
        for (const Shot& s : o.shots)
            text += wrapped("  " + clock_text(s.from) + "–" + clock_text(s.to) + "  " + padded(cut_to(s.name, 26), 26) +
                                "  " + s.reason,
                            43);
        text += "\n";
    }
    std::string warnings;
    for (const Mismatch& m : mismatches)
        if (m.any)
            warnings += wrapped("  " + m.mark + " in \"" + m.first + "\" at " + clock_text(m.first_time) + " and \"" +
                                    m.second + "\" at " + clock_text(m.second_time) + ": cheeks " +
                                    stops_text(m.key_fill) + " stops, colour " + (m.kelvin < 0 ? "−" : "+") +
                                    fixed(std::abs(m.kelvin), 0) + " K, level " + stops_text(m.level),
                                4);
    if (!warnings.empty()) text += "These will not cut together (more than 1/3 stop or 200 K apart)\n" + warnings;
    return text;
}

std::string comma_separated(const std::vector<DayCourse>& days) {
    std::string text =
        "setup,weather,time,sun_altitude,row,name,lux,error_lux,t_stop,kelvin,level_stops,error_level,key_to_fill_"
        "stops,"
        "error_key_to_fill,view_stops,error_view,key_fill_stops,error_key_fill\r\n";
    for (const DayCourse& d : days)
        for (const WeatherCourse& w : d.weathers)
            for (std::size_t h = 0; h < d.clock.size(); ++h) {
                const std::string start = csv_cell(d.setup) + "," + word_of(w.weather) + "," + clock_text(d.clock[h]) +
                                          "," + csv_number(d.sun[h].altitude.value, 2) + ",";
                for (const MeterCourse& m : w.meters)
                    text += start + "meter," + csv_cell(m.name) + "," + csv_number(m.lux[h].value, 3) + "," +
                            csv_number(m.lux[h].error, 3) + "," + csv_number(m.t_stop[h], 2) + "," +
                            csv_number(m.kelvin[h], 0) + ",,,,,,,,\r\n";
                for (const FaceCourse& f : w.faces)
                    text += start + "face," + csv_cell(f.mark) + ",,,," + csv_number(f.kelvin[h], 0) + "," +
                            csv_number(f.level[h].value, 3) + "," + csv_number(f.level[h].error, 3) + "," +
                            csv_number(f.key_fill[h].value, 3) + "," + csv_number(f.key_fill[h].error, 3) + "," +
                            csv_number(f.view[h].value, 3) + "," + csv_number(f.view[h].error, 3) +
                            // Their earlier names, for one version.
                            "," + csv_number(f.key_fill[h].value, 3) + "," + csv_number(f.key_fill[h].error, 3) +
                            "\r\n";
            }
    return text;
}

}  // namespace rushlight
