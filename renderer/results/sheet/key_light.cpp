#include "results/sheet/key_light.h"

#include "results/light/direct_light.h"

#include <cmath>

namespace rushlight {

std::optional<Ratio> cheek_ratio(const MeterResults& results, std::size_t near, std::size_t far,
                                 const std::string& mark, bool lens) {
    if (!(results.all(near).value > 0) || !(results.all(far).value > 0)) return std::nullopt;
    const bool near_is_key = results.all(near).value >= results.all(far).value;
    Ratio r;
    const char* one = lens ? "near" : "left";
    const char* other = lens ? "far" : "right";
    r.name = mark + " cheeks, " + (near_is_key ? one : other) + " over " + (near_is_key ? other : one);
    r.stops = near_is_key ? results.stops(near, far) : results.stops(far, near);
    r.ratio = std::exp2(r.stops.value);
    return r;
}

std::optional<Ratio> key_alone_to_fill(const Ratio& cheeks) {
    // Under a tenth of a stop nobody calls one of them the key.
    constexpr double least = 0.1;
    if (!(cheeks.stops.value > least)) return std::nullopt;
    Ratio r;
    r.name = "K:F, key alone to fill";
    r.ratio = cheeks.ratio - 1;
    // d log2(r - 1) = r / (r - 1) d log2(r)
    r.stops = {std::log2(r.ratio), cheeks.stops.error * cheeks.ratio / r.ratio};
    return r;
}

void find_key(const Scene& scene, const MeterResults& results, const std::vector<MeterPoint>& points, std::size_t near,
              std::size_t far, const Ratio& cheeks, PersonReadings& person) {
    const bool near_is_key = results.all(near).value >= results.all(far).value;
    const std::size_t key = near_is_key ? near : far;
    person.key_side = near_is_key ? "near" : "far";
    std::size_t most = 0;
    for (std::size_t s = 1; s < results.sources(); ++s)
        if (results.of(key, s).value > results.of(key, most).value) most = s;
    const double lux = results.of(key, most).value;
    person.key_source = scene.lights.sources()[most];
    person.key_share = lux / results.all(key).value;

    Ratio textbook = cheeks;
    textbook.name = "(K+F):F, flat on the cheeks";
    person.key_to_fill.push_back(textbook);
    if (const auto alone = key_alone_to_fill(cheeks)) person.key_to_fill.push_back(*alone);

    // Softness is the source's own only where most of the key comes straight from it.
    constexpr double mostly = 0.5;
    constexpr double nose = 30;  // mm off the cheek
    const DirectLight direct = direct_light(scene, most, points[key]);
    if (direct.lux < mostly * lux) return;
    person.softness = direct.width;
    person.shadow_edge = nose * direct.width;
}

}  // namespace rushlight
