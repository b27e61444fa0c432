#include "scene/surface/polarizer.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

Fresnel fresnel_of_each(float cosine, float index) {
    const float c = std::clamp(std::abs(cosine), 0.0F, 1.0F);
    const float sin_t = std::sqrt(1.0F - c * c) / index;
    if (sin_t >= 1.0F) return {1, 1};
    const float t = std::sqrt(1.0F - sin_t * sin_t);
    const float s = (c - index * t) / (c + index * t);
    const float p = (index * c - t) / (index * c + t);
    return {s * s, p * p};
}

PaneFresnel pane_of_each(float cosine, float index, float transmittance) {
    const float c = std::clamp(std::abs(cosine), 1e-4F, 1.0F);
    const float sin_t = std::sqrt(1.0F - c * c) / index;
    const float inside = std::pow(transmittance, 1.0F / std::sqrt(std::max(1e-6F, 1.0F - sin_t * sin_t)));
    const Fresnel face = fresnel_of_each(c, index);
    const auto pane = [&](float r, float& reflected, float& transmitted) {
        transmitted = (1.0F - r) * (1.0F - r) * inside / (1.0F - r * r * inside * inside);
        reflected = r + r * inside * transmitted;
    };
    PaneFresnel both;
    pane(face.s, both.reflected.s, both.transmitted.s);
    pane(face.p, both.reflected.p, both.transmitted.p);
    return both;
}

float index_of_coat(float coat) {
    const float r = std::sqrt(std::clamp(coat, 0.0F, 0.9F));
    return (1.0F + r) / (1.0F - r);
}

Analyser::Analyser(const Vec3& sight, const Vec3& passes) {
    x_ = passes - sight * passes.dot(sight);
    if (x_.length2() < 1e-10F) x_ = Frame(sight).x;
    x_.normalize();
    y_ = sight.cross(x_);
}

Analyser::Turned Analyser::turned(const Vec3& along) const {
    const float a = along.dot(x_), b = along.dot(y_);
    const float both = a * a + b * b;
    if (both < 1e-12F) return {0, 0};
    return {(a * a - b * b) / both, 2 * a * b / both};
}

float Analyser::of(const Fresnel& shares, const Vec3& along) const {
    const float sum = shares.s + shares.p;
    if (!(sum > 0)) return 1;
    const Turned t = turned(along);
    // First column of the surface's matrix: (s + p, (s - p) cos, (s - p) sin) / 2.
    return 1 + (shares.s - shares.p) / sum * (q_ * t.cosine + u_ * t.sine);
}

float Analyser::look_through(const Fresnel& shares, const Vec3& along) {
    const float sum = shares.s + shares.p;
    if (!(sum > 0)) return 1;
    const Turned t = turned(along);
    if (t.cosine == 0 && t.sine == 0) return 1;  // straight on there is no plane of incidence, and nothing changes
    const float differs = (shares.s - shares.p) / sum;
    const float geometric = 2 * std::sqrt(shares.s * shares.p) / sum;
    // In the surface's own axes, the row (1, q, u) times its matrix.
    const float q = q_ * t.cosine + u_ * t.sine, u = u_ * t.cosine - q_ * t.sine;
    const float passed = 1 + differs * q;
    const float q_after = (differs + q) / passed, u_after = geometric * u / passed;
    q_ = q_after * t.cosine - u_after * t.sine;
    u_ = u_after * t.cosine + q_after * t.sine;
    return passed;
}

}  // namespace rushlight
