// The rig on a plan: each thing has its own sign, drawn to size, with what a crew must know beside it.
#include "pictures/maps/sign_shapes.h"
#include "pictures/plan/parts.h"
#include "pictures/words/numbers.h"
#include "quantity/units.h"
#include "results/brief/on_arrival.h"
#include "setup/plain/face.h"
#include "setup/plain/whereabouts.h"

#include <algorithm>
#include <cmath>

namespace rushlight::plan_parts {

namespace {

constexpr double pen_per_weight = 0.5;  // pt of a pen for one pixel of a map's

double heading(const Vec3& v) {
    return std::atan2(static_cast<double>(v.y), static_cast<double>(v.x));
}
bool steep(const Vec3& v) {
    return std::hypot(v.x, v.y) < 0.05F;
}

/// A sign at a place of the plan, turned.
void draw_sign(Drawing& d, const Vec3& at, double turn, const SignShape& sign) {
    const double c = std::cos(turn), s = std::sin(turn);
    const auto on = [&](const Point& p) {
        return d.to(static_cast<double>(at.x) + c * p.x - s * p.y, static_cast<double>(at.y) + s * p.x + c * p.y);
    };
    for (const auto& body : sign.bodies) {
        std::vector<Point> corners;
        for (const Point& p : body) corners.push_back(on(p));
        d.paper.fill(corners, white);
        d.paper.lines(corners, true, {ink, 0.75, {}});
    }
    for (const SignShape::Line& l : sign.lines) {
        const Stroke stroke{ink, l.weight() * pen_per_weight, {}};
        l.arrow() ? d.paper.arrow(on(l.from), on(l.to), 0.10 * d.to.per_metre, stroke)
                  : d.paper.line(on(l.from), on(l.to), stroke);
    }
}

/// Corners of a panel seen from above, in metres: a line where it hangs upright.
std::vector<Vec3> corners_of(const Panel& p) {
    Vec3 across = Vec3(0, 0, 1).cross(p.facing);
    across = across.length() < 1e-4F ? Vec3(1, 0, 0) : across.normalized();
    const Vec3 up = p.facing.cross(across);
    const double r = radians(Degree{p.roll});
    const auto c = static_cast<float>(std::cos(r)), s = static_cast<float>(std::sin(r));
    const Vec3 w = (across * c + up * s) * static_cast<float>(p.width / 2);
    const Vec3 h = (up * c - across * s) * static_cast<float>(p.height / 2);
    return {p.at - w - h, p.at + w - h, p.at + w + h, p.at - w + h};
}

/// Middles of the two edges that lie farthest apart, seen from above.
std::pair<Vec3, Vec3> ends_of(const Panel& p) {
    const std::vector<Vec3> c = corners_of(p);
    const Vec3 wide = c[1] - c[0], high = c[3] - c[0];
    if (std::hypot(wide.x, wide.y) >= std::hypot(high.x, high.y)) return {(c[0] + c[3]) * 0.5F, (c[1] + c[2]) * 0.5F};
    return {(c[0] + c[1]) * 0.5F, (c[2] + c[3]) * 0.5F};
}

/// Boards are hollow, flags solid, cloths dashed, nets dotted: told apart in grey.
void draw_panel(Drawing& d, const Panel& p) {
    std::vector<Point> corners;
    for (const Vec3& corner : corners_of(p)) corners.push_back(d.to(corner));
    // Upright it is a line: its width, or its height where it is rolled onto its side.
    const auto [left, right] = ends_of(p);
    const Point a = d.to(left), b = d.to(right);
    const bool lies = std::abs(p.facing.z) > 0.35F;
    const Stroke edge{ink, 0.6, {}};
    if (lies) {
        if (p.kind == PanelKind::flag) d.paper.fill(corners, ink, 0.35);
        if (p.kind == PanelKind::board) d.paper.fill(corners, white, 0.8);
    }
    switch (p.kind) {
        case PanelKind::flag:
            lies ? d.paper.lines(corners, true, {ink, 1.0, {}}) : d.paper.line(a, b, {ink, 2.4, {}});
            break;
        case PanelKind::board:
            if (!lies) {
                d.paper.line(a, b, {ink, 3.0, {}});
                d.paper.line(a, b, {white, 1.7, {}});
            } else {
                d.paper.lines(corners, true, {ink, 1.0, {}});
            }
            break;
        case PanelKind::cloth:
            lies ? d.paper.lines(corners, true, {ink, 1.4, {3.5, 1.6}}) : d.paper.line(a, b, {ink, 1.8, {3.5, 1.6}});
            break;
        case PanelKind::net:
            lies ? d.paper.lines(corners, true, {ink, 1.4, {1, 1.6}}) : d.paper.line(a, b, {ink, 1.8, {1, 1.6}});
            break;
    }
    const SignShape sign = sign_shape(LightMap::SignKind::panel, p.width);
    if (steep(p.facing)) return;
    const double turn = heading(p.facing), tick = sign.lines.back().to.x;
    const Point from = d.to(p.at);
    d.paper.line(
        from, {from.x + tick * d.to.per_metre * std::cos(turn), from.y - tick * d.to.per_metre * std::sin(turn)}, edge);
}

/// To whom or where a lamp's aim leads, as a line of the plan.
Vec3 aim_end(const Setup& setup, const Lamp& l) {
    if (const Mark* m = lit_mark(setup.rig, l)) return face_of(*m);
    constexpr float shown = 1.5F;  // m
    const float floor = setup.place.lower.z;
    if (l.aim.z < -0.05F) {  // to the floor, if that is nearer
        const float along = (floor - l.at.z) / l.aim.z;
        return l.at + l.aim * std::min(along, 4 * shown);
    }
    return l.at + l.aim * shown;
}

bool has_aim(const Lamp& l) {
    return l.shape != LampShape::ball && l.shape != LampShape::tube && !steep(l.aim);
}

void draw_view(Drawing& d, const Camera& c) {
    const double half = std::atan(c.sensor_width / c.lens / 2), turn = heading(c.look_at - c.at);
    const double reach = std::hypot(d.extent.x1 - d.extent.x0, d.extent.y1 - d.extent.y0);
    const auto at = [&](double angle, double r) {
        return d.to(static_cast<double>(c.at.x) + r * std::cos(turn + angle),
                    static_cast<double>(c.at.y) + r * std::sin(turn + angle));
    };
    // Walls stop it, where it stands between them.
    const Place& p = d.setup.place;
    const bool indoors = p.has_room && inside(p, c.at);
    const Point a = d.to(0, p.room.depth), b = d.to(p.room.width, 0);
    if (indoors) d.paper.keep_to({a.x, a.y, b.x, b.y});
    const Point wedge[] = {d.to(c.at), at(-half, reach), at(half, reach)};
    d.paper.fill(wedge, faint, 0.09);
    for (const double side : {-half, half}) {
        d.paper.line(d.to(c.at), at(side, reach), {faint, 0.5, {5, 2.5}});
        d.labels.keep_off_line(d.to(c.at), at(side, reach), LabelPlaces::What::line);
    }
    if (indoors) d.paper.let_go();
}

void keep_off_round(Drawing& d, const Vec3& at, double reach) {
    const Point p = d.to(at);
    const double r = reach * d.to.per_metre;
    d.labels.keep_off({p.x - r, p.y - r, p.x + r, p.y + r}, LabelPlaces::What::sign);
}

/// The mark that a board or flag is put up for: the nearest that it looks at, or the nearest.
const Mark* mark_of(const Rig& rig, const Panel& p) {
    constexpr double farthest = 3, looked_at = 0.3;  // m; of the cosine less
    const Mark* best = nullptr;
    double least = farthest;
    for (const Mark& m : rig.marks) {
        const Vec3 to = face_of(m) - p.at;
        const auto off = static_cast<double>(to.length());
        const double looks = std::abs(static_cast<double>(to.normalized().dot(p.facing)));
        const double cost = off + (1 - looks > looked_at ? 1.5 : 0);
        if (cost < least) least = cost, best = &m;
    }
    return best;
}

std::string lens_words(const Camera& c) {
    return fixed(c.lens, std::abs(c.lens - std::round(c.lens)) < 0.05 ? 0 : 1) + " mm, T" + fixed(c.exposure.t_stop, 1);
}

}  // namespace

std::vector<std::string> lines_of(const Setup& setup, const Lamp& l, const PlanLook& look) {
    std::vector<std::string> lines{l.name};
    if (!look.words) return lines;
    std::string level = level_text(l.level, l.on);
    if (!l.gel_words.empty()) level += ", " + l.gel_words;
    if (!look.tables) lines.push_back(level);
    std::string where = "at " + length_text(l.at.z, look.units);
    if (has_aim(l)) {
        const double down = -degrees(std::asin(std::clamp(static_cast<double>(l.aim.z), -1.0, 1.0))).value;
        if (std::abs(down) > 2) where += ", " + fixed(std::abs(down), 0) + "° " + (down > 0 ? "down" : "up");
    }
    lines.push_back(where);
    if (look.tables) {
        if (const std::string walls = from_walls(setup, l.at, look.units); !walls.empty())
            lines.push_back("from " + walls);
        return lines;
    }
    if (const Mark* m = lit_mark(setup.rig, l))
        lines.push_back(length_text((face_of(*m) - l.at).length(), look.units) + " to " + m->name);
    return lines;
}

std::vector<std::string> lines_of(const Setup& setup, const Panel& p, const PlanLook& look) {
    std::vector<std::string> lines{p.name};
    if (!look.words) return lines;
    if (!look.tables)
        lines.push_back(size_text(p.width, p.height, look.units) +
                        (p.finish.name.empty() || p.finish.name == "net" ? "" : ", " + p.finish.name));
    std::string where = "middle at " + length_text(p.at.z, look.units);
    if (std::abs(p.facing.z) > 0.1F && std::abs(p.facing.z) < 0.98F)
        where += ", tilted " + fixed(std::abs(degrees(std::asin(static_cast<double>(p.facing.z))).value), 0) + "°";
    lines.push_back(where);
    if (look.tables) {
        if (const std::string walls = from_walls(setup, p.at, look.units); !walls.empty())
            lines.push_back("from " + walls);
        return lines;
    }
    if (const Mark* m = mark_of(setup.rig, p))
        lines.push_back(length_text((face_of(*m) - p.at).length(), look.units) + " from " + m->name);
    return lines;
}

std::vector<std::string> lines_of(const Camera& c, const PlanLook& look) {
    std::vector<std::string> lines{"camera, " + c.name};
    if (!look.words) return lines;
    lines.push_back(lens_words(c));
    lines.push_back("lens at " + length_text(c.at.z, look.units));
    return lines;
}

std::vector<std::string> lines_of(const Mark& m, const PlanLook& look) {
    std::vector<std::string> lines{m.name};
    if (!look.words) return lines;
    lines.push_back(std::string(m.person.pose == Pose::seated ? "seated, eyes at " : "eyes at ") +
                    length_text(static_cast<double>(m.at.z) + eye_height(m.person), look.units));
    return lines;
}

void draw_rig(Drawing& d) {
    const Rig& rig = d.setup.rig;
    if (const Camera* c = d.setup.its_camera()) draw_view(d, *c);
    for (const Lamp& l : rig.lamps) {
        if (!has_aim(l) || !l.on) continue;
        const Point from = d.to(l.at), to = d.to(aim_end(d.setup, l));
        d.paper.arrow(from, to, 0.10 * d.to.per_metre, {faint, 0.6, {3, 1.5}});
        d.labels.keep_off_line(from, to, LabelPlaces::What::line);
    }
    for (const Mark& m : rig.marks) {
        // The body as it sits; the nose shows where the head looks.
        draw_sign(d, m.at, radians(Degree{m.facing + m.head_turn}), sign_shape(LightMap::SignKind::mark, 0));
        keep_off_round(d, m.at, sign_reach(LightMap::SignKind::mark, 0));
    }
    for (const Panel& p : rig.panels) {
        draw_panel(d, p);
        const auto [left, right] = ends_of(p);
        d.labels.keep_off_line(d.to(left), d.to(right), LabelPlaces::What::edge);
    }
    for (const Lamp& l : rig.lamps) {
        const LightMap::SignKind kind = sign_of(l);
        SignShape sign = sign_shape(kind, l.width);
        // A lamp that is off throws no light.
        if (!l.on || l.level <= 0) sign.lines.clear();
        draw_sign(d, l.at, steep(l.aim) ? 0 : heading(l.aim), sign);
        keep_off_round(d, l.at, sign_reach(kind, l.width));
    }
    for (const Meter& m : rig.meters) {
        if (!m.mark.empty()) continue;
        draw_sign(d, m.at, 0, sign_shape(LightMap::SignKind::point, 0));
        keep_off_round(d, m.at, 0.08);
    }
    if (const Camera* c = d.setup.its_camera()) {
        draw_sign(d, c->at, heading(c->look_at - c->at), sign_shape(LightMap::SignKind::camera, 0));
        keep_off_round(d, c->at, sign_reach(LightMap::SignKind::camera, 0));
    }
}

void label_rig(Drawing& d) {
    const Rig& rig = d.setup.rig;
    std::vector<Named> all;
    // What stands farther off than is drawn has no sign to name.
    const auto name = [&](const Vec3& at, double reach, std::vector<std::string> lines) {
        const auto x = static_cast<double>(at.x), y = static_cast<double>(at.y);
        const Extent& e = d.extent;
        if (x >= e.x0 && x <= e.x1 && y >= e.y0 && y <= e.y1) all.push_back({at, reach, std::move(lines)});
    };
    for (const Mark& m : rig.marks) name(m.at, 0.27, lines_of(m, d.look));
    if (const Camera* c = d.setup.its_camera()) name(c->at, 0.3, lines_of(*c, d.look));
    for (const Lamp& l : rig.lamps) name(l.at, sign_reach(sign_of(l), l.width), lines_of(d.setup, l, d.look));
    for (const Panel& p : rig.panels) name(p.at, 0.06, lines_of(d.setup, p, d.look));
    for (const Meter& m : rig.meters)
        if (m.mark.empty() && d.look.words)
            name(m.at, 0.06, {m.name + ", meter at " + length_text(m.at.z, d.look.units)});
    write_names(d, all);
}

}  // namespace rushlight::plan_parts
