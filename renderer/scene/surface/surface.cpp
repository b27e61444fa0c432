#include "scene/surface/surface.h"

#include "quantity/units.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float one_over_pi = static_cast<float>(1.0 / pi);
// A blur under a third of a degree is as good as none, and no float holds its peak.
constexpr float sharp_below = 0.005F;
constexpr float least_blur = 0.01F;

/// Schlick's rise of Fresnel reflectance towards grazing: 0 at normal incidence, 1 along the surface.
float rise(float cosine) {
    const float m = std::clamp(1.0F - cosine, 0.0F, 1.0F);
    const float m2 = m * m;
    return m2 * m2 * m;
}
/// Its cosine-weighted mean.
constexpr float mean_rise = 1.0F / 21.0F;
/// For bare metal, whose Fresnel equations ask for more than a file gives. A clear coat has its own.
float schlick(float at_normal, float cosine) {
    return at_normal + (1.0F - at_normal) * rise(cosine);
}

/// Cosine-weighted mean of Fresnel's reflectance over the hemisphere.
float mean_fresnel(float index) {
    constexpr int steps = 256;
    float sum = 0;
    for (int i = 0; i < steps; ++i) {
        const float cosine = (static_cast<float>(i) + 0.5F) / steps;
        sum += 2.0F * cosine * fresnel_dielectric(cosine, index) / steps;
    }
    return sum;
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
    const float phi = 2.0F * pi_f * u1;
    const float p1 = r * std::cos(phi);
    const float s = 0.5F * (1.0F + stretched.z);
    const float p2 = (1.0F - s) * std::sqrt(std::max(0.0F, 1.0F - p1 * p1)) + s * r * std::sin(phi);
    const Vec3 n = t1 * p1 + t2 * p2 + stretched * std::sqrt(std::max(0.0F, 1.0F - p1 * p1 - p2 * p2));
    return Vec3(alpha * n.x, alpha * n.y, std::max(1e-6F, n.z)).normalized();
}

}  // namespace

float fresnel_dielectric(float cosine, float index) {
    const Fresnel f = fresnel_of_each(cosine, index);
    return 0.5F * (f.s + f.p);
}

PaneShares pane_shares(float cosine, float index, float transmittance) {
    const PaneFresnel each = pane_of_each(cosine, index, transmittance);
    return {0.5F * (each.reflected.s + each.reflected.p), 0.5F * (each.transmitted.s + each.transmitted.p)};
}

Surface::Surface(const Finish& finish)
    : matt(finish.reflectance * one_over_pi),
      through(finish.through * one_over_pi),
      straight(finish.straight),
      metal(finish.metal),
      coat(finish.gloss),
      alpha(finish.roughness < sharp_below ? 0.0F : std::clamp(finish.roughness, least_blur, 1.0F)),
      pane(finish.pane),
      pane_index(finish.pane_index),
      pane_transmittance(finish.pane_transmittance) {
    if (pane) {
        matt = through = straight = metal = Spectrum{};
        coat = 0;
        alpha = 0;
    }
    if (coat > 0) {
        coat_index = index_of_coat(coat);
        coat_mean = mean_fresnel(coat_index);
    }
    matt_share = matt.largest() / one_over_pi;
    through_share = through.largest() / one_over_pi;
    metal_share = metal.largest();
    straight_share = straight.largest();
    if (through_share > 0 && finish.spread < ForwardLobe::as_good_as_lambert)
        forward = std::make_shared<ForwardLobe>(finish.spread);
}

Surface Surface::of_rounded(const Finish& finish) {
    Surface s(finish);
    s.alpha = std::max(s.alpha, least_blur);
    return s;
}

Surface::Surface(const Fibre& hair) : fibre(std::make_shared<const Fibre>(hair)) {}

Spectrum Surface::straight_at(float cosine) const {
    if (pane) return Spectrum{pane_shares(cosine, pane_index, pane_transmittance).transmitted};
    return coat > 0 || metal_share > 0 ? straight * beneath(cosine) : straight;
}

float Surface::beneath(float cosine) const {
    return coat > 0 ? 1.0F - coat_share(cosine) : 1.0F - rise(cosine);
}

float Surface::coat_share(float cosine) const {
    return fresnel_dielectric(cosine, coat_index);
}

Spectrum Surface::mirrored_at(float cosine) const {
    if (!sharp()) return {};
    if (pane) return Spectrum{pane_shares(cosine, pane_index, pane_transmittance).reflected};
    if (metal_share <= 0) return Spectrum{coat_share(cosine)};
    Spectrum shares;
    for (int i = 0; i < bands; ++i) shares[i] = schlick(metal[i], cosine);
    return shares;
}

Surface::Chances Surface::chances(float cosine) const {
    if (!veil() && !sharp()) return {};
    if (pane && sharp()) {
        const PaneShares s = pane_shares(cosine, pane_index, pane_transmittance);
        const float sum = s.transmitted + s.reflected;
        return sum > 0 ? Chances{s.transmitted / sum, s.reflected / sum} : Chances{};
    }
    const float passes = veil() ? straight_at(cosine).largest() : 0.0F;
    float mirrors = 0, scatters = 0;
    if (sharp()) {
        mirrors = mirrored_at(cosine).largest();
        scatters = matt_share + through_share;
        // A floor, as for a coat with some blur: see lobes().
        if (scatters > 0) mirrors = std::max(mirrors, 0.15F * (mirrors + scatters));
    } else {
        scatters = pane ? pane_shares(cosine, pane_index, pane_transmittance).reflected
                        : matt_share + through_share + metal_share + coat;
    }
    const float sum = passes + mirrors + scatters;
    return sum > 0 ? Chances{passes / sum, mirrors / sum} : Chances{};
}

float Surface::largest_share() const {
    if (pane) return 1.0F;
    if (fibre) return fibre->largest_share();
    return std::min(1.0F, matt_share + through_share + metal_share + coat + straight_share);
}

Surface::Lobes Surface::lobes(float cosine) const {
    Lobes l{matt_share, through_share, 0};
    if (pane) {
        l.mirror = sharp() ? 0.0F : 1.0F;
    } else if (sharp()) {
        l.matt *= beneath(cosine);
        l.through *= beneath(cosine);
    } else if (mirror_like()) {
        const float f = metal_share > 0 ? schlick(metal_share, cosine) : coat_share(cosine);
        // A floor keeps bright mirror images from being met by luck alone, most of all sharp ones: an eye's catchlight.
        l.mirror = std::max(f, (alpha < 0.03F ? 0.4F : 0.15F) * (f + l.matt));
        l.matt *= beneath(cosine);
        l.through *= beneath(cosine);
    }
    const float sum = l.matt + l.through + l.mirror;
    if (sum <= 0) return {0, 0, 0};
    return {l.matt / sum, l.through / sum, l.mirror / sum};
}

Surface::Parts Surface::parts(const Vec3& normal, const Vec3& a, const Vec3& b) const {
    const float ca = normal.dot(a);
    const float cb = normal.dot(b);
    if (ca * cb == 0) return {};
    const float cos_a = std::abs(ca);
    const float cos_b = std::abs(cb);

    Parts p;
    p.body = ca * cb < 0 ? through : matt;
    // `through` holds Lambert's 1 / pi; a lobe has its own law.
    if (ca * cb < 0 && forward) p.body *= forward->scattered(cos_a, cos_b, -a.dot(b)) / one_over_pi;
    if (!mirror_like()) return p;
    // The light that passes the coat, is scattered by the body and leaves again; the mean keeps the energy whole.
    if (!pane) p.body *= beneath(cos_a) * beneath(cos_b) / (1.0F - (coat > 0 ? coat_mean : mean_rise));
    if (ca * cb < 0 || sharp()) return p;
    const Vec3 h = (a + b).normalized();
    const float cos_ha = std::abs(h.dot(a));
    const float cos_h = std::abs(h.dot(normal));
    const float masking = 1.0F / (1.0F + smith_lambda(cos_a, alpha) + smith_lambda(cos_b, alpha));
    const float lobe = ggx_distribution(cos_h, alpha) * masking / (4.0F * cos_a * cos_b);
    if (pane) {
        p.gloss = Spectrum{lobe * pane_shares(cos_ha, pane_index, pane_transmittance).reflected};
    } else if (metal_share > 0) {
        for (int i = 0; i < bands; ++i) p.gloss[i] = lobe * schlick(metal[i], cos_ha);
    } else {
        p.gloss = Spectrum{lobe * coat_share(cos_ha)};
    }
    return p;
}

Spectrum Surface::scattered(const Vec3& normal, const Vec3& a, const Vec3& b) const {
    if (!mirror_like() && !forward) {
        const float sides = normal.dot(a) * normal.dot(b);
        return sides == 0 ? Spectrum{} : sides < 0 ? through : matt;
    }
    const Parts p = parts(normal, a, b);
    return p.body + p.gloss;
}

Spectrum Surface::seen(const Vec3& normal, const Vec3& toward_lens, const Vec3& b, const Analyser& analyser) const {
    if (!mirror_like() || (metal_share > 0 && !pane)) return scattered(normal, toward_lens, b);
    Parts p = parts(normal, toward_lens, b);
    const Vec3 half = (toward_lens + b).normalized();
    const float cos_half = half.dot(toward_lens);
    if (pane) {
        const Fresnel shares = pane_of_each(cos_half, pane_index, pane_transmittance).reflected;
        return p.body + p.gloss * analyser.of(shares, half.cross(toward_lens));
    }
    const Fresnel leaving = fresnel_of_each(normal.dot(toward_lens), coat_index);
    return p.gloss * analyser.of(fresnel_of_each(cos_half, coat_index), half.cross(toward_lens)) +
           p.body * analyser.of({1.0F - leaving.s, 1.0F - leaving.p}, normal.cross(toward_lens));
}

float Surface::pdf(const Vec3& normal, const Vec3& from, const Vec3& to) const {
    const float cf = normal.dot(from);
    const float ct = normal.dot(to);
    const Lobes l = lobes(std::abs(cf));
    if (cf * ct < 0) return l.through * through_density(std::abs(cf), std::abs(ct), -from.dot(to));
    float sum = l.matt * std::abs(ct) * one_over_pi;
    if (l.mirror > 0) {
        const Vec3 h = (from + to).normalized();
        const float cos_h = std::abs(h.dot(normal));
        const float cos_f = std::max(std::abs(cf), 1e-6F);
        sum += l.mirror * ggx_distribution(cos_h, alpha) / (1.0F + smith_lambda(cos_f, alpha)) / (4.0F * cos_f);
    }
    return sum;
}

float Surface::through_density(float cos_from, float cos_to, float cos_bend) const {
    const float even = cos_to * one_over_pi;
    if (!forward) return even;
    const float share = forward->share(cos_from);
    return share * forward->lobe_density(cos_bend) + (1.0F - share) * even;
}

Vec3 Surface::drawn_through(const Vec3& facing, const Vec3& from, float u0, float u1, float which) const {
    if (!forward || which >= forward->share(facing.dot(from))) return -Frame(facing).to_place(cosine_direction(u0, u1));
    return Frame(-from).to_place(sphere_direction(forward->drawn_bend(u0), u1)).normalized();
}

std::optional<Surface::Bounce> Surface::bounce(const Vec3& normal, const Vec3& from, float u0, float u1,
                                               float u2) const {
    const Vec3 facing = normal.dot(from) < 0 ? -normal : normal;
    const float cosine = facing.dot(from);
    if (cosine <= 0) return std::nullopt;
    const Lobes l = lobes(cosine);
    const Frame frame(facing);

    Bounce b;
    if (u2 < l.mirror) {  // never of a sharp one
        const Vec3 local = frame.to_frame(from);
        const Vec3 h = ggx_visible_normal(local, alpha, u0, u1);
        const Vec3 mirrored = h * (2.0F * h.dot(local)) - local;
        if (mirrored.z <= 1e-6F) return std::nullopt;
        b.to = frame.to_place(mirrored).normalized();
    } else if (u2 < l.mirror + l.matt) {
        b.to = frame.to_place(cosine_direction(u0, u1));
    } else if (l.through > 0) {
        b.to = drawn_through(facing, from, u0, u1, (u2 - l.mirror - l.matt) / l.through);
        if (facing.dot(b.to) >= 0)
            return std::nullopt;  // light bent back: the cosine lobe makes up for what the narrow lobe loses
    } else {
        return std::nullopt;
    }
    b.pdf = pdf(facing, from, b.to);
    if (!(b.pdf > 0)) return std::nullopt;
    b.weight = scattered(facing, from, b.to) * (std::abs(facing.dot(b.to)) / b.pdf);
    return b;
}

}  // namespace rushlight
