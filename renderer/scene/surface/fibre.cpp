#include "scene/surface/fibre.h"

#include "quantity/units.h"
#include "scene/surface/surface.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float degree = static_cast<float>(radians(Degree{1}));

// Marschner et al., table 1: the lobe off the surface is 5 to 10 degrees wide, half that through, twice that back;
// scales tilted by half of 5 to 10 degrees lean it to the root, the others to the tip (figures from memory).
constexpr float width_of_surface_lobe = 8.0F * degree;
constexpr float scale_tilt = 2.5F * degree;
constexpr std::array<float, 4> widths{width_of_surface_lobe, 0.5F * width_of_surface_lobe, 2.0F * width_of_surface_lobe,
                                      2.0F * width_of_surface_lobe};
constexpr std::array<float, 4> leans{-2.0F * scale_tilt, scale_tilt, 3.0F * scale_tilt, 0.0F};

/// Logistic spread round the fibre for an azimuthal roughness of 0.3 (Chiang et al., equation 12).
float logistic_spread() {
    constexpr double r = 0.3;
    return static_cast<float>(std::sqrt(pi / 8) * (0.265 * r + 1.194 * r * r + 5.372 * std::pow(r, 22)));
}
const float spread = logistic_spread();

float logistic(float x) {
    const float e = std::exp(-std::abs(x) / spread);
    return e / (spread * (1.0F + e) * (1.0F + e));
}
/// exp(-x) times the modified Bessel function of order 0 (Abramowitz and Stegun 9.6.12, 9.7.1).
float bessel_0_scaled(float x) {
    if (x < 9.0F) {
        const float q = 0.25F * x * x;
        float sum = 1, term = 1;
        for (int k = 1; k < 30; ++k) {
            term *= q / static_cast<float>(k * k);
            sum += term;
            if (term < 1e-8F * sum) break;
        }
        return sum * std::exp(-x);
    }
    const float y = 1.0F / (8.0F * x);
    return (1.0F + y * (1.0F + y * (4.5F + y * 37.5F))) / std::sqrt(2.0F * pi_f * x);
}

/// d'Eon et al.'s longitudinal lobe of variance v: its integral over the sine of one of the angles is one.
float longitudinal(float v, float sine_a, float cosine_a, float sine_b, float cosine_b) {
    const float x = cosine_a * cosine_b / v;
    const float exponent = x - (sine_a * sine_b + 1.0F) / v;
    if (exponent < -25.0F) return 0;
    // 1 / (2 v sinh(1/v)) = exp(-1/v) / (v (1 - exp(-2/v))), and v is small
    return std::exp(exponent) * bessel_0_scaled(x) / v;
}

float within_half_a_turn(float angle) {
    angle = std::fmod(angle, 2.0F * pi_f);
    if (angle > pi_f) angle -= 2.0F * pi_f;
    if (angle < -pi_f) angle += 2.0F * pi_f;
    return angle;
}

struct Lean {
    float sine, cosine;
};
std::array<Lean, 4> leans_as_sines() {
    std::array<Lean, 4> l{};
    for (std::size_t w = 0; w < l.size(); ++w) l[w] = {std::sin(leans[w]), std::cos(leans[w])};
    return l;
}
const std::array<Lean, 4> lean_of = leans_as_sines();

float variance(int way) {
    const float w = widths[static_cast<std::size_t>(way)];
    return w * w;
}

/// Where a direction lies to the cross-section.
struct Side {
    float sine, cosine;
};
Side side_of(const Vec3& along, const Vec3& direction) {
    const float sine = std::clamp(along.dot(direction), -1.0F, 1.0F);
    return {sine, std::sqrt(std::max(0.0F, 1.0F - sine * sine))};
}
/// `side` leaned against the lobe's lean, so that the lobe's middle lies mirrored to it.
Side leaned(const Side& side, int way) {
    const auto& [s, c] = lean_of[static_cast<std::size_t>(way)];
    return {side.sine * c - side.cosine * s, std::abs(side.cosine * c + side.sine * s)};
}
float lengthwise(int way, const Side& from, const Side& to) {
    const Side f = leaned(from, way);
    return longitudinal(variance(way), f.sine, f.cosine, to.sine, to.cosine);
}

/// The refracted direction at one place across the fibre.
struct Passage {
    float reflected;          // Fresnel's share
    float length;             // of the way inside from wall to wall, in radii
    float turn_out, turn_in;  // of the normal, outside and inside
};
Passage passage(const Side& side, float across) {
    constexpr float index = Fibre::index;
    // Bravais' index: refraction seen along the fibre.
    const float cosine = std::max(side.cosine, 1e-3F);
    const float seen_index = std::sqrt(index * index - 1.0F + cosine * cosine) / cosine;
    const float sine_inner = across / seen_index;
    return {
        std::min(fresnel_dielectric(side.cosine * std::sqrt(1.0F - across * across), index), 0.9999F),
        2.0F * std::sqrt(1.0F - sine_inner * sine_inner) / std::sqrt(1.0F - side.sine * side.sine / (index * index)),
        std::asin(across), std::asin(sine_inner)};
}
/// Shares that go each way when `passed` is left after each crossing.
std::array<float, 4> shares(float reflected, float passed) {
    const float back = passed * reflected;
    const float through = (1.0F - reflected) * (1.0F - reflected) * passed;
    return {reflected, through, through * back, through * back * back / (1.0F - back)};
}

/// How far round the fibre it is from one direction to the other, 0 to half a turn, in steps of the table.
float turn_between(const Vec3& from, const Side& f, const Vec3& to, const Side& t, int steps) {
    const float cosine = (from.dot(to) - f.sine * t.sine) / std::max(f.cosine * t.cosine, 1e-9F);
    return std::acos(std::clamp(cosine, -1.0F, 1.0F)) / pi_f * static_cast<float>(steps);
}

}  // namespace

Fibre::Fibre(const Spectrum& absorption) : crosswise_(static_cast<std::size_t>(slants * turns)) {
    float mean = 0, least = absorption[0];
    for (const float a : absorption.band) {
        mean += a / static_cast<float>(bands);
        least = std::min(least, a);
    }
    for (int s = 0; s < slants; ++s) fill_slant(s, absorption, 0.5F * (mean + least));
    largest_share_ = share(0.0F).largest();
}

void Fibre::fill_slant(int slant, const Spectrum& absorption, float drawn_by) {
    const float angle = 0.5F * pi_f * static_cast<float>(slant) / (slants - 1);
    const Side side{std::sin(angle), std::cos(angle)};
    Slant& all = slant_[static_cast<std::size_t>(slant)];
    constexpr int places = 96;  // across; those on the other half are their mirror images
    for (int i = 0; i < places; ++i) {
        const Passage p = passage(side, (static_cast<float>(i) + 0.5F) / places);
        std::array<Spectrum, shaped + 1> sent;
        for (int b = 0; b < bands; ++b) {
            const auto a = shares(p.reflected, std::exp(-absorption[b] * p.length));
            for (std::size_t w = 0; w < a.size(); ++w) sent[w][b] = a[w] / places;
        }
        const auto drawn = shares(p.reflected, std::exp(-drawn_by * p.length));
        for (std::size_t w = 0; w < sent.size(); ++w) {
            all.sent[w] += sent[w];
            all.drawn[w] += drawn[w] / places;
        }
        for (int w = 0; w < shaped; ++w) {
            const float k = static_cast<float>(w);
            const float middle = 2.0F * k * p.turn_in - 2.0F * p.turn_out + k * pi_f;
            for (int t = 0; t < turns; ++t) {
                const float turn = pi_f * static_cast<float>(t) / (turns - 1);
                const float lobe =
                    logistic(within_half_a_turn(turn - middle)) + logistic(within_half_a_turn(-turn - middle));
                Crosswise& c = crosswise_[static_cast<std::size_t>(slant * turns + t)];
                c.sent[static_cast<std::size_t>(w)] += sent[static_cast<std::size_t>(w)] * lobe;
                c.drawn[static_cast<std::size_t>(w)] += drawn[static_cast<std::size_t>(w)] * lobe;
            }
        }
    }
    // Straight lines between the turns: made to hold exactly what the shares say, over the whole turn.
    const float step = pi_f / (turns - 1);
    const float drawn_in_all = all.drawn[0] + all.drawn[1] + all.drawn[2] + all.drawn[3];
    for (float& d : all.drawn) d /= drawn_in_all;
    for (std::size_t w = 0; w < shaped; ++w) {
        Spectrum sent;
        float drawn = 0;
        for (int t = 0; t < turns; ++t) {
            const float width = 2.0F * step * (t == 0 || t == turns - 1 ? 0.5F : 1.0F);
            sent += crosswise(slant, t).sent[w] * width;
            drawn += crosswise(slant, t).drawn[w] * width;
        }
        for (int t = 0; t < turns; ++t) {
            Crosswise& c = crosswise_[static_cast<std::size_t>(slant * turns + t)];
            for (int b = 0; b < bands; ++b) c.sent[w][b] *= sent[b] > 0 ? all.sent[w][b] / sent[b] : 0.0F;
            c.drawn[w] *= drawn > 0 ? all.drawn[w] / drawn : 0.0F;
        }
    }
}

Fibre::Between Fibre::slant_between(float cosine) {
    const float at = std::acos(std::clamp(cosine, 0.0F, 1.0F)) / (0.5F * pi_f) * (slants - 1);
    const int first = std::min(static_cast<int>(at), slants - 2);
    return {first, std::min(at - static_cast<float>(first), 1.0F)};
}

Spectrum Fibre::sent(const Vec3& along, const Vec3& to_eye, const Vec3& to_light) const {
    const Side eye = side_of(along, to_eye), light = side_of(along, to_light);
    std::array<float, shaped + 1> lobe{};
    float any = 0;
    for (int w = 0; w <= shaped; ++w) any += lobe[static_cast<std::size_t>(w)] = lengthwise(w, eye, light);
    if (!(any > 0)) return Spectrum{};
    const Between slant = slant_between(eye.cosine);
    const float turn = turn_between(to_eye, eye, to_light, light, turns - 1);
    const int t = std::min(static_cast<int>(turn), turns - 2);
    const float next = turn - static_cast<float>(t);
    Spectrum sum;
    for (int s = 0; s < 2; ++s) {
        const float at_slant = s == 0 ? 1.0F - slant.second_share : slant.second_share;
        for (int n = 0; n < 2; ++n) {
            const Crosswise& c = crosswise(slant.first + s, t + n);
            const float here = at_slant * (n == 0 ? 1.0F - next : next);
            for (std::size_t w = 0; w < shaped; ++w)
                if (lobe[w] > 0) sum += c.sent[w] * (here * lobe[w]);
        }
        sum += slant_[static_cast<std::size_t>(slant.first + s)].sent[shaped] * (at_slant * lobe[shaped] / (2 * pi_f));
    }
    return sum;
}

float Fibre::pdf(const Vec3& along, const Vec3& from, const Vec3& to) const {
    const Side start = side_of(along, from), end = side_of(along, to);
    const Between slant = slant_between(start.cosine);
    const float turn = turn_between(from, start, to, end, turns - 1);
    const int t = std::min(static_cast<int>(turn), turns - 2);
    const float next = turn - static_cast<float>(t);
    const float first = 1.0F - slant.second_share, second = slant.second_share;
    const Crosswise &a0 = crosswise(slant.first, t), &a1 = crosswise(slant.first, t + 1);
    const Crosswise &b0 = crosswise(slant.first + 1, t), &b1 = crosswise(slant.first + 1, t + 1);
    float sum = 0;
    for (int w = 0; w < shaped; ++w) {
        const auto i = static_cast<std::size_t>(w);
        sum += lengthwise(w, start, end) * (first * (a0.drawn[i] + (a1.drawn[i] - a0.drawn[i]) * next) +
                                            second * (b0.drawn[i] + (b1.drawn[i] - b0.drawn[i]) * next));
    }
    const auto rest = [&](int s) { return slant_[static_cast<std::size_t>(s)].drawn[shaped]; };
    return sum +
           lengthwise(shaped, start, end) * (first * rest(slant.first) + second * rest(slant.first + 1)) / (2 * pi_f);
}

Vec3 Fibre::draw(const Vec3& along, const Vec3& from, float u0, float u1, float u2) const {
    const Side start = side_of(along, from);
    // A slant of the table, a way, a turn: each takes its share of u2 and hands the rest on, stretched.
    const Between between = slant_between(start.cosine);
    float u = std::min(u2, 0.9999999F);
    int slant = between.first;
    if (u < between.second_share) {
        ++slant;
        u /= between.second_share;
    } else {
        u = (u - between.second_share) / (1.0F - between.second_share);
    }
    const Slant& all = slant_[static_cast<std::size_t>(slant)];
    int way = 0;
    while (way < shaped && u >= all.drawn[static_cast<std::size_t>(way)])
        u -= all.drawn[static_cast<std::size_t>(way++)];
    const auto i = static_cast<std::size_t>(way);
    u = std::clamp(u / std::max(all.drawn[i], 1e-12F), 0.0F, 1.0F);
    const bool to_the_left = u < 0.5F;
    u = to_the_left ? 2.0F * u : 2.0F * u - 1.0F;
    float turned = u * pi_f;
    if (way < shaped) {
        const float step = pi_f / (turns - 1);
        float rest = 0.5F * u * all.drawn[i];
        int t = 0;
        const auto piece = [&](int n) {
            return 0.5F * step * (crosswise(slant, n).drawn[i] + crosswise(slant, n + 1).drawn[i]);
        };
        while (t < turns - 2 && rest > piece(t)) rest -= piece(t++);
        // Where the area under the straight line from a to b is `rest`.
        const float a = crosswise(slant, t).drawn[i], b = crosswise(slant, t + 1).drawn[i], area = rest / step;
        const float root = std::sqrt(std::max(0.0F, a * a + 2.0F * (b - a) * area));
        const float x = a + root > 0 ? 2.0F * area / (a + root) : 0.5F;
        turned = step * (static_cast<float>(t) + std::clamp(x, 0.0F, 1.0F));
    }
    if (to_the_left) turned = -turned;

    // d'Eon et al., "Importance sampling for physically-based hair fiber models" (SIGGRAPH Asia 2013, brief).
    const Side s = leaned(start, way);
    const float v = variance(way);
    const float c = std::max(-1.0F, 1.0F + v * std::log(std::max(u0, 1e-7F) + (1.0F - u0) * std::exp(-2.0F / v)));
    const float sine = std::clamp(
        -c * s.sine + std::sqrt(std::max(0.0F, 1.0F - c * c)) * std::cos(2.0F * pi_f * u1) * s.cosine, -1.0F, 1.0F);
    const float cosine = std::sqrt(std::max(0.0F, 1.0F - sine * sine));
    const Vec3 outward = from - along * start.sine;
    const Vec3 x = outward.length2() > 1e-10F ? outward.normalized() : Frame(along).x;
    return (along * sine + (x * std::cos(turned) + along.cross(x) * std::sin(turned)) * cosine).normalized();
}

Spectrum Fibre::share(float sine) const {
    const Between slant = slant_between(std::sqrt(std::max(0.0F, 1.0F - sine * sine)));
    Spectrum sum;
    for (int s = 0; s < 2; ++s)
        for (const Spectrum& way : slant_[static_cast<std::size_t>(slant.first + s)].sent)
            sum += way * (s == 0 ? 1.0F - slant.second_share : slant.second_share);
    return sum;
}

Spectrum absorption_for(const Spectrum& reflectance) {
    // Share that a deep tress of parallel fibres sends back of light that comes evenly from its side, by walks through
    // it with this very model; one standard error is 0.002 or less. The test of this table walks again.
    struct Tress {
        float absorption, reflectance;
    };
    constexpr std::array<Tress, 11> tresses{{{0.003F, 0.7405F},
                                             {0.006F, 0.6560F},
                                             {0.012F, 0.5648F},
                                             {0.025F, 0.4480F},
                                             {0.05F, 0.3314F},
                                             {0.1F, 0.2214F},
                                             {0.2F, 0.1283F},
                                             {0.4F, 0.0670F},
                                             {0.8F, 0.0353F},
                                             {1.6F, 0.0239F},
                                             {3.2F, 0.0217F}}};
    Spectrum absorption;
    for (int b = 0; b < bands; ++b) {
        const float r = std::clamp(reflectance[b], tresses.back().reflectance, tresses.front().reflectance);
        std::size_t i = 1;
        while (i + 1 < tresses.size() && r < tresses[i].reflectance) ++i;
        const Tress &more = tresses[i - 1], &less = tresses[i];
        const float t = std::log(r / more.reflectance) / std::log(less.reflectance / more.reflectance);
        absorption[b] = more.absorption * std::pow(less.absorption / more.absorption, t);
    }
    return absorption;
}

}  // namespace rushlight
