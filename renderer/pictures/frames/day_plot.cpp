#include "pictures/frames/day_plot.h"

#include "pictures/draw/drawing.h"
#include "pictures/draw/lettering.h"
#include "pictures/words/numbers.h"
#include "quantity/clock.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace rushlight {

namespace {

constexpr Colour paper{0.975F, 0.972F, 0.965F}, ink{0.13F, 0.13F, 0.15F}, faint{0.46F, 0.46F, 0.48F},
    grid{0.87F, 0.87F, 0.86F}, band{0.88F, 0.92F, 0.89F}, sunlit{0.99F, 0.93F, 0.74F};

struct Style {
    Colour colour;
    double width, dash, gap;
};
Style style_of(Weather w) {
    switch (w) {
        case Weather::clear:
            return {{0.12F, 0.20F, 0.36F}, 3.2, 0, 0};
        case Weather::mixed:
            return {{0.72F, 0.33F, 0.10F}, 2.6, 11, 6};
        case Weather::overcast:
            break;
    }
    return {{0.45F, 0.60F, 0.68F}, 2.8, 3, 5};
}

constexpr int left_margin = 190, right_margin = 30, column_gap = 76, row_height = 176, row_gap = 36, top = 122,
              bar_height = 25;

/// One panel: hours across, a number up.
struct Panel {
    Point least, most;
    double from, to, low, high;
    double x(double hour) const { return least.x + (most.x - least.x) * (hour - from) / (to - from); }
    double y(double value) const { return most.y - (most.y - least.y) * (value - low) / (high - low); }
};

void draw_dashed(Image& image, const std::vector<Point>& line, const Style& style) {
    const Pen pen{style.colour, style.width, 1};
    if (style.dash <= 0) return draw_lines(image, line, false, pen);
    double along = 0;
    const double period = style.dash + style.gap;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double dx = line[i + 1].x - line[i].x, dy = line[i + 1].y - line[i].y;
        const double length = std::hypot(dx, dy);
        for (double at = 0; at < length;) {
            const double phase = std::fmod(along + at, period);
            const double step = std::min(length - at, (phase < style.dash ? style.dash : period) - phase + 1e-6);
            if (phase < style.dash)
                draw_line(image, {line[i].x + dx * at / length, line[i].y + dy * at / length},
                          {line[i].x + dx * (at + step) / length, line[i].y + dy * (at + step) / length}, pen);
            at += step;
        }
        along += length;
    }
}

/// A round step that cuts a range into four to eight.
double step_for(double range) {
    double step = std::pow(10.0, std::floor(std::log10(range / 4)));
    for (const double k : {1.0, 2.0, 5.0, 10.0})
        if (range / (step * k) <= 7) return step * k;
    return step * 10;
}

enum class RowKind { level, ratio, view, colour };

struct Row {
    RowKind kind;
    const char* title;
    const char* unit;
    double least_range, cut_low, cut_high;  // shown at least this wide, never beyond these
    std::function<std::vector<double>(const FaceCourse&)> of;
    std::function<std::string(double)> label;
};

std::vector<double> values_of(const std::vector<Measured>& all) {
    std::vector<double> values;
    for (const Measured& m : all) values.push_back(m.value);
    return values;
}

std::string signed_text(double v) {
    return std::abs(v) < 1e-9 ? "0"
                              : (v < 0 ? "−" : "+") + fixed(std::abs(v), std::abs(v - std::round(v)) > 1e-6 ? 1 : 0);
}

std::vector<Row> rows() {
    return {{RowKind::level, "Level", "stops from plan", 2, -5, 5,
             [](const FaceCourse& f) { return values_of(f.level); }, signed_text},
            {RowKind::ratio, "Key over fill", "stops", 2, -8, 8,
             [](const FaceCourse& f) { return values_of(f.key_fill); }, signed_text},
            {RowKind::view, "View over face", "stops, key at grey", 3, -4, 12,
             [](const FaceCourse& f) { return values_of(f.view); }, signed_text},
            {RowKind::colour, "Colour", "K, dome to lens", 1500, 1500, 14000,
             [](const FaceCourse& f) { return f.kelvin; }, [](double v) { return fixed(v, 0); }}};
}

class Plot {
public:
    explicit Plot(const DayCourse& day) : day_(day) {
        if (!day.weathers.empty()) {
            for (std::size_t i = 0; i < day.weathers.front().faces.size(); ++i)
                if (day.weathers.front().faces[i].in_frame) faces_.push_back(i);
            if (faces_.empty())
                for (std::size_t i = 0; i < day.weathers.front().faces.size(); ++i) faces_.push_back(i);
        }
        constexpr std::size_t most_faces = 3;
        faces_.resize(std::min(faces_.size(), most_faces));
        for (const SunOn& s : day.sun_on)
            if (!s.when.empty()) suns_.push_back(&s);
        suns_.resize(std::min<std::size_t>(suns_.size(), 8));
    }

    Image draw() {
        const int columns = std::max<int>(1, static_cast<int>(faces_.size()));
        const int panel = columns == 1 ? 980 : columns == 2 ? 640 : 480;
        width_ = left_margin + columns * panel + (columns - 1) * column_gap + right_margin;
        const int panels = faces_.empty() ? 0 : static_cast<int>(rows().size()) * (row_height + row_gap);
        const int bars = static_cast<int>(day_.weathers.size() + suns_.size()) * bar_height + 130;
        image_ = Image(width_, top + panels + bars, paper);
        title();
        if (!faces_.empty())
            for (int c = 0; c < columns; ++c) column(c, left_margin + c * (panel + column_gap), panel);
        timeline(top + panels + 14);
        return std::move(image_);
    }

private:
    static Lettering text(int size, Align align = Align::left, bool bold = false, const Colour& colour = ink) {
        return {size, bold, align, colour, {}};
    }
    double from() const { return day_.clock.front(); }
    double to() const { return day_.clock.back(); }

    void title() {
        const std::string plan = "Planned for " + clock_text(day_.clock[day_.plan]) + " (" + day_.zone + ")";
        const std::string what = day_.setup + (day_.option == as_found_name ? "" : " · " + day_.option);
        const int room = width_ - 40;
        write_text(image_, 20, 36, fitted(what, room, text(24, Align::left, true)), text(24, Align::left, true));
        write_text(image_, 20, 62, fitted(day_.title, room, text(15, Align::left, false, faint)),
                   text(15, Align::left, false, faint));
        int x = 20;
        for (const WeatherCourse& w : day_.weathers) {
            draw_dashed(image_, {{x + 0.0, 82.0}, {x + 44.0, 82.0}}, style_of(w.weather));
            const PixelBox box = write_text(image_, x + 52, 87, word_of(w.weather), text(15));
            x = box.x1 + 26;
        }
        fill_box(image_, {x + 0.0, 74.0}, {x + 22.0, 91.0}, sunlit);
        x = write_text(image_, x + 29, 87, "sun on this face", text(15)).x1 + 26;
        fill_box(image_, {x + 0.0, 74.0}, {x + 22.0, 91.0}, band);
        x = write_text(image_, x + 29, 87, "as planned", text(15)).x1 + 26;
        draw_line(image_, {x + 4.0, 74}, {x + 4.0, 91}, {ink, 1.4, 1});
        write_text(image_, x + 13, 87, plan, text(15));
    }

    void hours_grid(const Panel& p, bool numbers) {
        const double range = p.to - p.from;
        const double step = range > 9 ? (p.most.x - p.least.x < 700 ? 2 : 1) : range > 3 ? 1 : 0.5;
        for (double h = std::ceil(p.from / step - 1e-9) * step; h <= p.to + 1e-9; h += step) {
            draw_line(image_, {p.x(h), p.least.y}, {p.x(h), p.most.y}, {grid, 1, 1});
            if (numbers)
                write_text(image_, static_cast<int>(p.x(h)), static_cast<int>(p.most.y) + 19, clock_text(h),
                           text(13, Align::middle, false, faint));
        }
    }

    void plan_line(const Panel& p) {
        const double x = p.x(day_.clock[day_.plan]);
        draw_line(image_, {x, p.least.y}, {x, p.most.y}, {ink, 1.4, 1});
    }

    void column(int c, int x, int width) {
        const std::size_t face = faces_[static_cast<std::size_t>(c)];
        const std::string& mark = day_.weathers.front().faces[face].mark;
        int y = top;
        write_text(image_, x, y - 6, fitted(mark + "'s face", width, text(17, Align::left, true)),
                   text(17, Align::left, true));
        for (const Row& row : rows()) {
            panel(row, face, mark, {{x + 0.0, y + 8.0}, {x + width + 0.0, y + 8.0 + row_height}, from(), to(), 0, 1},
                  c == 0);
            y += row_height + row_gap;
        }
    }

    /// The same range in every column, so that faces compare.
    void set_range(const Row& row, Panel& p) const {
        double low = 1e9, high = -1e9;
        for (const WeatherCourse& w : day_.weathers)
            for (const std::size_t f : faces_)
                for (const double v : row.of(w.faces[f])) {
                    if (!std::isfinite(v) || (row.cut_low > 0 && v <= 0)) continue;
                    low = std::min(low, v);
                    high = std::max(high, v);
                }
        if (low > high) low = 0, high = row.least_range;
        if (row.of(day_.weathers.front().faces[faces_.front()]).empty()) return;
        low = std::clamp(low, row.cut_low, row.cut_high);
        high = std::clamp(high, row.cut_low, row.cut_high);
        if (row.kind == RowKind::view && !day_.view_holds.empty())
            high = std::max(high, day_.view_holds.front().headroom + 1);
        const double more = std::max(0.0, row.least_range - (high - low)) / 2 + 0.05 * (high - low);
        p.low = low - more;
        p.high = high + more;
    }

    void panel(const Row& row, std::size_t face, const std::string& mark, Panel p, bool first) {
        set_range(row, p);
        fill_box(image_, p.least, p.most, {1, 1, 1});
        for (const SunOn* s : suns_)
            if (s->mark == mark && s->what == mark + "'s face")
                for (const Interval& i : s->when)
                    fill_box(image_, {std::max(p.least.x, p.x(i.from)), p.least.y},
                             {std::min(p.most.x, p.x(i.to)), p.most.y}, sunlit);
        if (row.kind == RowKind::level)
            fill_box(image_, {p.least.x, p.y(window_stops)}, {p.most.x, p.y(-window_stops)}, band, 0.75);
        hours_grid(p, true);
        const double step = step_for(p.high - p.low);
        for (double v = std::ceil(p.low / step) * step; v <= p.high + 1e-9; v += step) {
            draw_line(image_, {p.least.x, p.y(v)}, {p.most.x, p.y(v)}, {grid, 1, 1});
            write_text(image_, static_cast<int>(p.least.x) - 9, static_cast<int>(p.y(v)) + 5, row.label(v),
                       text(13, Align::right, false, faint));
        }
        if (first) {
            write_text(image_, 20, static_cast<int>(p.least.y) + 16, row.title, text(16, Align::left, true));
            write_text(image_, 20, static_cast<int>(p.least.y) + 36, row.unit, text(13, Align::left, false, faint));
        }
        plan_line(p);
        if (row.kind == RowKind::view && !day_.view_holds.empty()) headroom(p);
        // The quiet weathers first: the clear day's line stays whole.
        for (auto w = day_.weathers.rbegin(); w != day_.weathers.rend(); ++w)
            curve(row.of(w->faces[face]), p, style_of(w->weather), row.cut_low > 0);
        draw_frame(image_, p.least, p.most, {faint, 1, 1});
    }

    void headroom(const Panel& p) {
        const double h = day_.view_holds.front().headroom;
        draw_line(image_, {p.least.x, p.y(h)}, {p.most.x, p.y(h)}, {ink, 1.2, 0.8});
        Lettering how = text(13, Align::left, false, ink);
        how.halo = Colour{1, 1, 1};
        write_text(image_, static_cast<int>(p.least.x) + 6, static_cast<int>(p.y(h)) - 5,
                   "headroom " + signed_text(h) + ": clips above", how);
    }

    void curve(const std::vector<double>& values, const Panel& p, const Style& style, bool dark_is_nothing) {
        std::vector<Point> line;
        const auto end = [&] {
            if (line.size() > 1) draw_dashed(image_, line, style);
            line.clear();
        };
        for (std::size_t h = 0; h < values.size(); ++h) {
            if (!std::isfinite(values[h]) || (dark_is_nothing && values[h] <= 0)) {
                end();
                continue;
            }
            line.push_back({p.x(day_.clock[h]), p.y(std::clamp(values[h], p.low, p.high))});
        }
        end();
    }

    void bar(const Panel& p, double y, const std::vector<Interval>& when, const Colour& colour, double cover) {
        for (const Interval& i : when)
            fill_box(image_, {p.x(std::max(i.from, p.from)), y + 4}, {p.x(std::min(i.to, p.to)), y + bar_height - 4.0},
                     colour, cover);
    }

    void timeline(int y) {
        const double rows = static_cast<double>(day_.weathers.size() + suns_.size());
        const Panel p{{left_margin + 0.0, y + 22.0},
                      {width_ - right_margin + 0.0, y + 22.0 + rows * bar_height},
                      from(),
                      to(),
                      0,
                      1};
        write_text(image_, 20, y + 10, "As planned, and where the sun falls", text(16, Align::left, true));
        fill_box(image_, p.least, p.most, {1, 1, 1});
        hours_grid(p, true);
        double at = p.least.y;
        const auto name = [&](const std::string& what) {
            write_text(image_, left_margin - 9, static_cast<int>(at) + 17, fitted(what, left_margin - 28, text(14)),
                       text(14, Align::right));
        };
        for (const WeatherCourse& w : day_.weathers) {
            name(std::string("holds, ") + word_of(w.weather));
            bar(p, at, w.holds, style_of(w.weather).colour, 0.35);
            if (w.around_plan.length() > 0) {
                bar(p, at, {w.around_plan}, style_of(w.weather).colour, 1);
                Lettering how = text(13);
                how.halo = Colour{1, 1, 1};
                write_text(image_, static_cast<int>(p.x(w.around_plan.to)) + 6, static_cast<int>(at) + 17,
                           clock_text(w.around_plan.from) + "–" + clock_text(w.around_plan.to), how);
            }
            at += bar_height;
        }
        for (const SunOn* s : suns_) {
            name(s->what == "the lens" ? "sun in the picture" : "sun on " + s->what);
            bar(p, at, s->when, {0.93F, 0.72F, 0.20F}, 1);
            at += bar_height;
        }
        plan_line(p);
        draw_frame(image_, p.least, p.most, {faint, 1, 1});
        write_text(image_, 20, static_cast<int>(p.most.y) + 52,
                   fitted("Dark bar: within 1/3 stop and 200 K of the plan, around its own time; pale: alike at other "
                          "hours. Estimate for planning light.",
                          width_ - 40, text(13)),
                   text(13, Align::left, false, faint));
    }

    const DayCourse& day_;
    std::vector<std::size_t> faces_;
    std::vector<const SunOn*> suns_;
    Image image_;
    int width_ = 0;
};

}  // namespace

Image day_plot(const DayCourse& day) {
    return Plot(day).draw();
}

}  // namespace rushlight
