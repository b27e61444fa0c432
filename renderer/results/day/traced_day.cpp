#include "results/day/traced_day.h"

#include "quantity/colour.h"

#include <algorithm>

namespace rushlight {

namespace {

constexpr std::size_t most_groups = 48;
// The most passes for the sun at one hour. If that is not enough, the hour's error says so.
constexpr std::uint32_t light_paths = 64, camera_paths = 32;
constexpr double most_passes_an_hour = 4;
// All hours share this light, so it is worth being surer of it.
constexpr double share_of_the_error = 0.7;

Spectrum ratio_of(const Spectrum& now, const Spectrum& traced) {
    Spectrum ratio;
    for (int b = 0; b < bands; ++b) ratio[b] = traced[b] > 0 ? now[b] / traced[b] : 0.0F;
    return ratio;
}

/// An even sky and ground to trace under: the ground as dim beside the sky as it usually is.
Daylight even_outside() {
    Daylight even;
    even.lit = true;
    even.zenith_radiance = scaled_to(white_light(Kelvin{6500}), 3000);
    even.ground_radiance = even.zenith_radiance * 0.2F;
    even.sky_horizontal = Lux{pi * 3000};
    return even;
}

}  // namespace

TracedDay::Pass::Pass(const MeterResults& results, std::size_t first, std::size_t end) : layers(end - first) {
    const std::size_t cells = results.meters() * layers;
    for (std::size_t m = 0; m < results.meters(); ++m)
        for (std::size_t s = first; s < end; ++s) {
            light.push_back(results.light(m, s));
            lux.push_back(photometric(light.back()));
        }
    const std::size_t count = std::min(most_groups, results.batches());
    groups.assign(count, std::vector<float>(cells, 0.0F));
    std::vector<std::size_t> in_group(count, 0);
    for (std::size_t b = 0; b < results.batches(); ++b) {
        ++in_group[b % count];
        for (std::size_t i = 0; i < cells; ++i) groups[b % count][i] += results.of(i / layers, first + i % layers, b);
    }
    for (std::size_t g = 0; g < count; ++g)
        for (float& x : groups[g]) x /= static_cast<float>(in_group[g]);
}

TracedDay::TracedDay(const Setup& setup, Scene& scene, std::vector<MeterPoint> meters, Wanted wanted,
                     std::vector<double> clock, const Effort& effort, int sky_rings)
    : meters_(std::move(meters)), patches_(sky_rings), sun_(clock.size()), traced_sun_(clock.size()) {
    const Clock time;
    if (!scene.holes->rectangles.empty()) scene.openings = scene.holes;
    if (wanted.empty())
        for (std::size_t m = 0; m < meters_.size(); ++m) wanted.push_back({m});
    trace_sky(setup, scene, wanted, effort);
    for (std::size_t h = 0; h < clock.size() && !setup.day.dark && !effort.stopped(); ++h) {
        if (effort.tell) effort.tell({(static_cast<double>(h) + 5) / (static_cast<double>(clock.size()) + 5), 0, 0});
        trace_sun(setup, scene, wanted, effort, clock[h], h);
    }
    seconds_ = time.seconds();
}

void TracedDay::trace_sky(const Setup& setup, Scene& scene, const Wanted& wanted, const Effort& effort) {
    const Daylight even = even_outside();
    traced_sky_ = even.zenith_radiance;
    traced_ground_ = even.ground_radiance;
    lamps_ = setup.rig.lamps.size();
    scene.lights = lights_under(setup.day.dark ? Daylight{} : even, scene, setup.rig, true);
    if (!setup.day.dark) scene.lights.tell_sky_apart(std::make_shared<SkyPatches>(patches_));
    Effort own = effort;
    own.tell = nullptr;
    own.relative_error *= share_of_the_error;
    const MeterResults results = measure(scene, meters_, own, wanted);
    cut_short_ = cut_short_ || results.cut_short;
    if (results.batches() > 1) sky_ = Pass(results, 0, results.sources());
}

void TracedDay::trace_sun(const Setup& setup, Scene& scene, const Wanted& wanted, const Effort& effort, double clock,
                          std::size_t hour) {
    Daylight outside = outside_at(setup, Weather::clear, clock);
    if (!outside.sun) return;
    // The rest of the reading at this hour. Beside much other light the sun's error need not be small.
    std::vector<double> rest;
    for (const Varied& v : taken(hour, outside, false).amount) rest.push_back(v.value);
    std::vector<MeterPoint> meters = meters_;
    for (std::size_t m = 0; m < meters.size(); ++m) meters[m].besides = static_cast<float>(rest[m]);

    outside.zenith_radiance = outside.ground_radiance = Spectrum{};
    scene.lights = lights_under(outside, scene, setup.rig, false);
    traced_sun_[hour] = outside.sun_irradiance;
    Effort own = effort;
    own.tell = nullptr;
    own.seed = stream_of(effort.seed, 100 + hour);
    own.enough_passes = most_passes_an_hour;
    const Sharing sharing = sharing_for(scene, own.seed, light_paths, camera_paths);
    const MeterResults results = measure(scene, meters, own, sharing, wanted);
    cut_short_ = cut_short_ || results.cut_short;
    if (results.batches() > 1) sun_[hour] = Pass(results, lamps_, lamps_ + 1);
}

void TracedDay::add(const Pass& pass, std::size_t meter, std::size_t layer, const Spectrum& ratio, double weight,
                    Spectrum& light, std::vector<double>& groups) {
    const std::size_t cell = meter * pass.layers + layer;
    if (!(pass.lux[cell] > 0) || weight == 0) return;
    const Spectrum now = pass.light[cell] * ratio * static_cast<float>(weight);
    light += now;
    // Batches were summed up in lux: each is as much brighter as their mean is.
    const double brighter = static_cast<double>(photometric(now)) / static_cast<double>(pass.lux[cell]);
    for (std::size_t g = 0; g < groups.size(); ++g) groups[g] += brighter * static_cast<double>(pass.groups[g][cell]);
}

TracedDay::Taken TracedDay::taken(std::size_t hour, const Daylight& outside, bool with_sun) const {
    Taken t;
    t.amount.resize(meters_.size());
    t.light.resize(meters_.size());
    const bool any_sky = sky_.layers > lamps_ && outside.lit;
    const Spectrum sky = ratio_of(outside.zenith_radiance, traced_sky_);
    const Spectrum ground = ratio_of(outside.ground_radiance, traced_ground_);
    const std::vector<float> patches = any_sky ? patches_.relative_luminance(outside) : std::vector<float>{};
    const bool sun = with_sun && outside.sun && sun_[hour].layers > 0;
    const Spectrum brighter_sun = sun ? ratio_of(outside.sun_irradiance, traced_sun_[hour]) : Spectrum{};
    for (std::size_t m = 0; m < meters_.size(); ++m) {
        Spectrum& light = t.light[m];
        if (sky_.layers > 0) {
            std::vector<double> groups(sky_.groups.size(), 0.0);
            for (std::size_t l = 0; l < lamps_; ++l) add(sky_, m, l, Spectrum{1.0F}, 1.0, light, groups);
            if (any_sky) {
                add(sky_, m, lamps_, ground, 1.0, light, groups);
                for (std::size_t p = 0; p < patches.size(); ++p)
                    add(sky_, m, lamps_ + 1 + p, sky, static_cast<double>(patches[p]), light, groups);
            }
            t.amount[m].sky = parts_of(groups);
        }
        if (sun) {
            std::vector<double> groups(sun_[hour].groups.size(), 0.0);
            add(sun_[hour], m, 0, brighter_sun, 1.0, light, groups);
            t.amount[m].sun = parts_of(groups);
        }
        t.amount[m].value = static_cast<double>(photometric(light));
    }
    return t;
}

}  // namespace rushlight
