#include "results/frame/sphere.h"

#include "quantity/units.h"
#include "results/frame/denoised.h"
#include "scene/rays/first_seen.h"

#include <cmath>
#include <limits>

namespace rushlight {

std::optional<Vec3> Sphere::direction(double x, double y) const {
    const double u = 2 * x / side - 1, v = 1 - 2 * y / side;
    const double r2 = u * u + v * v;
    if (r2 >= 1) return std::nullopt;
    // Half: r = sqrt(2) sin(a / 2), so that cos a = 1 - r^2; whole: r = sin(a / 2) and cos a = 1 - 2 r^2.
    const double cosine = whole ? 1 - 2 * r2 : 1 - r2;
    const double sine = std::sqrt(std::max(0.0, 1 - cosine * cosine));
    const double r = std::sqrt(r2);
    const auto along_right = static_cast<float>(r > 0 ? sine * u / r : 0);
    const auto along_up = static_cast<float>(r > 0 ? sine * v / r : 0);
    return (right * along_right + up * along_up + facing * static_cast<float>(cosine)).normalized();
}

bool Sphere::project(const Vec3& toward, double& x, double& y) const {
    const auto cosine = static_cast<double>(facing.dot(toward));
    const double r2 = whole ? (1 - cosine) / 2 : 1 - cosine;
    if (r2 > 1 + 1e-9) return false;
    const double a = static_cast<double>(right.dot(toward)), b = static_cast<double>(up.dot(toward));
    const double sine = std::hypot(a, b), r = std::sqrt(std::max(0.0, r2));
    x = (1 + (sine > 0 ? r * a / sine : 0)) * side / 2;
    y = (1 - (sine > 0 ? r * b / sine : 0)) * side / 2;
    return true;
}

double Sphere::lux() const {
    double sum = 0;
    for (std::size_t p = 0; p < pixels(); ++p)
        if (weight[p] > 0) sum += static_cast<double>(weight[p]) * static_cast<double>(luminance[p]);
    return sum;
}

Sphere look_around(const Scene& scene, const MeterPoint& meter, const LastSurfaces& surfaces, int side,
                   const Effort& effort, KeptLight& light) {
    Sphere s;
    s.side = side;
    s.whole = meter.kind == MeterKind::dome;
    s.at = meter.at;
    s.facing = meter.facing;
    const Vec3 level = s.facing.cross(Vec3(0, 0, 1));
    s.right = level.length2() > 1e-6F ? level.normalized() : Vec3(1, 0, 0);
    s.up = s.right.cross(s.facing);

    const auto count = static_cast<std::size_t>(side) * static_cast<std::size_t>(side);
    s.luminance.assign(count, std::numeric_limits<float>::quiet_NaN());
    s.distance.assign(count, std::numeric_limits<float>::infinity());
    s.group.assign(count, surfaces.beyond);
    s.weight.assign(count, 0.0F);
    // Pixels whose middle lies in the disc stand for all of it.
    std::vector<std::size_t> there;
    std::vector<Vec3> facing(count, Vec3(0, 0, 0));
    for (std::size_t p = 0; p < count; ++p) {
        const auto toward = s.direction(static_cast<double>(p % static_cast<std::size_t>(side)) + 0.5,
                                        static_cast<double>(p / static_cast<std::size_t>(side)) + 0.5);
        if (!toward) continue;
        there.push_back(p);
        s.group[p] = static_cast<std::uint32_t>(surfaces.group(scene.rays, s.at, *toward));
        if (const auto hit = first_seen(scene.rays, Ray{s.at, *toward}, looked_through)) {
            s.distance[p] = hit->distance;
            facing[p] = hit->normal;
        }
    }
    const double solid_angle = (s.whole ? 4 : 2) * pi / static_cast<double>(there.size());
    for (const std::size_t p : there) {
        const auto toward = s.direction(static_cast<double>(p % static_cast<std::size_t>(side)) + 0.5,
                                        static_cast<double>(p / static_cast<std::size_t>(side)) + 0.5);
        s.weight[p] = static_cast<float>(static_cast<double>(meter.response(*toward)) * solid_angle);
    }
    Content content;
    content << "sphere" << side << meter.kind << meter.at << meter.facing;
    const Field field = light.field(
        scene, there.size(), content, false,
        [&](std::size_t i, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> layers,
            SplitLight&) {
            const auto x = static_cast<double>(there[i] % static_cast<std::size_t>(side));
            const auto y = static_cast<double>(there[i] / static_cast<std::size_t>(side));
            const double dx = static_cast<double>(sampler.next()), dy = static_cast<double>(sampler.next());
            const auto toward = s.direction(x + dx, y + dy);
            // At the rim a pixel's corner may lie outside: its middle does not.
            const auto ray = toward ? toward : s.direction(x + 0.5, y + 0.5);
            collect_along(scene, Ray{s.at, *ray}, pool, sharing, sampler, layers);
        },
        effort);
    for (std::size_t i = 0; i < there.size(); ++i) s.luminance[there[i]] = field.sources > 0 ? field.mean[i] : 0.0F;
    s.calm = denoised(side, side, s.luminance, facing, effort);
    s.noise = field.noise;
    s.seconds = field.seconds;
    return s;
}

}  // namespace rushlight
