#include "results/eye_light.h"

#include "paths/measure.h"
#include "quantity/units.h"
#include "results/direct_light.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float cornea_index = 1.376F;  // handbook of physiological optics, from memory
constexpr float cap = 0.85F;            // radians of the ball that bulge out of the eye
constexpr float off_the_eye = 3e-4F;    // m

struct Glint {
    Vec3 normal{0, 0, 1};
    Vec3 toward{0, 0, 1};
    Vec3 at{0, 0, 0};
    float mirrored = 0;  // Fresnel share
};

class Cornea {
public:
    Cornea(const Scene& scene, const CameraView& view, const Figure& figure, const Vec3& centre)
        : scene_(scene),
          view_(view),
          gaze_(figure.nose),
          centre_(centre),
          radius_(static_cast<float>(figure.cornea_radius)) {}

    /// What the lens sees mirrored where the cornea looks along `normal`, if it sees that place at all.
    std::optional<Glint> at(const Vec3& normal) const {
        if (normal.dot(gaze_) < std::cos(cap)) return std::nullopt;
        Glint g;
        g.normal = normal;
        g.at = centre_ + normal * (radius_ + off_the_eye);
        const Vec3 to_lens = view_.at() - g.at;
        const Vec3 sight = to_lens.normalized();
        const float cosine = sight.dot(normal);
        if (cosine <= 0.05F) return std::nullopt;
        Spectrum passed{1.0F};
        if (!scene_.rays.passes(Ray{g.at, sight, to_lens.length() * 0.999F}, passed)) return std::nullopt;
        g.toward = normal * (2 * cosine) - sight;
        g.mirrored = fresnel_dielectric(cosine, cornea_index);
        return g;
    }

    /// Where it mirrors light from `toward`.
    std::optional<Glint> mirroring(const Vec3& toward) const {
        const Vec3 half = toward + (view_.at() - centre_).normalized();
        return half.length2() > 1e-6F ? at(half.normalized()) : std::nullopt;
    }

    /// Even over the cap.
    std::vector<Glint> all() const {
        std::vector<Glint> glints;
        const Frame frame(gaze_);
        constexpr int rings = 6;
        for (int i = 0; i < rings; ++i) {
            const float angle = cap * (static_cast<float>(i) + 0.5F) / rings;
            const int spokes = std::max(4, static_cast<int>(std::lround(6.3F * angle * rings / cap)));
            for (int j = 0; j < spokes; ++j) {
                const float turn =
                    2 * static_cast<float>(pi) * (static_cast<float>(j) + 0.5F) / static_cast<float>(spokes);
                const Vec3 n = frame.to_place(
                    {std::sin(angle) * std::cos(turn), std::sin(angle) * std::sin(turn), std::cos(angle)});
                if (const auto g = at(n.normalized())) glints.push_back(*g);
            }
        }
        return glints;
    }

    double clock(const Vec3& normal) const {
        const Vec3 off = normal - gaze_;
        return clock_of(static_cast<double>(off.dot(view_.right())), static_cast<double>(off.dot(view_.up())));
    }

private:
    const Scene& scene_;
    const CameraView& view_;
    Vec3 gaze_, centre_;
    float radius_;
};

/// What is mirrored about there: a window or something in the rig rather than the wall beside it. "middle window" from
/// "middle window, glass".
std::string thing_met(const Scene& scene, const Glint& g, float tangent) {
    const Frame frame(g.toward);
    const Part* met = nullptr;
    const auto weight = [](const Part& p) {
        return p.kind == PartKind::lamp ? 3 : p.kind == PartKind::pane ? 2 : p.kind == PartKind::panel ? 1 : 0;
    };
    constexpr int around = 8;
    for (int i = 0; i <= 2 * around; ++i) {
        const float reach = i == 0 ? 0.0F : tangent * (i <= around ? 0.5F : 1.0F);
        const float turn = 2 * static_cast<float>(pi) * static_cast<float>(i) / around;
        const Vec3 way = frame.to_place({reach * std::cos(turn), reach * std::sin(turn), 1.0F}).normalized();
        const auto hit = scene.rays.first_hit(Ray{g.at, way});
        if (!hit) continue;
        const Part& part = scene.rays.part(hit->part);
        if (met == nullptr || weight(part) > weight(*met)) met = &part;
    }
    if (met == nullptr) return "the open";
    const auto comma = met->name.find(", ");
    return comma != std::string::npos && met->mark < 0 ? met->name.substr(0, comma) : met->name;
}

/// Whether no other spot that mirrors about the same direction is brighter: one window, one light.
bool brightest_around(const std::vector<Glint>& glints, const std::vector<double>& luminance, std::size_t i) {
    const float near = std::cos(0.6F);
    for (std::size_t j = 0; j < glints.size(); ++j)
        if (glints[j].toward.dot(glints[i].toward) > near &&
            (luminance[j] > luminance[i] || (luminance[j] == luminance[i] && j < i)))
            return false;
    return true;
}

}  // namespace

double clock_of(double right, double up) {
    const double hours = std::atan2(right, up) / pi * 6;
    return hours < 0 ? hours + 12 : hours;
}

double find_eye_lights(const Scene& scene, const CameraView& view, int mark, double iris, const Effort& effort,
                       PersonReadings& person) {
    const Figure& figure = scene.figures.at(static_cast<std::size_t>(mark));
    const Cornea left(scene, view, figure, figure.cornea_centre[0]),
        right(scene, view, figure, figure.cornea_centre[1]);
    std::vector<Glint> glints = left.all(), others = right.all();
    const bool by_the_right = others.size() > glints.size();
    const Cornea& cornea = by_the_right ? right : left;
    if (by_the_right) glints = std::move(others);
    if (glints.empty() || scene.lights.count() == 0 || !(iris > 0)) return 0;
    person.eye_seen = true;

    constexpr double reads = 1.5;  // stops over the iris
    const auto tell = [&](const Glint& g, double luminance, const std::string& source, const std::string& by) {
        const double over = std::log2(luminance * static_cast<double>(g.mirrored) / iris);
        if (over >= reads) person.eye_lights.push_back({source, by, cornea.clock(g.normal), over});
    };

    // What is small and bright of itself would slip between the spots: it is looked for straight away.
    const auto& sources = scene.lights.sources();
    for (std::size_t s = 0; s < sources.size(); ++s) {
        if (static_cast<int>(s) == scene.lights.sky()) continue;
        const auto in = scene.lights.incoming(s, figure.eye_middle, 0.5F, 0.5F);
        if (!in) continue;
        const auto g = cornea.mirroring(in->toward);
        if (!g) continue;
        Spectrum light = in->radiance;
        const Ray ray{g->at, in->toward, in->distance * 0.9999F};
        if (scene.rays.passes(ray, light, static_cast<int>(s)))
            tell(*g, static_cast<double>(photometric(light)), sources[s], sources[s]);
    }

    std::vector<MeterPoint> spots;
    std::vector<std::size_t> every;
    constexpr float between_spots = 0.14F;  // tangent: mirrored directions lie some 0.28 apart
    for (const Glint& g : glints) {
        every.push_back(spots.size());
        spots.push_back({MeterKind::spot, g.at, g.toward, between_spots});
    }
    Effort rough = effort;
    rough.relative_error = 0.2;
    rough.tell = nullptr;
    const MeterResults results = measure(scene, spots, rough, Wanted{every});
    std::vector<double> luminance(spots.size());
    for (std::size_t i = 0; i < spots.size() && results.batches() > 0; ++i)
        luminance[i] = results.all(i).value * static_cast<double>(glints[i].mirrored);
    for (std::size_t i = 0; i < spots.size(); ++i) {
        if (!(luminance[i] > 0) || !brightest_around(glints, luminance, i)) continue;
        std::size_t most = 0;
        for (std::size_t s = 1; s < sources.size(); ++s)
            if (results.of(i, s).value > results.of(i, most).value) most = s;
        // The lamp itself has been told of.
        const std::string by = thing_met(scene, glints[i], between_spots);
        if (by != sources[most]) tell(glints[i], results.all(i).value, sources[most], by);
    }
    std::sort(person.eye_lights.begin(), person.eye_lights.end(),
              [](const EyeLight& a, const EyeLight& b) { return a.over_iris > b.over_iris; });
    return results.seconds;
}

}  // namespace rushlight
