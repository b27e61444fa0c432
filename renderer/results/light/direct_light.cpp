#include "results/light/direct_light.h"

#include "paths/walk/vertex.h"

#include <cmath>
#include <vector>

namespace rushlight {

DirectLight direct_light(const Scene& scene, std::size_t light, const MeterPoint& meter,
                         const std::function<void(const Vec3&)>& each) {
    constexpr int side = 24;
    struct Arrived {
        Vec3 toward;
        double lux;
    };
    std::vector<Arrived> all;
    double sum = 0;
    Vec3 mean(0, 0, 0);
    for (int i = 0; i < side; ++i)
        for (int j = 0; j < side; ++j) {
            const float u = (static_cast<float>(i) + 0.5F) / side, v = (static_cast<float>(j) + 0.5F) / side;
            const auto in = scene.lights.incoming(light, meter.at, u, v);
            if (!in || !(in->pdf > 0)) continue;
            const float response = meter.response(in->toward);
            if (response <= 0) continue;
            Spectrum given = in->radiance * (response / in->pdf);
            const Ray ray = ray_to_point(meter.at, meter.at, in->toward, in->distance);
            if (given.dark() || !scene.rays.passes(ray, given, in->round ? static_cast<int>(light) : -1)) continue;
            const double lux = static_cast<double>(photometric(given)) / (side * side);
            if (!(lux > 0)) continue;
            all.push_back({in->toward, lux});
            sum += lux;
            mean += in->toward * static_cast<float>(lux);
            if (each) each(in->toward);
        }
    DirectLight found;
    if (all.empty()) return found;
    found.lux = sum;
    mean.normalize();
    double squares = 0;
    for (const Arrived& a : all) {
        const double along = std::max(0.05, static_cast<double>(a.toward.dot(mean)));
        const double off = static_cast<double>((a.toward / static_cast<float>(along) - mean).length());
        squares += a.lux * off * off;
    }
    // An even disc of radius R has its points at R / sqrt 2 from the middle, in the mean of squares.
    found.width = 2 * std::sqrt(2 * squares / sum);
    return found;
}

}  // namespace rushlight
