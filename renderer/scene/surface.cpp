#include "scene/surface.h"

#include "quantity/units.h"
#include "scene/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float one_over_pi = static_cast<float>(1.0 / pi);
constexpr float two_pi = static_cast<float>(2.0 * pi);

/// Schlick's rise of Fresnel reflectance towards grazing: 0 at normal incidence, 1 along the surface.
float rise(float cosine) {
    const float m = std::clamp(1.0F - cosine, 0.0F, 1.0F);
    const float m2 = m * m;
    return m2 * m2 * m;
}
/// Its cosine-weighted mean.
constexpr float mean_rise = 1.0F / 21.0F;
float schlick(float at_normal, float cosine) {
    return at_normal + (1.0F - at_normal) * rise(cosine);
}

/// GGX normal distribution and Smith masking (Walter et al. 2007; height-correlated form, Heitz 2014).
float ggx_distribution(float cos_h, float alpha) {
    const float a2 = alpha * alpha;
    const float d = cos_h * cos_h * (a2 - 1.0F) + 1.0F;
    return a2 * one_over_pi / (d * d);
}
float smith_lambda(float cosine, float alpha) {
    const float c2 = cosine * cosine;
    const float tan2 = std::max(0.0F, 1.0F - c2) / std::max(c2, 1e-12F);
    return 0.5F * (std::sqrt(1.0F + alpha * alpha * tan2) - 1.0F);
}
/// A half-vector from the visible normals (Heitz, JCGT 7(4), 2018).
Vec3 ggx_visible_normal(const Vec3& from, float alpha, float u0, float u1) {
    const Vec3 stretched = Vec3(alpha * from.x, alpha * from.y, from.z).normalized();
    const float across = stretched.x * stretched.x + stretched.y * stretched.y;
    const Vec3 t1 = across > 0 ? Vec3(-stretched.y, stretched.x, 0) / std::sqrt(across) : Vec3(1, 0, 0);
    const Vec3 t2 = stretched.cross(t1);
    const float r = std::sqrt(u0);
    const float phi = two_pi * u1;
    const float p1 = r * std::cos(phi);
    const float s = 0.5F * (1.0F + stretched.z);
    const float p2 = (1.0F - s) * std::sqrt(std::max(0.0F, 1.0F - p1 * p1)) + s * r * std::sin(phi);
    const Vec3 n = t1 * p1 + t2 * p2 + stretched * std::sqrt(std::max(0.0F, 1.0F - p1 * p1 - p2 * p2));
    return Vec3(alpha * n.x, alpha * n.y, std::max(1e-6F, n.z)).normalized();
}

}  // namespace

float fresnel_dielectric(float cosine, float index) {
    const float c = std::clamp(std::abs(cosine), 0.0F, 1.0F);
    const float sin_t = std::sqrt(1.0F - c * c) / index;
    if (sin_t >= 1.0F) return 1.0F;
    const float t = std::sqrt(1.0F - sin_t * sin_t);
    const float s = (c - index * t) / (c + index * t);
    const float p = (index * c - t) / (index * c + t);
    return 0.5F * (s * s + p * p);
}

PaneShares pane_shares(float cosine, float index, float transmittance) {
    const float c = std::clamp(std::abs(cosine), 1e-4F, 1.0F);
    const float sin_t = std::sqrt(1.0F - c * c) / index;
    const float t = std::sqrt(std::max(0.0F, 1.0F - sin_t * sin_t));
    const float inside = std::pow(transmittance, 1.0F / t);
    const float rs = (c - index * t) / (c + index * t);
    const float rp = (index * c - t) / (index * c + t);
    PaneShares sum{0, 0};
    for (const float r : {rs * rs, rp * rp}) {
        const float bounced = 1.0F - r * r * inside * inside;
        const float through = (1.0F - r) * (1.0F - r) * inside / bounced;
        sum.transmitted += 0.5F * through;
        sum.reflected += 0.5F * (r + r * inside * through);
    }
    return sum;
}

float pane_transmittance_for(float wanted, float index) {
    // (1-R)^2 t / (1 - R^2 t^2) = wanted, solved for t in the form that does not cancel for dark glass.
    const double r0 = (index - 1.0) / (index + 1.0);
    const double r = r0 * r0;
    const double b = (1 - r) * (1 - r);
    const double t = 2 * wanted / (b + std::sqrt(b * b + 4 * wanted * wanted * r * r));
    return static_cast<float>(std::clamp(t, 0.0, 1.0));
}

Surface::Surface(const Finish& finish)
    : matt(finish.reflectance * one_over_pi),
      through(finish.through * one_over_pi),
      straight(finish.straight),
      metal(finish.metal),
      coat(finish.gloss),
      alpha(std::clamp(finish.roughness, 0.01F, 1.0F)),
      pane(finish.pane),
      pane_index(finish.pane_index),
      pane_transmittance(finish.pane_transmittance) {
    if (pane) {
        matt = through = straight = metal = Spectrum{};
        coat = 0;
        alpha = 0.01F;
    }
    matt_share = matt.largest() / one_over_pi;
    through_share = through.largest() / one_over_pi;
    metal_share = metal.largest();
    straight_share = straight.largest();
}

Surface::Surface(const Fibre& hair) : fibre(std::make_shared<const Fibre>(hair)) {}

Spectrum Surface::straight_at(float cosine) const {
    if (pane) return Spectrum{pane_shares(cosine, pane_index, pane_transmittance).transmitted};
    return coat > 0 || metal_share > 0 ? straight * beneath(cosine) : straight;
}

float Surface::beneath(float cosine) const {
    return (1.0F - coat) * (1.0F - rise(cosine));
}

float Surface::chance_to_pass(float cosine) const {
    if (!veil()) return 0;
    const float passes = straight_at(cosine).largest();
    const float scatters = pane ? pane_shares(cosine, pane_index, pane_transmittance).reflected
                                : matt_share + through_share + metal_share + coat;
    return passes > 0 ? passes / (passes + scatters) : 0.0F;
}

float Surface::largest_share() const {
    if (pane) return 1.0F;
    if (fibre) return fibre->largest_share();
    return std::min(1.0F, matt_share + through_share + metal_share + coat + straight_share);
}

Surface::Lobes Surface::lobes(float cosine) const {
    Lobes l{matt_share, through_share, 0};
    if (pane) {
        l.mirror = 1.0F;
    } else if (mirror_like()) {
        const float f = schlick(metal_share > 0 ? metal_share : coat, cosine);
        // A floor keeps bright mirror images from being met by luck alone, most of all sharp ones: an eye's catchlight.
        l.mirror = std::max(f, (alpha < 0.03F ? 0.4F : 0.15F) * (f + l.matt));
        l.matt *= beneath(cosine);
        l.through *= beneath(cosine);
    }
    const float sum = l.matt + l.through + l.mirror;
    if (sum <= 0) return {0, 0, 0};
    return {l.matt / sum, l.through / sum, l.mirror / sum};
}

Spectrum Surface::scattered(const Vec3& normal, const Vec3& a, const Vec3& b) const {
    const float ca = normal.dot(a);
    const float cb = normal.dot(b);
    if (ca * cb == 0) return Spectrum{};
    const float cos_a = std::abs(ca);
    const float cos_b = std::abs(cb);

    Spectrum sum = ca * cb < 0 ? through : matt;
    if (!mirror_like()) return sum;
    // What gets past the coat, is scattered by the body and leaves again; the mean keeps the energy whole.
    if (!pane) sum *= beneath(cos_a) * (1.0F - rise(cos_b)) / (1.0F - mean_rise);
    if (ca * cb < 0) return sum;
    const Vec3 h = (a + b).normalized();
    const float cos_ha = std::abs(h.dot(a));
    const float cos_h = std::abs(h.dot(normal));
    const float masking = 1.0F / (1.0F + smith_lambda(cos_a, alpha) + smith_lambda(cos_b, alpha));
    const float lobe = ggx_distribution(cos_h, alpha) * masking / (4.0F * cos_a * cos_b);
    if (pane) {
        sum += Spectrum{lobe * pane_shares(cos_ha, pane_index, pane_transmittance).reflected};
    } else if (metal_share > 0) {
        for (int i = 0; i < bands; ++i) sum[i] += lobe * schlick(metal[i], cos_ha);
    } else {
        sum += Spectrum{lobe * schlick(coat, cos_ha)};
    }
    return sum;
}

float Surface::density(const Vec3& normal, const Vec3& from, const Vec3& to) const {
    const float cf = normal.dot(from);
    const float ct = normal.dot(to);
    const Lobes l = lobes(std::abs(cf));
    if (cf * ct < 0) return l.through * std::abs(ct) * one_over_pi;
    float sum = l.matt * std::abs(ct) * one_over_pi;
    if (l.mirror > 0) {
        const Vec3 h = (from + to).normalized();
        const float cos_h = std::abs(h.dot(normal));
        const float cos_f = std::max(std::abs(cf), 1e-6F);
        sum += l.mirror * ggx_distribution(cos_h, alpha) / (1.0F + smith_lambda(cos_f, alpha)) / (4.0F * cos_f);
    }
    return sum;
}

std::optional<Surface::Bounce> Surface::bounce(const Vec3& normal, const Vec3& from, float u0, float u1,
                                               float u2) const {
    const Vec3 facing = normal.dot(from) < 0 ? -normal : normal;
    const float cosine = facing.dot(from);
    if (cosine <= 0) return std::nullopt;
    const Lobes l = lobes(cosine);
    const Frame frame(facing);

    Bounce b;
    if (u2 < l.mirror) {
        const Vec3 local = frame.to_frame(from);
        const Vec3 h = ggx_visible_normal(local, alpha, u0, u1);
        const Vec3 mirrored = h * (2.0F * h.dot(local)) - local;
        if (mirrored.z <= 1e-6F) return std::nullopt;
        b.to = frame.to_place(mirrored).normalized();
    } else if (u2 < l.mirror + l.matt) {
        b.to = frame.to_place(cosine_direction(u0, u1));
    } else if (l.through > 0) {
        b.to = -frame.to_place(cosine_direction(u0, u1));
    } else {
        return std::nullopt;
    }
    b.density = density(facing, from, b.to);
    if (!(b.density > 0)) return std::nullopt;
    b.kept = scattered(facing, from, b.to) * (std::abs(facing.dot(b.to)) / b.density);
    return b;
}

}  // namespace rushlight
