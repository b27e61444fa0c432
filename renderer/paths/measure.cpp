#include "paths/measure.h"

#include "paths/checkpoint.h"
#include "paths/walk/looks.h"
#include "paths/work/workers.h"
#include "setup/text/where.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace rushlight {

namespace {

// Meters times sources: a round of them takes about a gigabyte.
constexpr std::size_t most_numbers_at_once = 500'000;
// No error can be told from fewer.
constexpr std::size_t fewest_batches = 2;
// A batch's walks. Which of these is best depends on the light: bounced lamps are found from the lamps, what is
// seen through windows from the meters.
struct Walks {
    std::uint32_t light_paths, camera_paths;
};
constexpr Walks walks_at_first = {64, 16};
constexpr Walks walks_to_try[] = {{256, 16}, {64, 16}, {0, 64}};
constexpr std::size_t batches_to_try = 8;
// Trying the sharings costs about as much as this many batches.
constexpr double batches_before_trials = 120;

std::size_t layer_count(const Scene& scene, const LastSurfaces* last_surfaces) {
    return scene.lights.layers() * (last_surfaces != nullptr ? last_surfaces->names.size() : 1);
}

/// Given up, with no `light`, as soon as `given_up` says so: one batch of very many meters takes long.
MeterResults::Batch measure_batch(const Scene& scene, const std::vector<MeterPoint>& meters, const Sharing& sharing,
                                  std::uint64_t stream, std::vector<Spectrum>& light, const LastSurfaces* last_surfaces,
                                  const std::function<bool()>& given_up) {
    const std::size_t sources = layer_count(scene, last_surfaces);
    light.assign(meters.size() * sources, Spectrum{});
    LightPaths pool;
    if (sharing.light_paths > 0)
        pool = trace_light_paths(scene, stream_of(stream, 0), 0, sharing.light_paths, sharing.connection_samples);

    std::vector<Spectrum> layers(sources);
    for (std::size_t m = 0; m < meters.size(); ++m) {
        if (given_up()) {
            light.clear();
            return {};
        }
        const std::span<Spectrum> sum(&light[m * sources], sources);
        if (sharing.look_samples() > 0) {
            std::fill(layers.begin(), layers.end(), Spectrum{});
            look_at_light_paths(scene, meters[m], pool, sharing, Sampler(stream_of(stream, meters.size() + m + 1), 0),
                                layers, last_surfaces);
            for (std::size_t s = 0; s < sources; ++s)
                sum[s] += layers[s] * (1.0F / static_cast<float>(sharing.light_paths));
        }
        std::fill(layers.begin(), layers.end(), Spectrum{});
        const std::uint64_t walk_stream = stream_of(stream, m + 1);
        for (std::uint32_t i = 0; i < sharing.camera_paths; ++i)
            collect_at_meter(scene, meters[m], pool, sharing, Sampler(walk_stream, i), layers, last_surfaces);
        for (std::size_t s = 0; s < sources; ++s)
            sum[s] += layers[s] * (1.0F / static_cast<float>(sharing.camera_paths));
    }
    MeterResults::Batch batch;
    batch.lux.reserve(light.size());
    for (const Spectrum& s : light) batch.lux.push_back(photometric(s));
    return batch;
}

/// The sharing that reaches an error with the least work, judged by a few batches of each. Work is counted in
/// rays, not in seconds, so that the choice is the same on every run.
Sharing best_sharing(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                     const Sharing& usual, const Wanted& wanted, const LastSurfaces* last_surfaces) {
    std::vector<Sharing> tried;
    for (const Walks& w : walks_to_try) {
        if (w.light_paths == 0) {
            tried.push_back(Sharing::meters_alone(w.camera_paths));
        } else if (usual.light_paths > 0) {
            // What light paths are like here is known from the usual ones.
            tried.push_back({w.light_paths, w.camera_paths, usual.connection_samples});
        }
    }
    struct Trial {
        std::vector<float> lux;
        double work = 0;
    };
    const std::size_t sources = layer_count(scene, last_surfaces);
    std::vector<Trial> trials(tried.size() * batches_to_try);
    const auto given_up = [&] { return effort.asked_to_stop() || effort.left() <= 0; };
    const auto run = [&](std::size_t i) {
        const Sharing& s = tried[i / batches_to_try];
        const std::uint64_t before = RayScene::rays_of_this_thread();
        std::vector<Spectrum> light;
        trials[i].lux =
            measure_batch(scene, meters, s, stream_of(effort.seed ^ 0x7472696573ULL, i), light, last_surfaces, given_up)
                .lux;
        trials[i].work = static_cast<double>(RayScene::rays_of_this_thread() - before);
        // A look that is not worth a ray still costs about a quarter of one.
        if (s.light_paths > 0)
            trials[i].work += 0.25 / static_cast<double>(s.samples_a_candidate()) * s.light_paths *
                              static_cast<double>(meters.size());
    };
    for_each_piece_together(
        effort, trials.size(), run,
        [&](std::size_t i, Packer& to) {
            to.put(trials[i].lux);
            to.put(trials[i].work);
        },
        [&](std::size_t i, Unpacker& from) {
            trials[i].lux = from.list<float>();
            trials[i].work = from.get<double>();
        });
    const bool all_tried = std::none_of(trials.begin(), trials.end(), [](const Trial& t) { return t.lux.empty(); });
    if (effort.dropped() || !effort.agreed(all_tried)) return usual;
    // A way that misses rare bright light looks calm: how far its mean lies off the middle one counts as
    // error too.
    const auto readings_of = [&](std::size_t t, const std::vector<std::size_t>& group) {
        std::vector<double> readings(batches_to_try);
        for (std::size_t b = 0; b < batches_to_try; ++b)
            for (const std::size_t m : group)
                for (std::size_t s = 0; s < sources; ++s)
                    readings[b] += static_cast<double>(trials[t * batches_to_try + b].lux[m * sources + s]);
        return mean_of(readings);
    };
    std::vector<double> error2(tried.size(), 0.0);
    for (const auto& group : wanted) {
        std::vector<Measured> readings;
        std::vector<double> values;
        for (std::size_t t = 0; t < tried.size(); ++t) {
            readings.push_back(readings_of(t, group));
            values.push_back(readings.back().value);
        }
        std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2), values.end());
        const double middle = values[values.size() / 2];
        double whole = middle;
        for (const std::size_t m : group)
            whole += static_cast<double>(meters[m].besides) / static_cast<double>(group.size());
        if (!(whole > 0)) continue;
        for (std::size_t t = 0; t < tried.size(); ++t) {
            const double off = readings[t].value - middle;
            error2[t] += (readings[t].error * readings[t].error + off * off) / (whole * whole);
        }
    }
    std::size_t best = 0;
    double least = INFINITY;
    for (std::size_t t = 0; t < tried.size(); ++t) {
        double work = 0;
        for (std::size_t b = 0; b < batches_to_try; ++b) work += trials[t * batches_to_try + b].work;
        if (work * error2[t] < least) {
            least = work * error2[t];
            best = t;
        }
    }
    return tried[effort.agreed(best)];
}

/// A first look at every meter, so that later rays know what is worth tracing.
std::vector<MeterPoint> with_expectations(const Scene& scene, std::vector<MeterPoint> meters, const Effort& effort,
                                          Sharing sharing, const LastSurfaces* last_surfaces) {
    sharing.camera_paths = std::min(sharing.camera_paths, 16U);
    sharing.light_paths = std::min(sharing.light_paths, 64U);
    std::vector<Spectrum> light;
    const MeterResults::Batch first = measure_batch(scene, meters, sharing, stream_of(effort.seed, 0x66697273U), light,
                                                    last_surfaces, [&] { return effort.hurries(); });
    if (light.empty()) return meters;
    const std::size_t sources = layer_count(scene, last_surfaces);
    for (std::size_t m = 0; m < meters.size(); ++m) {
        if (meters[m].expected > 0) continue;
        meters[m].expected = meters[m].besides;
        for (std::size_t s = 0; s < sources; ++s) meters[m].expected += first.lux[m * sources + s];
    }
    return meters;
}

/// Fingerprint of all that the batches hang on, and how many there will be.
std::string work_fingerprint(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                             const Sharing& sharing, const Wanted& wanted, const LastSurfaces* last_surfaces) {
    Content content;
    content << "measure" << scene.fingerprint() << effort.relative_error << effort.seconds << effort.most_batches
            << effort.enough_batches << effort.seed << sharing.light_paths << sharing.camera_paths << sharing.looks;
    add_content(content, meters, wanted, last_surfaces);
    return content.fingerprint();
}

/// The largest relative error of what is wanted: that of a group's mean against all that its meters read, what they
/// read besides included.
double largest_error(const MeterResults& results, const std::vector<MeterPoint>& meters, const Wanted& wanted) {
    double largest = 0;
    for (const auto& group : wanted) {
        const Measured mean = results.all(group);
        double whole = mean.value;
        for (const std::size_t m : group)
            whole += static_cast<double>(meters[m].besides) / static_cast<double>(group.size());
        if (whole > 0) largest = std::max(largest, mean.error / whole);
    }
    return largest;
}

/// What is left where it was over before there was anything.
MeterResults nothing(std::size_t meters, std::size_t sources) {
    MeterResults results(meters, sources);
    results.cut_short = true;
    return results;
}

/// Whether there is time to find out how the work is best shared, and then to make something of it.
bool worth_finding_out(const MeterResults& easy, const Effort& effort, double left) {
    if (effort.seconds <= 0) return true;
    constexpr double trial = 0.6;  // of what as many batches as are worth a trial take
    const double batch = easy.seconds / static_cast<double>(std::max<std::size_t>(1, easy.added()));
    return left > 2 * trial * batches_before_trials * batch;
}

}  // namespace

Wanted or_each(Wanted wanted, std::size_t meters) {
    if (wanted.empty())
        for (std::size_t m = 0; m < meters; ++m) wanted.push_back({m});
    return wanted;
}

Sharing sharing_for(const Scene& scene, std::uint64_t seed, std::uint32_t light_paths, std::uint32_t camera_paths) {
    Sharing sharing{light_paths, camera_paths, 1.0F};
    bool any = false;
    for (std::size_t i = 0; i < scene.lights.count(); ++i) any = any || scene.lights.start_chance(i) > 0;
    if (light_paths == 0 || !any) return Sharing::meters_alone(camera_paths);
    constexpr std::uint32_t pilots = 256;
    const LightPaths pilot = trace_light_paths(scene, stream_of(seed, 0x70696C6FU), 0, pilots, 1.0F);
    if (pilot.vertices.empty()) return Sharing::meters_alone(camera_paths);
    sharing.connection_samples = Sharing::worth_of_a_candidate * static_cast<float>(sharing.candidates) *
                                 static_cast<float>(pilots) / static_cast<float>(pilot.vertices.size());
    return sharing;
}

void add_content(Content& content, const std::vector<MeterPoint>& meters, const Wanted& wanted,
                 const LastSurfaces* last_surfaces) {
    for (const MeterPoint& m : meters)
        content << m.kind << m.at << m.facing << m.spot_radius << m.expected << m.besides;
    content << wanted.size();
    for (const auto& group : wanted) content << group;
    if (last_surfaces != nullptr) content << last_surfaces->names << last_surfaces->of_part << last_surfaces->beyond;
}

MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort, Wanted wanted,
                     const LastSurfaces* last_surfaces) {
    const Clock clock;
    wanted = or_each(std::move(wanted), meters.size());
    const Sharing usual = sharing_for(scene, effort.seed, walks_at_first.light_paths, walks_at_first.camera_paths);
    // Easy light is measured before it would pay to find out how.
    Effort easy = effort;
    easy.most_batches = batches_before_trials;
    easy.tell = nullptr;
    MeterResults results = measure(scene, meters, easy, usual, wanted, last_surfaces);
    const bool sure = effort.seconds <= 0 && effort.relative_error > 0 && results.reached <= effort.relative_error;
    const double passed = effort.agreed(clock.seconds());
    const bool time_left =
        worth_finding_out(results, effort, std::min(effort.seconds * effort.pace - passed, effort.left()));
    if (!sure && time_left && results.batches() > 0 && !effort.stopped() && !effort.dropped()) {
        Effort rest = effort;
        if (rest.seconds > 0) rest.seconds = std::max(0.01, rest.seconds - passed / effort.pace);
        const Sharing best = best_sharing(scene, meters, effort, usual, wanted, last_surfaces);
        // Another seed: what was found out must not be counted again.
        rest.seed = stream_of(effort.seed, 1);
        if (MeterResults now = measure(scene, meters, rest, best, wanted, last_surfaces); now.batches() > 0)
            results = std::move(now);
        results.seconds = clock.seconds();
    }
    results.cut_short = results.cut_short || effort.stopped();
    return results;
}

MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& asked,
                     const Sharing& sharing, Wanted wanted, const LastSurfaces* last_surfaces) {
    const Clock clock;
    wanted = or_each(std::move(wanted), meters.size());
    Effort effort = asked;
    // Work for so and so long is not gone on with: another run has other seconds left.
    if (effort.seconds > 0) effort.checkpoints = nullptr;
    const std::size_t sources = layer_count(scene, last_surfaces);
    if (meters.size() * sources > most_numbers_at_once)
        throw InputError(std::to_string(meters.size()) + " meters times " + std::to_string(sources) +
                         " sources are too many; expected a product of " + std::to_string(most_numbers_at_once) +
                         " at most");
    Checkpoint checkpoint{MeterResults(meters.size(), sources)};
    MeterResults& results = checkpoint.results;
    if (meters.empty() || scene.lights.count() == 0) return results;
    const bool fingerprinted = effort.team != nullptr || effort.checkpoints != nullptr;
    const std::string work =
        fingerprinted ? work_fingerprint(scene, meters, effort, sharing, wanted, last_surfaces) : "";
    if (effort.team != nullptr) effort.team->expect_alike(work, other_work);
    if (auto left = load_checkpoint(work, effort, results)) checkpoint = std::move(*left);
    if (checkpoint.finished) return results;

    const std::vector<MeterPoint> expecting = with_expectations(scene, meters, effort, sharing, last_surfaces);
    const double before = results.seconds;
    const double limit = effort.until         ? before + effort.limit()
                         : effort.seconds > 0 ? effort.seconds
                                              : effort.most_seconds;
    const auto seconds = [&] { return before + clock.seconds(); };
    // Spectra of a round's batches are held until they are summed.
    constexpr std::size_t most_spectra = 2'000'000;
    const std::size_t most_a_round =
        std::max(first_round, most_spectra / std::max<std::size_t>(1, meters.size() * sources));
    while (true) {
        const std::size_t first = results.added();
        const std::size_t count = std::min(checkpoint.round_end - first, most_at_once(results, effort));
        std::vector<MeterResults::Batch> batches(count);
        std::vector<std::vector<Spectrum>> light(count);
        // With thousands of meters a round is long: it ends early when it must, with the batches it has.
        const auto must_end = [&] { return effort.asked_to_stop() || seconds() > limit; };
        for_each_piece_together(
            effort, count,
            [&](std::size_t i) {
                const auto given_up = [&] { return first + i >= fewest_batches ? must_end() : effort.hurries(); };
                if (given_up()) return;
                batches[i] = measure_batch(scene, expecting, sharing, stream_of(effort.seed, first + i), light[i],
                                           last_surfaces, given_up);
            },
            [&](std::size_t i, Packer& to) {
                to.put(batches[i].lux);
                to.put(light[i]);
            },
            [&](std::size_t i, Unpacker& from) {
                batches[i].lux = from.list<float>();
                light[i] = from.list<Spectrum>();
            });
        if (effort.dropped()) return {meters.size(), sources};
        // What is left for another run ends with a whole batch, and all before it are there.
        if (effort.checkpoints != nullptr && results.seconds > effort.checkpoints->worth_keeping() &&
            (effort.stopped() || effort.agreed(effort.checkpoints->due())))
            save_checkpoint(work, checkpoint, effort);
        bool whole = true;
        for (std::size_t i = 0; i < count; ++i) {
            whole = whole && !light[i].empty();
            if (!light[i].empty()) results.add(std::move(batches[i]), std::move(light[i]));
        }
        if (results.added() >= fewest_batches)
            effort.has_reached_something();
        else if (!whole)
            return nothing(meters.size(), sources);
        results.seconds = effort.agreed(seconds());
        if (whole && results.added() < checkpoint.round_end && !effort.stopped()) continue;

        const auto done = static_cast<double>(results.added());
        results.reached = effort.agreed(largest_error(results, meters, wanted));
        const double per_batch = results.seconds / done;
        const double ratio = effort.relative_error > 0 ? results.reached / effort.relative_error : INFINITY;
        // How many batches in all the wanted error needs, by the square law, and how many there is time for.
        const double needed = done * ratio * ratio;
        if (effort.seconds <= 0 && ratio <= 1.0) break;
        if (effort.enough_batches > 0 && static_cast<double>(results.batches()) >= effort.enough_batches) break;
        if (effort.most_batches > 0 && std::max(needed, done + 1) > effort.most_batches) break;
        const double affordable = limit / per_batch;
        const double goal = effort.seconds > 0 ? affordable : std::min(needed, affordable);
        if (effort.tell)
            effort.tell({std::min(1.0, done / goal), std::max(0.0, (goal - done) * per_batch), results.reached});
        if (effort.stopped() || !whole || done + 1 > affordable) {
            results.cut_short = effort.stopped() || effort.seconds <= 0;
            break;
        }
        // Half of what there is, so that checks stay few; but no round so long that nobody could stop it.
        const double half = done * 0.5;
        const double left = std::min(affordable - done, std::max(1.0, 2.0 / per_batch));
        const double round = std::clamp(effort.seconds > 0 ? std::min(half, left) : half, 4.0, 4096.0);
        checkpoint.round_end = results.added() + std::min(static_cast<std::size_t>(round), most_a_round);
    }
    checkpoint.finished = !results.cut_short;
    if (effort.checkpoints != nullptr && checkpoint.finished && results.seconds > effort.checkpoints->worth_keeping())
        save_checkpoint(work, checkpoint, effort);
    return results;
}

}  // namespace rushlight
