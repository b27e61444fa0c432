// How fast: fixed scenes, ratios within one run where possible. docs/speed.md says how to read it.
//   rushlight_bench [seconds a measurement]

#include "bench_scenes.h"

#include "paths/field.h"
#include "results/frame/frames.h"
#include "results/frame/preview_filter.h"
#include "scene/rays/camera_view.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <thread>

using namespace rushlight;
using namespace rushlight::bench;

namespace {

double seconds_each = 2;

double median(std::vector<double> v) {
    std::nth_element(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2), v.end());
    return v[v.size() / 2];
}

double worst(const MeterResults& r) {
    double w = 0;
    for (std::size_t m = 0; m < r.meters(); ++m) w = std::max(w, r.all(m).relative_error());
    return w;
}

/// Milliseconds until the worst of the meters is sure to 1 %: as a person waits for it, median over seeds.
double wait_for_one_percent(const Scene& s, const std::vector<MeterPoint>& meters) {
    std::vector<double> waits;
    for (std::uint64_t seed = 1; seed <= 7; ++seed) {
        Effort e;
        e.seed = seed;
        e.relative_error = 0.01;
        waits.push_back(1000 * measure(s, meters, e).seconds);
    }
    return median(waits);
}

/// The same by the square law from a timed run, for one way of sharing the work.
double law_for_one_percent(const Scene& s, const std::vector<MeterPoint>& meters, const Sharing& sharing) {
    Effort e;
    e.relative_error = 0;
    e.seconds = seconds_each;
    const MeterResults r = measure(s, meters, e, sharing);
    return 1000 * r.seconds * worst(r) * worst(r) / 1e-4;
}

void meters_to_one_percent() {
    std::printf("\n## Twelve meters to 1 %% (worst of them)\n\n");
    std::printf("| scene | wait, ms | plain walks, ms | plain / wait |\n|---|---|---|---|\n");
    const auto meters = twelve_meters();
    for (const Choice& c : choices) {
        const Scene s = make(c.letter);
        const double wait = wait_for_one_percent(s, meters);
        const double plain = law_for_one_percent(s, meters, Sharing::meters_alone(64));
        std::printf("| %c %s | %.0f | %.0f | %.1f |\n", c.letter, c.what, wait, plain, plain / wait);
        std::fflush(stdout);
    }
}

Camera wide_camera() {
    Camera c;
    c.at = {5.7F, 3.6F, 1.5F};
    c.look_at = {2.8F, 1.6F, 1.2F};
    c.lens = 21;
    return c;
}

Field frame(const Scene& s, int width, int height, double seconds, int threads, bool layers, int passes_by_seed = 1) {
    const CameraView view(wide_camera(), width, height);
    Effort e;
    e.seconds = seconds;
    e.threads = threads;
    e.seed = static_cast<std::uint64_t>(passes_by_seed);
    return trace_field(
        s, static_cast<std::size_t>(width) * static_cast<std::size_t>(height), layers,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> sum,
            SplitLight& split) {
            const auto x = static_cast<float>(p % static_cast<std::size_t>(width)) + sampler.next();
            const auto y = static_cast<float>(p / static_cast<std::size_t>(width)) + sampler.next();
            collect_along(s, view.ray(x, y), pool, sharing, sampler, sum, &split);
        },
        e);
}

void frame_noise_after_a_second() {
    std::printf("\n## Frame, 960 x 540, one second of tracing\n\n");
    std::printf("| scene | paths a pixel | noise of a pixel |\n|---|---|---|\n");
    for (const Choice& c : choices) {
        const Scene s = make(c.letter);
        const Field f = frame(s, 960, 540, 1.0, 0, true);
        if (f.passes > 1)
            std::printf("| %c %s | %u | %.0f %% |\n", c.letter, c.what, f.passes, 100 * f.noise);
        else
            std::printf("| %c %s | 1 | - |\n", c.letter, c.what);
        std::fflush(stdout);
    }
}

/// Photometric luminance of every pixel, with the preview filter or without.
std::vector<double> luminances(const LayeredFrame& f, bool filtered) {
    std::vector<double> all(f.bounced.size());
    for (const auto& layer : f.layers)
        for (std::size_t p = 0; p < all.size(); ++p) all[p] += static_cast<double>(photometric(layer[p]));
    if (!filtered) return all;
    const std::vector<Vec3> correction = preview_correction(f);
    for (std::size_t p = 0; p < all.size(); ++p) all[p] += static_cast<double>(correction[p].y);
    return all;
}

/// True departures from a long run of the same frame, 480 x 270 so that a quarter of a second stands for one of the
/// large frame: a pixel's, unfiltered and filtered, and of the whole picture's light, as a mean over seeds.
void what_the_filter_does() {
    std::printf("\n## Preview filter: departure from a frame of many passes\n\n");
    std::printf("| scene | pixel, unfiltered | pixel, filtered | all light, filtered |\n|---|---|---|---|\n");
    constexpr int seeds = 6;
    for (const Choice& c : choices) {
        const Scene s = make(c.letter);
        Setup setup;
        setup.rig.cameras.push_back(wide_camera());
        setup.camera = 0;
        const auto frame_of = [&](double seconds, std::uint64_t seed) {
            Effort e;
            e.seconds = seconds;
            e.seed = seed;
            KeptLight light;
            return trace_frame(setup, s, 480, 270, e, light);
        };
        const std::vector<double> truth = luminances(frame_of(8 * seconds_each, 99), false);
        double mean = 0;
        for (const double t : truth) mean += t / static_cast<double>(truth.size());
        double plain = 0, smooth = 0, light = 0;
        for (int seed = 1; seed <= seeds; ++seed) {
            const LayeredFrame f = frame_of(0.25, static_cast<std::uint64_t>(seed));
            const std::vector<double> raw = luminances(f, false), filtered = luminances(f, true);
            double now = 0;
            for (std::size_t p = 0; p < truth.size(); ++p) {
                const double of = (truth[p] + 0.02 * mean) * static_cast<double>(truth.size()) * seeds;
                plain += std::abs(raw[p] - truth[p]) / of;
                smooth += std::abs(filtered[p] - truth[p]) / of;
                now += filtered[p];
            }
            light += (now / (mean * static_cast<double>(truth.size())) - 1) / seeds;
        }
        // The mean of absolute departures is 0.8 of a standard error, for a normal law.
        const double to_sigma = std::sqrt(pi / 2);
        std::printf("| %c %s | %.0f %% | %.0f %% | %+.1f %% |\n", c.letter, c.what, 100 * to_sigma * plain,
                    100 * to_sigma * smooth, 100 * light);
        std::fflush(stdout);
    }
}

double passes_a_second(const Scene& s, int threads, bool layers) {
    std::vector<double> rates;
    for (int i = 0; i < 3; ++i) {
        const Field f = frame(s, 480, 270, seconds_each / 2, threads, layers, i + 1);
        rates.push_back(f.passes / f.seconds);
    }
    return median(rates);
}

/// Rays a second of whole walks on one thread, against the bare questions with rays of the same kind: from the
/// places where light paths land, half of them onwards to what comes first, half to another such place.
void share_of_bare_rays() {
    std::printf("\n## Rays a second, one thread\n\n| scene | tracing | bare | share |\n|---|---|---|---|\n");
    const auto meters = twelve_meters();
    for (const Choice& c : choices) {
        const Scene s = make(c.letter);
        Effort e;
        e.threads = 1;
        e.relative_error = 0;
        e.seconds = seconds_each;
        const std::uint64_t before = RayScene::rays_of_this_thread();
        const MeterResults r = measure(s, meters, e, sharing_for(s, 1, 256, 16));
        const double traced = static_cast<double>(RayScene::rays_of_this_thread() - before) / r.seconds;

        const LightPaths pool = trace_light_paths(s, 7, 0, 20000, 1);
        std::vector<Ray> rays;
        Sampler u(11, 0);
        for (std::size_t i = 0; i + 1 < pool.vertices.size() && rays.size() < 200000; ++i) {
            const Vertex& v = pool.vertices[i];
            if (i % 2 == 0) {
                const auto b = v.surface->bounce(v.normal, v.from, u.next(), u.next(), u.next());
                if (b) rays.push_back({v.lifted_to(b->to), b->to});
            } else {
                const Vec3 way = pool.vertices[(i * 7919) % pool.vertices.size()].position - v.position;
                const float d = way.length();
                if (d > 1e-3F) rays.push_back({v.lifted_to(way), way / d, d * 0.9999F});
            }
        }
        const Clock clock;
        std::size_t asked = 0;
        float sum = 0;
        do {
            for (const Ray& ray : rays) {
                if (std::isinf(ray.farthest)) {
                    const auto hit = s.rays.first_hit(ray);
                    sum += hit ? hit->distance : 0.0F;
                } else {
                    Spectrum share{1.0F};
                    sum += s.rays.passes(ray, share) ? 1.0F : 0.0F;
                }
            }
            asked += rays.size();
        } while (clock.seconds() < seconds_each / 2);
        const double bare = static_cast<double>(asked) / clock.seconds();
        std::printf("| %c | %.2f M | %.2f M | %.0f %% |\n", c.letter, traced / 1e6, bare / 1e6, 100 * traced / bare);
        if (sum < 0) std::printf("impossible\n");  // keeps the loop from being optimised away
        std::fflush(stdout);
    }
}

double peak_memory_mib() {
    std::ifstream status("/proc/self/status");
    std::string word;
    while (status >> word)
        if (word == "VmHWM:") {
            double kib = 0;
            status >> kib;
            return kib / 1024;
        }
    return 0;
}

void what_things_cost() {
    std::printf("\n## What things cost (frame passes a second, ratios)\n\n| what | ratio |\n|---|---|\n");
    const Scene d = make('d');
    std::printf("| two threads over one (machine has %u) | %.2f |\n", std::thread::hardware_concurrency(),
                passes_a_second(d, 2, true) / passes_a_second(d, 1, true));
    const Scene many = make('e', 20000, 16);
    std::printf("| 16 layers kept over none kept, time | %.2f |\n",
                passes_a_second(many, 0, false) / passes_a_second(many, 0, true));
    const double small = passes_a_second(d, 0, true);
    const Scene large = make('d', 1000000);
    std::printf("| 2 M triangles over 40 k, time | %.2f |\n", small / passes_a_second(large, 0, true));
    std::printf("| frame 960 x 540 with 16 layers, predicted MiB | %.0f |\n",
                static_cast<double>(field_bytes(960 * 540, 16, true)) / (1 << 20));
    std::printf("| peak of this whole run, MiB | %.0f |\n", peak_memory_mib());
}

}  // namespace

int main(int argc, char** argv) {
    if (argc > 1) seconds_each = std::clamp(std::atof(argv[1]), 0.1, 60.0);
    std::printf("# rushlight benchmark\n\nTimes are of this machine at this hour; ratios within the run mean more.\n");
    meters_to_one_percent();
    frame_noise_after_a_second();
    what_the_filter_does();
    share_of_bare_rays();
    what_things_cost();
    return 0;
}
