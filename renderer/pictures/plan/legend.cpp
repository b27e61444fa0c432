// Under a plan: a bar to lay a ruler on, north and sun, and what its signs are.
#include "pictures/maps/sign_shapes.h"
#include "pictures/plan/parts.h"
#include "pictures/words/numbers.h"
#include "quantity/clock.h"
#include "quantity/units.h"
#include "results/day/weather.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace rushlight::plan_parts {

namespace {

constexpr double foot = 0.3048;  // m, exactly

/// Whole metres or feet that make a bar of a hand's width at most.
double bar_length(const Drawing& d, double most_points) {
    const bool metric = d.look.units == BriefUnits::metric;
    double best = metric ? 0.5 : foot;
    for (const double step : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
        const double m = metric ? step : step * foot;
        if (m * d.to.per_metre <= most_points) best = m;
    }
    return best;
}

double scale_bar(Drawing& d, Point at, int scale) {
    const double length = bar_length(d, 120), half = length * d.to.per_metre / 2, thick = 3;
    for (int i = 0; i < 2; ++i) {
        const Point part[] = {{at.x + i * half, at.y},
                              {at.x + (i + 1) * half, at.y},
                              {at.x + (i + 1) * half, at.y + thick},
                              {at.x + i * half, at.y + thick}};
        d.paper.fill(part, i == 0 ? ink : white);
        d.paper.lines(part, true, {ink, 0.5, {}});
    }
    const bool metric = d.look.units == BriefUnits::metric;
    const double count = metric ? length : length / foot;
    const std::string words =
        fixed(count, count < 1 ? 1 : 0) + (metric ? " m" : " ft") + "     1 : " + std::to_string(scale);
    const TextLook look{d.look.letters, false, Align::left, ink, 0, false, false};
    const PaperBox text = d.paper.text({at.x, at.y + thick + 2}, words, look);
    return std::max(at.x + 2 * half, text.x1);
}

/// Compass degrees to the plan's: up is out of the room's far wall.
Point along_bearing(const Drawing& d, double bearing) {
    const double a = radians(Degree{bearing - d.setup.place.near_wall_faces - 180});
    return {std::sin(a), -std::cos(a)};
}

double compass(Drawing& d, Point middle, double radius) {
    const Stroke thin{ink, 0.5, {}};
    d.paper.circle(middle, radius, &thin, nullptr);
    const Point n = along_bearing(d, 0);
    d.paper.arrow({middle.x - n.x * radius, middle.y - n.y * radius},
                  {middle.x + n.x * radius, middle.y + n.y * radius}, radius * 0.7, {ink, 0.9, {}});
    const TextLook look{d.look.letters, true, Align::middle, ink, 0, true, false};
    const PaperSize size = d.paper.size_of("N", look);
    const double out = radius + 5;
    d.paper.text({middle.x + n.x * out, middle.y + n.y * out - size.height / 2}, "N", look);
    const Day& day = d.setup.day;
    if (day.dark) return middle.x + radius + 10;
    const SunPosition sun = sun_at(d.setup, day.clock_hours);
    if (sun.altitude.value <= 0) return middle.x + radius + 10;
    const Point s = along_bearing(d, sun.azimuth.value);
    const Point at{middle.x + s.x * radius, middle.y + s.y * radius};
    const bool shines = day.sky.sun;
    d.paper.circle(at, 2.4, &thin, shines ? &ink : &white);
    if (!d.look.words) return middle.x + radius + 10;
    const TextLook small{d.look.letters, false, Align::left, ink, 0, false, false};
    const std::string words = "sun at " + clock_text(day.clock_hours) + "\n" + fixed(sun.altitude.value, 0) + "° high" +
                              (shines ? "" : ",\nbehind cloud");
    return d.paper.text({middle.x + radius + 10, middle.y - radius - 1}, words, small).x1;
}

struct LegendSign {
    LightMap::SignKind kind;
    int panel;  // PanelKind, or -1
    const char* words;
};

void one_sign(Drawing& d, Point at, const LegendSign& sign) {
    // Drawn at a size of its own: half of what one in fifty would be.
    const double per_metre = 24;
    const auto on = [&](const Point& p) { return Point{at.x + p.x * per_metre, at.y - p.y * per_metre}; };
    if (sign.panel >= 0) {
        const Point a{at.x, at.y - 7}, b{at.x, at.y + 7};
        const auto kind = static_cast<PanelKind>(sign.panel);
        if (kind == PanelKind::flag) d.paper.line(a, b, {ink, 2.4, {}});
        if (kind == PanelKind::board) {
            d.paper.line(a, b, {ink, 3.0, {}});
            d.paper.line(a, b, {white, 1.7, {}});
        }
        if (kind == PanelKind::cloth) d.paper.line(a, b, {ink, 1.8, {3.5, 1.6}});
        if (kind == PanelKind::net) d.paper.line(a, b, {ink, 1.8, {1, 1.6}});
        d.paper.line(at, {at.x + 4, at.y}, {ink, 0.6, {}});
        return;
    }
    const SignShape shape = sign_shape(sign.kind, 0.3);
    for (const auto& body : shape.bodies) {
        std::vector<Point> corners;
        for (const Point& p : body) corners.push_back(on(p));
        d.paper.fill(corners, white);
        d.paper.lines(corners, true, {ink, 0.6, {}});
    }
    for (const SignShape::Line& l : shape.lines) {
        const Stroke s{ink, l.weight() * 0.45, {}};
        l.arrow() ? d.paper.arrow(on(l.from), on(l.to), 2.5, s) : d.paper.line(on(l.from), on(l.to), s);
    }
}

/// Only signs that this plan has.
std::vector<LegendSign> signs_of(const Setup& s) {
    std::vector<LegendSign> keys;
    if (!s.rig.marks.empty()) keys.push_back({LightMap::SignKind::mark, -1, "person and nose"});
    if (s.its_camera() != nullptr) keys.push_back({LightMap::SignKind::camera, -1, "camera, what it sees"});
    bool ball = false, lamp = false;
    for (const Lamp& l : s.rig.lamps) (sign_of(l) == LightMap::SignKind::ball ? ball : lamp) = true;
    if (lamp) keys.push_back({LightMap::SignKind::lamp, -1, "lamp, where it aims"});
    if (ball) keys.push_back({LightMap::SignKind::ball, -1, "lamp, light all round"});
    std::set<PanelKind> kinds;
    for (const Panel& p : s.rig.panels) kinds.insert(p.kind);
    constexpr std::pair<PanelKind, const char*> words[] = {{PanelKind::board, "board"},
                                                           {PanelKind::flag, "flag or black"},
                                                           {PanelKind::cloth, "cloth"},
                                                           {PanelKind::net, "net"}};
    for (const auto& [kind, word] : words)
        if (kinds.count(kind) > 0) keys.push_back({LightMap::SignKind::panel, static_cast<int>(kind), word});
    for (const Meter& m : s.rig.meters)
        if (m.mark.empty()) {
            keys.push_back({LightMap::SignKind::point, -1, "meter"});
            break;
        }
    return keys;
}

}  // namespace

double key_height(const PlanLook& look) {
    return look.words ? 62 : 26;
}

void draw_key(Drawing& d, const PaperBox& box, int scale) {
    const double y = box.y1 - key_height(d.look) + 8;
    double x = scale_bar(d, {box.x0 + 2, y + (d.look.words ? 8 : 4)}, scale) + 24;
    const double radius = d.look.words ? 11 : 7;
    x = compass(d, {x + radius, y + radius + 1}, radius) + 18;
    if (!d.look.words) return;
    // The meaning of the signs, in rows under the bar's end.
    const TextLook look{d.look.letters, false, Align::left, ink, 0, false, false};
    double row = y + 8, at = x;
    for (const LegendSign& sign : signs_of(d.setup)) {
        const PaperSize size = d.paper.size_of(sign.words, look);
        const double wide = 26 + size.width + 8;
        if (at + wide > box.x1 && at > x) {
            at = x;
            row += 18;
        }
        one_sign(d, {at + 10, row}, sign);
        d.paper.text({at + 24, row - size.height / 2}, sign.words, look);
        at += wide;
    }
}

}  // namespace rushlight::plan_parts
