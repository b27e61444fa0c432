#include "plots.h"

#include "pictures/draw/drawing.h"
#include "pictures/draw/lettering.h"
#include "pictures/words/numbers.h"
#include "references.h"
#include "rooms.h"

#include <atomic>

namespace rushlight::validation {

namespace {

using namespace small;

constexpr Colour ink{0.15F, 0.15F, 0.15F}, grid{0.85F, 0.85F, 0.85F}, curve_ink{0.45F, 0.45F, 0.45F},
    dot_ink{0.75F, 0.25F, 0.1F}, second_ink{0.1F, 0.35F, 0.65F};

struct Axis {
    std::string name;
    double from, to;
    std::vector<double> ticks;
    int decimals = 0;
    bool logarithmic = false;

    double share(double v) const {
        return logarithmic ? std::log(v / from) / std::log(to / from) : (v - from) / (to - from);
    }
};

/// Without the noughts that say nothing.
std::string tick_text(double value, int decimals) {
    std::string text = fixed(value, decimals);
    if (text.find('.') != std::string::npos) text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

class Graph {
public:
    Graph(Axis x, Axis y) : x_(std::move(x)), y_(std::move(y)), image_(560, 340, {1, 1, 1}) {
        const Lettering small_letters{13, false, Align::middle, ink, {}};
        for (const double t : x_.ticks) {
            const double at = spot(t, y_.from).x;
            draw_line(image_, {at, top}, {at, bottom}, {grid, 1, 1});
            write_text(image_, static_cast<int>(at), static_cast<int>(bottom) + 16, tick_text(t, x_.decimals),
                       small_letters);
        }
        Lettering right = small_letters;
        right.align = Align::right;
        for (const double t : y_.ticks) {
            const double at = spot(x_.from, t).y;
            draw_line(image_, {left, at}, {far, at}, {grid, 1, 1});
            write_text(image_, static_cast<int>(left) - 6, static_cast<int>(at) + 5, fixed(t, y_.decimals), right);
        }
        draw_frame(image_, {left, top}, {far, bottom}, {ink, 1, 1});
        Lettering name = small_letters;
        name.bold = true;
        write_text(image_, static_cast<int>((left + far) / 2), static_cast<int>(bottom) + 36, x_.name, name);
        name.align = Align::left;
        write_text(image_, 12, static_cast<int>(top) - 10, y_.name, name);
    }
    void curve(const std::function<double(double)>& f, const Colour& colour = curve_ink) {
        std::vector<rushlight::Point> spots;
        constexpr int steps = 240;
        for (int i = 0; i <= steps; ++i) {
            const double s = static_cast<double>(i) / steps;
            const double x = x_.logarithmic ? x_.from * std::pow(x_.to / x_.from, s) : x_.from + (x_.to - x_.from) * s;
            const double y = f(x);
            if (y_.share(y) >= 0 && y_.share(y) <= 1) spots.push_back(spot(x, y));
        }
        draw_lines(image_, spots, false, {colour, 1.6, 1});
    }
    /// A dot with its bar of two standard errors either way.
    void point(double x, const Measured& m, const Colour& colour = dot_ink) {
        if (m.error > 0)
            draw_line(image_, spot(x, m.value - 2 * m.error), spot(x, m.value + 2 * m.error), {colour, 1.4, 1});
        fill_disc(image_, spot(x, m.value), 3.4, colour);
    }
    void note(double x, double y, const std::string& text, const Colour& colour) {
        const rushlight::Point s = spot(x, y);
        write_text(image_, static_cast<int>(s.x), static_cast<int>(s.y), text,
                   {13, false, Align::left, colour, Colour{1, 1, 1}});
    }
    void write(const std::filesystem::path& file) const { write_png(file, image_); }

private:
    static constexpr double left = 64, far = 532, top = 34, bottom = 290;
    rushlight::Point spot(double x, double y) const {
        return {left + x_.share(x) * (far - left), bottom - y_.share(y) * (bottom - top)};
    }
    Axis x_, y_;
    Image image_;
};

/// So many rounds of batches and no more, however sure.
MeterResults after_rounds(const Scene& s, const std::vector<MeterPoint>& meters, int rounds, std::uint64_t seed) {
    std::atomic<bool> enough = false;
    Effort e = effort(1e-9, seed);
    e.stop = &enough;
    e.tell = [&, done = 0](const Progress&) mutable { enough = ++done == rounds; };
    return measure(s, meters, e, sharing_for(s, 5, 16, 4));
}

void penumbra(const std::filesystem::path& file) {
    Graph g({"metres from the line under the edge", -0.2, 0.2, {-0.2, -0.1, 0, 0.1, 0.2}, 1},
            {"share of the bare lamp", 0, 1.05, {0, 0.25, 0.5, 0.75, 1}, 2});
    const auto exact = [](double x) {
        const double whole = parallel_rectangle(1, -0.3 - x, 0.3 - x, -0.3, 0.3, 3);
        return parallel_rectangle(1, std::clamp(-3 * x, -0.3 - x, 0.3 - x), 0.3 - x, -0.3, 0.3, 3) / whole;
    };
    g.curve(exact);
    Scene s;
    add_lamp(s, lamp(LampShape::box, {0, 0, 3}, {0, 0, -1}, 0.6, 0.6, pi * 8000 * 0.36));
    add(s, rectangle_mesh(rectangle({-5, 0, 1}, {0, 0, 1}, 10, 10), matt(0)));
    finish(s);
    std::vector<MeterPoint> meters;
    for (int i = -7; i <= 7; ++i) meters.push_back(flat({static_cast<float>(0.025 * i), 0, 0}, {0, 0, 1}));
    const MeterResults r = after_rounds(s, meters, 6, 3);
    for (int i = -7; i <= 7; ++i) {
        const double x = 0.025 * i, whole = parallel_rectangle(8000, -0.3 - x, 0.3 - x, -0.3, 0.3, 3);
        const Measured m = r.all(static_cast<std::size_t>(i + 7));
        g.point(x, {m.value / whole, m.error / whole});
    }
    g.write(file);
}

void disc_against_distance(const std::filesystem::path& file) {
    Graph g({"metres from the disc", 0.25, 16, {0.25, 0.5, 1, 2, 4, 8, 16}, 2, true},
            {"lux over the point-source value", 0, 1.1, {0, 0.25, 0.5, 0.75, 1}, 2});
    const double area = pi * 0.25;
    g.curve([=](double d) { return parallel_disc(8000, 0.5, d, 0) * d * d / (8000 * area); });
    const std::vector<double> distances{0.3, 0.5, 0.75, 1, 1.5, 2, 3, 5, 8, 14};
    Scene s;
    auto openings = add_room(s, {10, 10, 15 + 1e-4F}, {hole(Wall::ceiling, 4.49, 5.51, 4.49, 5.51)});
    add(s, round_mask({5, 5, 15}, 0.5));
    s.lights.add("sky", SkyLight(by_hand::outside(8000, 0), openings));
    finish(s);
    std::vector<MeterPoint> meters;
    for (const double d : distances) meters.push_back(flat({5, 5, static_cast<float>(15 - d)}, {0, 0, 1}));
    const MeterResults r = measure(s, meters, effort(0.005));
    for (std::size_t i = 0; i < distances.size(); ++i) {
        const double over = distances[i] * distances[i] / (8000 * area);
        g.point(distances[i], {r.all(i).value * over, r.all(i).error * over});
    }
    g.write(file);
}

void pane_against_angle(const std::filesystem::path& file) {
    Graph g({"degrees from the normal", 0, 90, {0, 15, 30, 45, 60, 75, 90}, 0},
            {"transmittance of a pane, n 1.52, internal .95", 0, 1, {0, 0.25, 0.5, 0.75, 1}, 2});
    g.curve([](double a) { return pane_transmittance(std::cos(radians(Degree{std::min(a, 89.999)})), 1.52, 0.95); });
    Scene s;
    const auto openings = add_room(s, {40, 4, 3}, {hole(Wall::near, 1, 39, 0.9, 2.2, true)});
    s.lights.add("sky", SkyLight(by_hand::outside(1000, 1000), openings));
    finish(s);
    std::vector<MeterPoint> meters;
    for (int a = 0; a <= 85; a += 5) {
        const auto angle = static_cast<float>(radians(Degree{static_cast<double>(a)}));
        meters.push_back({MeterKind::spot,
                          {20 - 0.3F * std::tan(angle), 0.3F, 1.5F},
                          Vec3(std::sin(angle), -std::cos(angle), 0),
                          0.002F});
    }
    const MeterResults r = measure(s, meters, effort(0.003));
    for (std::size_t i = 0; i < meters.size(); ++i)
        g.point(5.0 * static_cast<double>(i), {r.all(i).value / 1000, r.all(i).error / 1000});
    g.write(file);
}

/// Root mean square of the true departure from the closed form over many seeds, and the error that goes with the
/// readings.
void square_root_law(const std::filesystem::path& file) {
    Graph g({"batches of walks", 16, 4096, {16, 64, 256, 1024, 4096}, 0, true},
            {"error of one reading, % (both axes logarithmic)", 0.02, 1.6, {0.025, 0.05, 0.1, 0.2, 0.4, 0.8}, 3, true});
    Scene s;
    small::add_box(s, {4, 4, 4}, matt(0.5));
    add_lamp(s, lamp(LampShape::box, {2, 2, 3.99F}, {0, 0, -1}, 1, 1, 10'000));
    finish(s);
    const MeterPoint meter = flat({1.2F, 2.5F, 0.8F}, {0.2F, -0.3F, 1});
    Effort sure = effort(0.0001, 99);
    sure.most_seconds = 3;
    const double truth = measure(s, {meter}, sure).all(0).value;
    constexpr std::uint64_t seeds = 24;
    double first = 0;
    for (const int rounds : {1, 3, 5, 7, 9, 11}) {
        double quoted = 0, departure = 0, batches = 0;
        for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
            const MeterResults r = after_rounds(s, {meter}, rounds, seed);
            quoted += r.all(0).error * r.all(0).error;
            departure += (r.all(0).value - truth) * (r.all(0).value - truth);
            batches = static_cast<double>(r.batches());
        }
        const auto per_cent = [&](double squares) { return 100 * std::sqrt(squares / seeds) / truth; };
        if (first == 0) {
            first = per_cent(quoted) * std::sqrt(batches);
            g.curve([=](double n) { return first / std::sqrt(n); });
        }
        g.point(batches, {per_cent(quoted), 0});
        g.point(batches, {per_cent(departure), 0}, second_ink);
    }
    g.note(300, 0.9, "quoted error", dot_ink);
    g.note(300, 0.72, "true departure, 24 seeds", second_ink);
    g.note(300, 0.58, "1 / square root", curve_ink);
    g.write(file);
}

}  // namespace

std::vector<Plot> write_plots(const std::filesystem::path& folder) {
    penumbra(folder / "penumbra.png");
    disc_against_distance(folder / "disc.png");
    pane_against_angle(folder / "pane.png");
    square_root_law(folder / "error.png");
    return {{"penumbra.png",
             "Penumbra of a soft box .6 m wide behind an edge, measured with little effort (bars: two standard errors) "
             "over the exact curve."},
            {"disc.png",
             "Light on the axis of a disc of 1 m over that of a point of its intensity: measured over R² / (R² + h²). "
             "Five diameters off, 1 % is missing."},
            {"pane.png", "Luminance through a traced window pane over the sky's, against Fresnel's equations."},
            {"error.png",
             "A reading in a room of ρ .5: the error that rushlight quotes and its true departure from a long run both "
             "fall as one over the square root of the work."}};
}

}  // namespace rushlight::validation
