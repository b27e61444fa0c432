#include "results/glint/eye_light.h"

#include "quantity/units.h"
#include "results/glint/glints.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float cornea_index = 1.376F;  // handbook of physiological optics, from memory
constexpr float cap = 0.85F;            // radians of the ball that bulge out of the eye

MirrorBall cornea(const Figure& figure, std::size_t side) {
    const Vec3& way = figure.gaze.at(side);
    MirrorBall b{figure.cornea_centre.at(side), static_cast<float>(figure.cornea_radius), way, cap, {}, {}};
    b.holds = [gaze = way](const Vec3& normal) { return normal.dot(gaze) >= std::cos(cap); };
    b.mirrors = [](float cosine) { return fresnel_dielectric(cosine, cornea_index); };
    return b;
}

}  // namespace

double clock_of(double right, double up) {
    const double hours = std::atan2(right, up) / pi * 6;
    return hours < 0 ? hours + 12 : hours;
}

double find_eye_lights(const Scene& scene, const CameraView& view, int mark, double iris, const Effort& effort,
                       PersonReadings& person) {
    const Figure& figure = scene.figures.at(static_cast<std::size_t>(mark));
    const RoundMirror left(scene, view, cornea(figure, 0)), right(scene, view, cornea(figure, 1));
    std::vector<Glint> glints = left.all(), others = right.all();
    const bool by_the_right = others.size() > glints.size();
    if (by_the_right) glints = std::move(others);
    if (glints.empty() || scene.lights.count() == 0 || !(iris > 0)) return 0;
    person.eye_seen = true;

    constexpr double reads = 1.5;  // stops over the iris
    const GlintsSeen found =
        find_glints(scene, by_the_right ? right : left, glints, 1, iris * std::exp2(reads), effort);
    for (const GlintSeen& g : found.seen) {
        const double over = std::log2(g.luminance / iris);
        const Vec3 off = g.glint.normal - figure.gaze.at(by_the_right ? 1 : 0);
        const double clock =
            clock_of(static_cast<double>(off.dot(view.right())), static_cast<double>(off.dot(view.up())));
        if (over >= reads) person.eye_lights.push_back({g.source, g.by, clock, over});
    }
    std::sort(person.eye_lights.begin(), person.eye_lights.end(),
              [](const EyeLight& a, const EyeLight& b) { return a.over_iris > b.over_iris; });
    return found.seconds;
}

}  // namespace rushlight
