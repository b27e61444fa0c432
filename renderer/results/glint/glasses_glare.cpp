#include "results/glint/glasses_glare.h"

#include "quantity/units.h"
#include "results/glint/glints.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr double worth_telling = -2;  // stops over the skin
constexpr int most_tilt = 15;         // degrees: more, and nobody looks through them

MirrorBall ball_of(const SpectacleLens& lens, const Finish& glass) {
    const float reach = std::asin(std::max(lens.half_width, lens.half_height) * 1.1F / lens.radius);
    return {
        lens.ball,
        lens.radius,
        lens.out,
        reach,
        [lens](const Vec3& n) { return lens.holds(n); },
        [glass](float cosine) { return pane_shares(cosine, glass.pane_index, glass.pane_transmittance).reflected; }};
}

/// The lens leaning further forward above.
SpectacleLens tilted(SpectacleLens lens, double angle) {
    const auto c = static_cast<float>(std::cos(angle)), s = static_cast<float>(std::sin(angle));
    const Vec3 out = lens.out, up = lens.up;
    lens.out = out * c - up * s;
    lens.up = up * c + out * s;
    return lens;
}

/// Degrees by which the lens must lean further forward until it has no place left that looks along any of `normals`,
/// and a degree for luck.
double tilt_to_clear(const SpectacleLens& lens, const std::vector<Vec3>& normals) {
    for (int degree = 0; degree < most_tilt; ++degree) {
        const SpectacleLens then = tilted(lens, radians(Degree{static_cast<double>(degree)}));
        if (std::none_of(normals.begin(), normals.end(), [&](const Vec3& n) { return then.holds(n); }))
            return degree + 1;
    }
    return 0;
}

}  // namespace

double find_glare(const Scene& scene, const CameraView& view, const StandIn& who, int mark, double skin,
                  const Effort& effort, PersonReadings& person) {
    const Figure& figure = scene.figures.at(static_cast<std::size_t>(mark));
    if (!figure.spectacles || scene.lights.count() == 0 || !(skin > 0)) return 0;
    const Finish glass = glass_of_lens(who.lenses);
    double seconds = 0;
    for (const SpectacleLens& lens : *figure.spectacles) {
        const RoundMirror mirror(scene, view, ball_of(lens, glass));
        const std::vector<Glint> glints = mirror.all();
        if (glints.empty()) continue;
        person.glasses_seen = true;
        const GlintsSeen found = find_glints(scene, mirror, glints, 8, skin * std::exp2(worth_telling), effort);
        seconds += found.seconds;
        for (const GlintSeen& g : found.seen) {
            const double over = std::log2(g.luminance / skin);
            if (!(over >= worth_telling)) continue;
            std::vector<Vec3> bright{g.glint.normal};
            for (std::size_t i = 0; i < glints.size(); ++i)
                if (found.luminance[i] > 0.5 * std::min(skin, g.luminance) && mirror_alike(mirror, glints[i], g.glint))
                    bright.push_back(glints[i].normal);
            GlassesGlare glare{g.source, g.by, over, static_cast<double>(bright.size() - 1) / glints.size(),
                               tilt_to_clear(lens, bright)};
            auto& all = person.glasses_glare;
            const auto same = std::find_if(all.begin(), all.end(), [&](const GlassesGlare& other) {
                return other.source == glare.source && other.by == glare.by;
            });
            if (same == all.end()) {
                all.push_back(glare);
                continue;
            }
            const bool clears = same->tilt > 0 && glare.tilt > 0;
            *same = {glare.source, glare.by, std::max(same->over_skin, glare.over_skin),
                     std::max(same->share, glare.share), clears ? std::max(same->tilt, glare.tilt) : 0};
        }
    }
    std::sort(person.glasses_glare.begin(), person.glasses_glare.end(),
              [](const GlassesGlare& a, const GlassesGlare& b) { return a.over_skin > b.over_skin; });
    return seconds;
}

std::string named_light(const std::string& source, const std::string& by) {
    return source + (by == source ? "" : " by " + by);
}

std::string glare_remark(const PersonReadings& person) {
    if (person.glasses_glare.empty() || !glares(person.glasses_glare.front())) return "";
    const GlassesGlare& g = person.glasses_glare.front();
    std::string text =
        "The glasses of " + person.mark + " glare: they mirror " + named_light(g.source, g.by) + " into the lens. ";
    if (g.tilt > 0)
        return text + "Tilted down by " + std::to_string(std::lround(g.tilt)) +
               " degrees more, or with the chin as much lower, they would not.";
    return text + "Move the light higher or to the side, or take the glass out of the rims.";
}

}  // namespace rushlight
