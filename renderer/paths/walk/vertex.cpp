#include "paths/walk/vertex.h"

namespace rushlight {

Vec3 Vertex::facing(const Vec3& toward) const {
    constexpr float grazing = 0.02F;
    const Vec3 n = normal.dot(toward) < 0 ? -frame.way : frame.way;
    const float c = n.dot(toward);
    return c < grazing ? (n + toward * (grazing - c)).normalized() : n;
}

Spectrum Vertex::sent(const Vec3& to_eye, const Vec3& to_light) const {
    switch (frame.kind) {
        case HitFrame::Kind::flat:
            return surface->scattered(normal, to_eye, to_light) * std::abs(normal.dot(to_light));
        case HitFrame::Kind::rounded: {
            const Vec3 n = facing(to_eye);
            return surface->scattered(n, to_eye, to_light) * std::abs(n.dot(to_light));
        }
        case HitFrame::Kind::fibre:
            break;
    }
    return surface->fibre->sent(frame.way, to_eye, to_light);
}

Spectrum Vertex::brought(const Vec3& to_eye) const {
    if (frame.kind == HitFrame::Kind::flat)
        return surface->scattered(normal, to_eye, from) * std::abs(normal.dot(to_eye));
    const float c = cosine(to_eye);
    return c > 0 ? sent(to_eye, from) * (c / cosine(from)) : Spectrum{};
}

float Vertex::pdf_to_light(const Vec3& to_eye, const Vec3& to_light) const {
    if (is_fibre()) return surface->fibre->pdf(frame.way, to_eye, to_light);
    return surface->pdf(frame.kind == HitFrame::Kind::flat ? normal : facing(to_eye), to_eye, to_light);
}

float Vertex::pdf_to_eye(const Vec3& to_light, const Vec3& to_eye) const {
    if (is_fibre()) return 0;
    return surface->pdf(frame.kind == HitFrame::Kind::flat ? normal : facing(to_light), to_light, to_eye);
}

std::optional<Surface::Bounce> Vertex::bounce_to_light(float u0, float u1, float u2) const {
    if (frame.kind == HitFrame::Kind::flat) return surface->bounce(normal, from, u0, u1, u2);
    Surface::Bounce b;
    if (is_fibre()) {
        b.to = surface->fibre->draw(frame.way, from, u0, u1, u2);
    } else {
        const auto drawn = surface->bounce(facing(from), from, u0, u1, u2);
        if (!drawn) return std::nullopt;
        b.to = drawn->to;
    }
    b.pdf = pdf_to_light(from, b.to);
    if (!(b.pdf > 0)) return std::nullopt;
    b.weight = sent(from, b.to) * (1.0F / b.pdf);
    return b;
}

std::optional<Surface::Bounce> Vertex::bounce_to_eye(float u0, float u1, float u2) const {
    if (frame.kind == HitFrame::Kind::flat) return surface->bounce(normal, from, u0, u1, u2);
    const auto drawn = surface->bounce(facing(from), from, u0, u1, u2);
    if (!drawn) return std::nullopt;
    Surface::Bounce b;
    b.to = drawn->to;
    b.pdf = pdf_to_eye(from, b.to);
    if (!(b.pdf > 0)) return std::nullopt;
    b.weight = brought(b.to) * (1.0F / b.pdf);
    return b;
}

Vec3 Vertex::lifted_to(const Vec3& toward) const {
    switch (frame.kind) {
        case HitFrame::Kind::flat:
            return lifted(position, normal, toward, distance);
        case HitFrame::Kind::rounded:
            // The point goes to the side that is shaded, even where that lies a little below the face, because the
            // bulge rises over the neighbours' edges.
            return lifted(position + frame.bulge, normal, frame.way.dot(toward) < 0 ? -normal : normal, distance);
        case HitFrame::Kind::fibre:
            break;
    }
    // Out of the ribbon that turns with the ray.
    return position + toward * (2.0F * frame.radius / std::max(cosine(toward), 0.1F));
}

Ray Vertex::ray_to(const Vertex& other, const Vec3& toward) const {
    const Vec3 start = lifted_to(toward);
    const Vec3 end = other.frame.kind == HitFrame::Kind::flat ? other.position : other.lifted_to(-toward);
    const Vec3 way = end - start;
    const float length = way.length();
    if (way.dot(toward) <= 0) return Ray{start, toward, 0.0F};  // they touch
    return Ray{start, way / length, length * short_of};
}

}  // namespace rushlight
