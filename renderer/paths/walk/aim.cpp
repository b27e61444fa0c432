#include "paths/walk/aim.h"

#include <cmath>

namespace rushlight {

float Aim::share(const Vertex& v, const Vec3& from) const {
    if (openings_ == nullptr || v.surface->pane) return 0;
    if (openings_->closed && !openings_->inside(v.position)) return 0;
    if (v.surface->scatters_through() || v.is_fibre()) return share_at_surfaces;
    const Vec3 facing = v.normal.dot(from) < 0 ? -v.normal : v.normal;
    for (const Rectangle& p : openings_->rectangles)
        if (facing.dot(p.centre - v.position) > 0) return share_at_surfaces;
    return 0;
}

float Aim::pdf(const Vertex& v, const Vec3& from, const Vec3& to) const {
    const float own = v.pdf_to_light(from, to);
    const float aimed = share(v, from);
    return aimed > 0 ? (1.0F - aimed) * own + aimed * openings_->pdf(v.position, to) : own;
}

std::optional<Surface::Bounce> Aim::bounce(const Vertex& v, float u0, float u1, float u2) const {
    const float aimed = share(v, v.from);
    if (aimed <= 0) return v.bounce_to_light(u0, u1, u2);
    Surface::Bounce b;
    float toward_openings = 0;
    if (u2 < aimed) {
        const auto drawn = openings_->drawn(v.position, u0, u1);
        if (!drawn) return std::nullopt;
        b.to = drawn->direction;
        toward_openings = drawn->pdf;
    } else {
        const auto own = v.bounce_to_light(u0, u1, (u2 - aimed) / (1.0F - aimed));
        if (!own) return std::nullopt;
        b.to = own->to;
        toward_openings = openings_->pdf(v.position, b.to);
    }
    b.pdf = (1.0F - aimed) * v.pdf_to_light(v.from, b.to) + aimed * toward_openings;
    if (!(b.pdf > 0)) return std::nullopt;
    b.weight = v.sent(v.from, b.to) * (1.0F / b.pdf);
    return b;
}

}  // namespace rushlight
