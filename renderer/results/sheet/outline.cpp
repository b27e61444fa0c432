#include "results/sheet/outline.h"

#include "quantity/units.h"
#include "scene/rays/first_seen.h"

#include <cmath>

namespace rushlight {

namespace {

constexpr float just_inside = 0.006F;  // m, of the head's own distance
constexpr float just_outside = 0.015F;

/// A head stands behind anything that light passes straight, but hair is part of the outline.
bool before_the_head(const Part& part, const Surface& s) {
    return s.veil() && part.kind != PartKind::hair;
}

}  // namespace

std::vector<OutlinePlace> head_outline(const Scene& scene, const CameraView& view, int mark, int places) {
    const Figure& figure = scene.figures.at(static_cast<std::size_t>(mark));
    const Vec3 to_head = (figure.head_centre - view.at()).normalized();
    const Vec3 across = view.forward().cross(view.up()).normalized();
    const auto toward = [&](float angle, float radius) {
        const Vec3 p = figure.head_centre + (across * std::cos(angle) + view.up() * std::sin(angle)) * radius;
        return Ray{view.at(), (p - view.at()).normalized()};
    };
    const auto on_head = [&](const Ray& ray) -> const Part* {
        const auto hit = first_seen(scene.rays, ray, before_the_head);
        if (!hit) return nullptr;
        const Part& part = scene.rays.part(hit->part);
        return part.mark == mark && part.kind != PartKind::wardrobe ? &part : nullptr;
    };

    std::vector<OutlinePlace> found;
    if (to_head.dot(view.forward()) <= 0) return found;
    for (int i = 0; i < places; ++i) {
        // From just above one ear to just above the other.
        const float angle = static_cast<float>(radians(Degree{5.0 + 170.0 * (i + 0.5) / places}));
        float inside = 0;
        float outside = static_cast<float>(figure.head_radius) * 1.3F;
        if (on_head(toward(angle, inside)) == nullptr || on_head(toward(angle, outside)) != nullptr) continue;
        for (int halving = 0; halving < 18; ++halving) {
            const float middle = (inside + outside) / 2;
            (on_head(toward(angle, middle)) != nullptr ? inside : outside) = middle;
        }
        OutlinePlace place;
        place.on = toward(angle, inside - just_inside);
        place.behind = toward(angle, inside + just_outside);
        const Part* part = on_head(place.on);
        float x = 0;
        float y = 0;
        const bool in_picture = view.project(view.at() + place.on.direction, x, y) && view.in_picture(x, y);
        if (part == nullptr || on_head(place.behind) != nullptr || !in_picture) continue;
        place.kind = part->kind;
        found.push_back(place);
    }
    return found;
}

}  // namespace rushlight
