#include "paths/walk/aim.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

Aim::Shares Aim::shares(const Vertex& v, const Vec3& from) const {
    if (v.surface->pane) return {};
    // Within a tress an aimed ray meets the next hair. The many bounces there would each make a walk that was not aimed
    // heavier, and few walks come out with most of the light.
    constexpr float within_a_tress = 0.03F;
    if (v.is_fibre() && v.distance < within_a_tress) return {};
    const bool all_round = v.surface->scatters_through() || v.is_fibre();
    const Vec3 facing = v.normal.dot(from) < 0 ? -v.normal : v.normal;
    const auto ahead = [&](const AimedRectangles& at) {
        return all_round || std::any_of(at.rectangles.begin(), at.rectangles.end(),
                                        [&](const Rectangle& p) { return facing.dot(p.centre - v.position) > 0; });
    };
    Shares s;
    if (openings_ != nullptr && !(openings_->closed && !openings_->inside(v.position)) && ahead(*openings_))
        s.openings = at_surfaces.openings;
    if (shining_ != nullptr && ahead(*shining_)) s.shining = at_surfaces.shining;
    return s;
}

float Aim::aimed_pdf(const Shares& aimed, const Vec3& at, const Vec3& to) const {
    float pdf = 0;
    if (aimed.openings > 0) pdf += aimed.openings * openings_->pdf(at, to);
    if (aimed.shining > 0) pdf += aimed.shining * shining_->pdf(at, to);
    return pdf;
}

std::optional<Surface::Bounce> Aim::bounce(const Vertex& v, float u0, float u1, float u2) const {
    const Shares aimed = shares(v, v.from);
    const float away = aimed.openings + aimed.shining;
    if (away <= 0) return v.bounce_to_light(u0, u1, u2);
    Surface::Bounce b;
    if (u2 < away) {
        const auto seen = drawn(aimed, v.position, u0, u1, u2);
        if (!seen) return std::nullopt;
        b.to = seen->direction;
    } else {
        const auto own = v.bounce_to_light(u0, u1, (u2 - away) / aimed.own());
        if (!own) return std::nullopt;
        b.to = own->to;
    }
    b.pdf = mixed(aimed, v.position, v.pdf_to_light(v.from, b.to), b.to);
    if (!(b.pdf > 0)) return std::nullopt;
    b.weight = v.sent(v.from, b.to) * (1.0F / b.pdf);
    return b;
}

}  // namespace rushlight
