#include "desk/plan/furniture_json.h"

#include "desk/light/sheet_json.h"
#include "pictures/plan/shape.h"

#include <algorithm>
#include <cmath>

namespace rushlight::desk {

namespace {

constexpr std::size_t most_points = 20'000, fewest_points = 8;  // of all models of a plan, of each

std::size_t points_each(const Place& place) {
    return std::max(fewest_points, most_points / std::max<std::size_t>(1, place.models.size()));
}

double centimetres(double v) {
    return std::round(v * 100) / 100 + 0.0;
}

JsonValue lines_json(const std::vector<PlanLine>& lines, const Vec3& at = {0, 0, 0}, double turn = 0) {
    const double a = -radians(Degree{turn}), c = std::cos(a), s = std::sin(a);
    JsonValue list = JsonValue::array();
    for (const PlanLine& line : lines) {
        JsonValue points = JsonValue::array();
        for (const Point& p : line) {
            const double x = p.x - static_cast<double>(at.x), y = p.y - static_cast<double>(at.y);
            points.push_back(centimetres(c * x - s * y));
            points.push_back(centimetres(s * x + c * y));
        }
        list.push_back(std::move(points));
    }
    return list;
}

/// Width and depth before it was turned.
Vec3 size_of(const PlanShape& shape, const JsonValue& cut, const JsonValue& lower) {
    double least[] = {0, 0}, most[] = {0, 0};
    bool any = false;
    for (const JsonValue* lines : {&cut, &lower})
        for (const JsonValue& line : *lines)
            for (std::size_t i = 0; i < line.size(); ++i) {
                const double v = line[i].get<double>();
                const std::size_t axis = i % 2;
                least[axis] = any ? std::min(least[axis], v) : v;
                most[axis] = any ? std::max(most[axis], v) : v;
                any = any || axis == 1;
            }
    return {static_cast<float>(most[0] - least[0]), static_cast<float>(most[1] - least[1]),
            shape.most.z - shape.least.z};
}

JsonValue piece(const std::string& name, const Vec3& at, const Vec3& size, double turn, double top, bool hangs) {
    return {
        {"kind", "furniture"},         {"name", json_text(name)}, {"at", point_json(at)}, {"size", point_json(size)},
        {"facing", metres_json(turn)}, {"top", metres_json(top)}, {"hangs", hangs}};
}

}  // namespace

JsonValue furniture_json(const Place& place) {
    const auto floor = static_cast<double>(place.lower.z);
    std::vector<JsonValue> all;
    for (const Box& b : place.boxes) {
        const Vec3 foot = b.centre - Vec3(0, 0, b.size.z / 2);
        all.push_back(piece(b.name, foot, b.size, b.turn, static_cast<double>(foot.z + b.size.z),
                            static_cast<double>(foot.z) >= floor + plan_heights::over_heads));
    }
    for (const Model& model : place.models) {
        if (model.name.empty()) continue;
        const auto shape = plan_shape(model, floor, points_each(place));
        JsonValue cut = lines_json(shape->cut, model.at, model.turn);
        JsonValue lower = lines_json(shape->lower, model.at, model.turn);
        JsonValue j = piece(model.name, model.at, size_of(*shape, cut, lower), model.turn,
                            static_cast<double>(shape->most.z), shape->hangs);
        j["cut"] = std::move(cut);
        j["lower"] = std::move(lower);
        all.push_back(std::move(j));
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const JsonValue& a, const JsonValue& b) { return a["top"] < b["top"]; });
    return all;
}

JsonValue structure_json(const Place& place) {
    if (place.has_room) return nullptr;
    JsonValue j{{"cut", JsonValue::array()}, {"lower", JsonValue::array()}, {"openings", JsonValue::array()}};
    for (const Model& model : place.models) {
        if (!model.name.empty()) continue;
        const auto shape = plan_shape(model, static_cast<double>(place.lower.z), points_each(place));
        j["cut"] = lines_json(shape->cut);
        j["lower"] = lines_json(shape->lower);
    }
    for (const OpeningPatch& o : place.model_openings)
        j["openings"].push_back(
            {{"name", json_text(o.name)}, {"lines", lines_json(plan_lines(o, points_each(place)))}});
    return j;
}

}  // namespace rushlight::desk
