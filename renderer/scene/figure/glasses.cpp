// Measures are those of common frames (48 mm wide, 17 mm between the lenses, leaning 9 degrees forward above and 4 back
// at the temples, front curve of 4.4 dioptres): from memory. This nose holds them 16 mm before the cornea.
#include "scene/figure/glasses.h"

#include "quantity/kept.h"
#include "quantity/packed.h"
#include "quantity/shelf.h"
#include "quantity/units.h"
#include "scene/figure/eyes.h"
#include "scene/person/made_person.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace rushlight {

namespace {

constexpr float roundness = 3.2F;  // of the lens's outline: 2 an ellipse, more is squarer

float outline(float x, float y) {
    return std::pow(std::abs(x), roundness) + std::pow(std::abs(y), roundness);
}

/// The outline, an even turn each, counted in half width and height.
std::array<float, 2> on_outline(float turn) {
    const float c = std::cos(turn), s = std::sin(turn);
    const float reach = std::pow(outline(c, s), -1 / roundness);
    return {c * reach, s * reach};
}

SpectacleLens left_lens(float forward) {
    constexpr auto lean = static_cast<float>(9 * pi / 180), wrap = static_cast<float>(4 * pi / 180);
    const Vec3 middle(99.5F + forward, 32.5F, -3);
    SpectacleLens l;
    l.out = Vec3(std::cos(lean) * std::cos(wrap), std::sin(wrap), -std::sin(lean)).normalized();
    l.left = Vec3(0, 0, 1).cross(l.out).normalized();
    l.up = l.out.cross(l.left);
    l.ball = middle - l.out * l.radius;
    return l;
}

Vec3 mirrored(const Vec3& v) {
    return {v.x, -v.y, v.z};
}

SpectacleLens right_lens(float forward) {
    SpectacleLens l = left_lens(forward);
    l.ball = mirrored(l.ball);
    l.out = mirrored(l.out);
    l.left = Vec3(0, 0, 1).cross(l.out).normalized();
    l.up = l.out.cross(l.left);
    return l;
}

Mesh glass_mesh(const SpectacleLens& lens, Lenses lenses, const char* name) {
    Mesh m;
    m.name = name;
    m.finish = glass_of_lens(lenses);
    if (lenses == Lenses::empty) return m;
    // As finely as the tracer's mirror is sharp: a hundredth of a radian a step.
    constexpr int rings = 20, spokes = 96;
    m.positions.push_back(lens.at(lens.out));
    for (int r = 1; r <= rings; ++r)
        for (int s = 0; s < spokes; ++s) {
            const auto [x, y] = on_outline(2 * pi_f * static_cast<float>(s) / spokes);
            const float share = static_cast<float>(r) / rings;
            m.positions.push_back(lens.at(lens.normal(x * share, y * share)));
        }
    const auto at = [](int r, int s) {
        return r == 0 ? 0U : static_cast<std::uint32_t>(1 + (r - 1) * spokes + s % spokes);
    };
    for (int r = 0; r < rings; ++r)
        for (int s = 0; s < spokes; ++s) {
            m.triangles.push_back({at(r, s), at(r + 1, s), at(r + 1, s + 1)});
            if (r > 0) m.triangles.push_back({at(r, s), at(r + 1, s + 1), at(r, s + 1)});
        }
    return m;
}

/// A wire along a line of points, closed to a ring or with both ends shut.
void add_wire(Mesh& m, const std::vector<Vec3>& line, float thickness, bool ring) {
    constexpr std::uint32_t spokes = 10;
    const auto first = static_cast<std::uint32_t>(m.positions.size());
    const std::size_t n = line.size();
    Vec3 side(0, 0, 1);
    for (std::size_t i = 0; i < n; ++i) {
        const Vec3& before = line[i > 0 ? i - 1 : ring ? n - 1 : 0];
        const Vec3& after = line[i + 1 < n ? i + 1 : ring ? 0 : n - 1];
        const Vec3 along = (after - before).normalized();
        if (i == 0 && std::abs(along.z) > 0.9F) side = Vec3(1, 0, 0);
        side = (side - along * side.dot(along)).normalized();  // carried on without a twist
        const Vec3 other = along.cross(side);
        for (std::uint32_t s = 0; s < spokes; ++s) {
            const float turn = 2 * pi_f * static_cast<float>(s) / spokes;
            m.positions.push_back(line[i] + (side * std::cos(turn) + other * std::sin(turn)) * thickness);
        }
    }
    const auto at = [&](std::size_t i, std::uint32_t s) {
        return first + static_cast<std::uint32_t>(i % n) * spokes + s % spokes;
    };
    for (std::size_t i = 0; i + (ring ? 0 : 1) < n; ++i)
        for (std::uint32_t s = 0; s < spokes; ++s) {
            m.triangles.push_back({at(i, s), at(i + 1, s + 1), at(i + 1, s)});
            m.triangles.push_back({at(i, s), at(i, s + 1), at(i + 1, s + 1)});
        }
    if (ring) return;
    for (std::uint32_t s = 1; s + 1 < spokes; ++s) {
        m.triangles.push_back({at(0, 0), at(0, s + 1), at(0, s)});
        m.triangles.push_back({at(n - 1, 0), at(n - 1, s), at(n - 1, s + 1)});
    }
}

/// A smooth line through points, by Catmull and Rom.
std::vector<Vec3> smooth_line(const std::vector<Vec3>& through) {
    constexpr int steps = 8;
    std::vector<Vec3> line;
    const auto point = [&](std::size_t i, int off) {
        const auto n = static_cast<int>(through.size());
        return through[static_cast<std::size_t>(std::clamp(static_cast<int>(i) + off, 0, n - 1))];
    };
    for (std::size_t i = 0; i + 1 < through.size(); ++i)
        for (int s = 0; s < steps; ++s) {
            const float t = static_cast<float>(s) / steps;
            const Vec3 a = point(i, -1), b = point(i, 0), c = point(i, 1), d = point(i, 2);
            line.push_back(
                (b * 2 + (c - a) * t + (a * 2 - b * 5 + c * 4 - d) * (t * t) + (b * 3 - a - c * 3 + d) * (t * t * t)) *
                0.5F);
        }
    line.push_back(through.back());
    return line;
}

Finish finish_of(Rims rims) {
    if (rims == Rims::wire) return *named_finish("steel");
    Finish f;
    f.name = "glasses";
    f.reflectance = rims == Rims::dark ? Spectrum{0.03F} : *reflectance_of("cream", 0.5);
    f.gloss = 0.04F;
    f.roughness = 0.12F;
    return f;
}

}  // namespace

bool SpectacleLens::holds(const Vec3& n) const {
    return n.dot(out) > 0 && outline(n.dot(left) * radius / half_width, n.dot(up) * radius / half_height) <= 1;
}

Vec3 SpectacleLens::normal(float x, float y) const {
    const float a = x * half_width / radius, b = y * half_height / radius;
    return out * std::sqrt(1 - a * a - b * b) + left * a + up * b;
}

/// Bare: index 1.50. Coated: of the index that mirrors 1 % in all straight on, which stands in for thin layers (usual
/// figures, from memory).
Finish glass_of_lens(Lenses lenses) {
    Finish f;
    f.name = "lens of the glasses";
    f.reflectance = Spectrum{0.0F};
    f.pane = true;
    f.pane_index = lenses == Lenses::coated ? 1.152F : 1.50F;
    f.pane_transmittance = 0.99F;
    return f;
}

namespace {

/// Pushed on until rims or bridge touch skin.
GlassesFit fitted_to(const HeadField& head, float cornea) {
    constexpr float nearest = -12, farthest = 20, step = 0.5F, thick = 1.6F;
    constexpr float clear = 10;  // mm before the cornea at least, so that lashes do not brush the glass
    GlassesFit fit;
    for (fit.forward = nearest; fit.forward < farthest; fit.forward += step) {
        const SpectacleLens lens = left_lens(fit.forward);
        if (lens.at(lens.normal(0, 0.15F)).x < cornea + clear) continue;
        float least = head.all({100.5F + fit.forward, 0, 6.5F});
        for (int i = 0; i < 48; ++i) {
            const auto [x, y] = on_outline(2 * pi_f * static_cast<float>(i) / 48);
            least = std::min(least, head.all(lens.at(lens.normal(x, y))));
        }
        if (least > thick) break;
    }
    for (fit.temples = 60; fit.temples < 95; fit.temples += step)
        if (head.bare({-8, fit.temples, 12}) > 1) break;
    return fit;
}

}  // namespace

GlassesFit glasses_fit(const OwnHead& head) {
    return from_the_shelf(
        "glasses " + (Content() << "fit" << head.of).fingerprint(),
        [&] { return fitted_to(*head_field(head.of), head.eyes[0].x + head.eye_radius + cornea_stands_out); },
        [](const GlassesFit& fit) {
            Packer to;
            to.put(fit);
            return to.bytes;
        },
        [](const std::string& bytes) -> std::optional<GlassesFit> {
            Unpacker from(bytes);
            const auto fit = from.get<GlassesFit>();
            return from.finished() ? std::optional(fit) : std::nullopt;
        });
}

GlassesMeshes glasses_of(Rims rims, Lenses lenses, const GlassesFit& fit) {
    GlassesMeshes g;
    g.lenses = {left_lens(fit.forward), right_lens(fit.forward)};
    g.glass = {glass_mesh(g.lenses[0], lenses, "left lens of the glasses"),
               glass_mesh(g.lenses[1], lenses, "right lens of the glasses")};
    g.rims.name = "rims of the glasses";
    g.temples.name = "temples of the glasses";
    const float thickness = rims == Rims::wire ? 0.7F : 1.9F;
    for (const SpectacleLens& lens : g.lenses) {
        std::vector<Vec3> rim;
        constexpr int steps = 96;
        for (int s = 0; s < steps; ++s) {
            const auto [x, y] = on_outline(2 * pi_f * static_cast<float>(s) / steps);
            rim.push_back(lens.at(lens.normal(x, y)));
        }
        add_wire(g.rims, rim, thickness, true);
    }
    // Over the nose from rim to rim, and from the rims' outer corners over the ears.
    const Vec3 inner = g.lenses[0].at(g.lenses[0].normal(-0.98F, 0.3F));
    add_wire(
        g.rims,
        smooth_line({inner, {100.5F + fit.forward, 4.5F, 6.5F}, {100.5F + fit.forward, -4.5F, 6.5F}, mirrored(inner)}),
        thickness, false);
    const Vec3 outer = g.lenses[0].at(g.lenses[0].normal(0.97F, 0.45F));
    const float wide = fit.temples - 76.5F;
    const std::vector<Vec3> over_the_ear{outer,
                                         {89 + fit.forward, 61.5F + 0.2F * wide, 7},
                                         {60, 67 + 0.5F * wide, 9},
                                         {30, 71.5F + 0.8F * wide, 10.5F},
                                         {2, 75.5F + wide, 13},
                                         {-14, 76.5F + wide, 14},
                                         {-30, 74 + wide, 3},
                                         {-39, 69 + wide, -16}};
    for (const bool left : {true, false}) {
        std::vector<Vec3> line = over_the_ear;
        if (!left)
            for (Vec3& p : line) p = mirrored(p);
        add_wire(g.temples, smooth_line(line), rims == Rims::wire ? 0.8F : 1.9F, false);
    }
    for (Mesh* m : {&g.rims, &g.temples}) {
        round_over(*m);
        m->finish = finish_of(rims);
    }
    return g;
}

std::shared_ptr<const GlassesMeshes> kept_glasses(Rims rims, Lenses lenses, const GlassesFit& fit) {
    constexpr std::size_t some = 16;
    using Pair = std::pair<std::pair<Rims, Lenses>, GlassesFit>;
    static LastFew<Pair, GlassesMeshes> kept(some);
    return kept.get({{rims, lenses}, fit}, [&] { return glasses_of(rims, lenses, fit); });
}

}  // namespace rushlight
