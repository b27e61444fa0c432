#include "paths/measure.h"

#include "paths/checkpoint.h"
#include "paths/unmet_light.h"
#include "paths/work/workers.h"
#include "setup/text/where.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

// Meters times sources: their sums take about a gigabyte.
constexpr std::size_t most_numbers_at_once = 500'000;
// No error can be told from fewer.
constexpr std::size_t fewest_batches = 2;

struct Work {
    const Scene& scene;
    const std::vector<MeterPoint>& asked;
    const Wanted& wanted;
    const LastSurfaces* last_surfaces;
    std::vector<MeterPoint> meters;    // with what is expected of them
    std::vector<std::uint32_t> walks;  // a pass, at each
    Sharing usual;
    bool told;  // `usual` is not to be changed
    Effort effort;
    Clock clock;
    double seconds_before = 0;  // of the run that this one goes on with

    Sharing sharing(std::size_t m) const {
        if (told) return usual;
        Sharing s = usual;
        s.camera_paths = walks[m];
        if (usual.light_paths == 0) return Sharing::meters_alone(s.camera_paths);
        // Nothing looks at a spot: it shares the light paths of the others.
        s.light_paths = light_paths_a_walk * (meters[m].kind == MeterKind::spot ? most_walks : s.camera_paths);
        return s;
    }
    static constexpr std::uint32_t most_walks = 12, light_paths_a_walk = 2;
};

/// One lot of passes of one batch, of the meters that want it.
struct Piece {
    std::size_t batch, first_pass, passes;
    std::vector<std::size_t> meters;
};
std::vector<Piece> pieces_of(const Plan& from, const Plan& to, std::size_t meters) {
    std::size_t first = std::numeric_limits<std::size_t>::max(), end = 0;
    for (std::size_t i = 0; i < to.size(); ++i)
        if (to[i] > from[i]) first = std::min(first, from[i]), end = std::max(end, to[i]);
    std::vector<Piece> pieces;
    for (std::size_t pass = first; pass < end; pass += lot_after(pass))
        for (std::size_t b = 0; b < batches_in_all; ++b) {
            Piece p{b, pass, lot_after(pass), {}};
            for (std::size_t m = 0; m < meters; ++m)
                if (from[b * meters + m] <= pass && pass < to[b * meters + m]) p.meters.push_back(m);
            if (!p.meters.empty()) pieces.push_back(std::move(p));
        }
    return pieces;
}

std::uint64_t stream_of_pass(std::uint64_t seed, const Piece& p) {
    return stream_of(stream_of(seed, p.batch), p.first_pass);
}

/// Does the pieces from `s.pieces_done` on; false where it had to end before all were done.
bool sweep(const Work& w, const std::vector<Piece>& pieces, std::uint64_t seed, double limit, const std::string& name,
           Checkpoint& s) {
    std::vector<Sharing> sharing;
    for (std::size_t m = 0; m < w.meters.size(); ++m) sharing.push_back(w.sharing(m));
    const Effort& effort = w.effort;
    const auto seconds = [&] { return w.seconds_before + w.clock.seconds(); };
    const std::size_t sources = layer_count(w.scene, w.last_surfaces);
    // Spectra are held until they are summed.
    constexpr std::size_t most_spectra = 2'000'000;
    const std::size_t most = std::clamp<std::size_t>(most_spectra / (w.meters.size() * sources), batches_in_all, 4096);
    // A checkpoint is saved every few seconds, or every 64 pieces.
    const std::size_t slice = effort.checkpoints != nullptr ? std::min<std::size_t>(most, 64) : most;
    while (s.pieces_done < pieces.size()) {
        const std::size_t first = s.pieces_done, count = std::min(slice, pieces.size() - first);
        std::vector<PassLight> found(count);
        // With thousands of meters a sweep is long: it ends early when it must, with the passes it has.
        const auto must_end = [&] { return effort.asked_to_stop() || seconds() > limit; };
        for_each_piece_together(
            effort, count,
            [&](std::size_t i) {
                const Piece& p = pieces[first + i];
                const auto given_up = [&] {
                    return p.first_pass > 0 || p.batch >= fewest_batches ? must_end() : effort.hurries();
                };
                if (given_up()) return;
                found[i] = measure_pass(w.scene, w.meters, sharing, p.meters, p.passes, stream_of_pass(seed, p),
                                        w.last_surfaces, given_up);
            },
            [&](std::size_t i, Packer& to) {
                to.put(found[i].light);
                to.put(found[i].work);
            },
            [&](std::size_t i, Unpacker& from) {
                found[i].light = from.list<Spectrum>();
                found[i].work = from.list<double>();
            });
        if (effort.dropped()) return false;
        bool whole = true;
        for (std::size_t i = 0; i < count; ++i) {
            whole = whole && !found[i].light.empty();
            if (!found[i].light.empty())
                s.tally.add(pieces[first + i].batch, pieces[first + i].meters, found[i], pieces[first + i].passes,
                            w.wanted);
        }
        if (!whole) return false;
        s.pieces_done += count;
        if (effort.checkpoints != nullptr) {
            s.seconds = effort.agreed(seconds());
            if (s.seconds > effort.checkpoints->worth_keeping() &&
                (effort.stopped() || effort.agreed(effort.checkpoints->due())))
                save_checkpoint(name, s, effort);
            if (effort.dropped()) return false;
        }
        if (effort.stopped()) return s.pieces_done == pieces.size();
    }
    return true;
}

/// Passes that a relative error of 1 takes, of each batch, [half][meter].
std::vector<std::vector<double>> needs_of(const Work& w, const Tally& tally) {
    std::vector<std::vector<double>> needs;
    for (std::size_t h = 0; h < halves; ++h)
        needs.push_back(passes_for_unit_error(tally, h, w.meters, w.wanted, w.effort.relative_error));
    return needs;
}

/// What the next sweep takes every batch to.
struct Next {
    Plan to;
    double work = 0;  // rays
};
Next next_sweep(const Work& w, const Tally& tally, const std::vector<std::vector<double>>& needs, double error) {
    // The plan aims a little lower than was asked for, since the quoted error scatters too; what comes close counts as
    // reached.
    constexpr double margin = 0.9, nearly = 1.15;
    // What few passes say of the scatter may be far off.
    constexpr double most_growth = 8;
    const std::size_t meters = w.meters.size();
    Next next;
    next.to.resize(batches_in_all * meters);
    for (std::size_t h = 0; h < halves; ++h)
        for (std::size_t m = 0; m < meters; ++m) {
            std::size_t had = 0;
            std::optional<InHalf> planned;
            for (std::size_t b = h; b < batches_in_all; b += halves) had += tally.passes(b, m);
            const double each = static_cast<double>(had) / batches_a_half;
            double wanted = std::max(1.0, needs[h][m] / (margin * margin * error * error));
            if (w.effort.enough_passes > 0) wanted = std::min(wanted, w.effort.enough_passes);
            if (each < 1 || wanted > nearly * each)
                planned = passes_in_half(std::min(wanted, most_growth * std::max(each, 1.0)));
            for (std::size_t b = h; b < batches_in_all; b += halves) {
                const std::size_t now = tally.passes(b, m);
                std::size_t& to = next.to[b * meters + m];
                to = std::max(now, planned ? planned->of(b) : 0);
                next.work += static_cast<double>(to - now) * tally.work(m);
            }
        }
    return next;
}

/// For those who give a time: the smallest error that so much work reaches.
Next sweep_for(const Work& w, const Tally& tally, const std::vector<std::vector<double>>& needs, double work) {
    double coarse = 10, fine = 1e-6;
    for (int i = 0; i < 40; ++i) {
        const double middle = std::sqrt(coarse * fine);
        (next_sweep(w, tally, needs, middle).work > work ? fine : coarse) = middle;
    }
    return next_sweep(w, tally, needs, coarse);
}

double work_done(const Tally& tally, std::size_t meters) {
    double work = 0;
    for (std::size_t m = 0; m < meters; ++m)
        work += tally.work(m) * (tally.of_meter(0, m).count + tally.of_meter(1, m).count);
    return work;
}

/// Fingerprint of everything the passes depend on, and of how many there will be.
std::string work_fingerprint(const Work& w) {
    Content content;
    content << "measure" << w.scene.fingerprint() << w.effort.relative_error << w.effort.seconds
            << w.effort.enough_passes << w.effort.seed << w.usual.light_paths << w.usual.camera_paths << w.usual.looks
            << w.told;
    add_content(content, w.asked, w.wanted, w.last_surfaces);
    return content.fingerprint();
}

MeterResults carry_out(Work& w) {
    Effort& effort = w.effort;
    // A run that is limited by time leaves no checkpoint: the next run has other seconds left.
    if (effort.seconds > 0) effort.checkpoints = nullptr;
    const std::size_t meters = w.asked.size(), sources = layer_count(w.scene, w.last_surfaces);
    if (meters * sources > most_numbers_at_once)
        throw InputError(std::to_string(meters) + " meters times " + std::to_string(sources) +
                         " sources are too many; expected a product of " + std::to_string(most_numbers_at_once) +
                         " at most");
    MeterResults results(meters, sources);
    if (meters == 0 || w.scene.lights.count() == 0) return results;
    const bool others = effort.team != nullptr || effort.checkpoints != nullptr;
    const std::string name = others ? work_fingerprint(w) : "";
    if (effort.team != nullptr) effort.team->expect_alike(name, other_work);

    Checkpoint s{Tally(meters, sources, w.wanted.size()), Plan(batches_in_all * meters, 0),
                 Plan(batches_in_all * meters, 1)};
    load_checkpoint(name, s, effort);
    const bool all_there = s.finished;
    w.meters = w.asked;
    const FirstWalks first = first_walks(w.scene, w.asked, effort.seed);
    const UnmetLight unmet(w.scene, w.asked, first);
    if (!all_there) {
        std::vector<Sharing> sharing;
        for (std::size_t m = 0; m < meters; ++m) sharing.push_back(w.sharing(m));
        w.meters = with_expectations(w.scene, w.asked, first, effort, sharing, w.last_surfaces);
    }
    w.seconds_before = s.seconds;
    const double limit = effort.until         ? w.seconds_before + effort.limit()
                         : effort.seconds > 0 ? effort.seconds
                                              : effort.most_seconds;
    const auto seconds = [&] { return effort.agreed(w.seconds_before + w.clock.seconds()); };
    const auto look_back = [&] {
        results = s.tally.results();
        if (results.batches() > 0 && w.last_surfaces == nullptr) {
            std::vector<UnmetLight::Walks> walks;
            for (std::size_t m = 0; m < meters; ++m) {
                const Sharing one = w.sharing(m);
                const double passes = s.tally.of_meter(0, m).count + s.tally.of_meter(1, m).count;
                walks.push_back({passes * one.light_paths, passes * one.camera_paths});
            }
            results.may_miss(unmet.errors(results, walks));
        }
        results.reached = effort.agreed(error_reached(results, w.asked, w.wanted, effort.relative_error));
    };
    while (!s.finished) {
        const bool whole = sweep(w, pieces_of(s.from, s.to, meters), stream_of(effort.seed, 0), limit, name, s);
        if (effort.dropped()) return {meters, sources};
        look_back();
        results.seconds = seconds();
        if (results.batches() >= fewest_batches)
            effort.has_reached_something();
        else if (!whole) {
            results.cut_short = true;  // stopped before any batch was whole
            break;
        }
        if (effort.show) effort.show(results);
        if (!whole || effort.stopped() || results.seconds > limit) {
            results.cut_short = effort.stopped() || effort.seconds <= 0;
            break;
        }
        for (std::size_t m = 0; m < meters; ++m) w.meters[m].unmet = unmet.in_a_pass(m, w.sharing(m));
        const auto needs = needs_of(w, s.tally);
        const double done = work_done(s.tally, meters), rate = done / results.seconds;
        const bool timed = effort.seconds > 0;
        const double left = std::max(0.0, limit - results.seconds) * rate;
        const Next next = timed ? sweep_for(w, s.tally, needs, effort.agreed(std::min(left, std::max(done, rate))))
                                : next_sweep(w, s.tally, needs, effort.relative_error);
        for (std::size_t i = 0; i < s.from.size(); ++i) s.from[i] = s.tally.passes(i / meters, i % meters);
        s.to = next.to;
        s.pieces_done = 0;
        if (effort.tell) effort.tell({done / (done + next.work), next.work / rate, results.reached});
        s.finished = next.to == s.from;
    }
    if (s.finished && results.batches() == 0) look_back();
    s.seconds = results.seconds = seconds();
    if (s.finished && !all_there && effort.checkpoints != nullptr &&
        results.seconds > effort.checkpoints->worth_keeping())
        save_checkpoint(name, s, effort);
    if (effort.tell) effort.tell({1, 0, results.reached});
    return results;
}

/// Walks a pass at each meter: fewer where a coarse answer will do, or the mean of many meters.
std::vector<std::uint32_t> walks_of(const std::vector<MeterPoint>& meters, const Wanted& wanted,
                                    double relative_error) {
    constexpr double usual = 0.01, fewest_in_all = 64, most_in_all = Work::most_walks * batches_in_all;
    std::vector<std::uint32_t> walks(meters.size(), 1);
    std::uint32_t flat = 1;
    for (const auto& group : wanted)
        for (const std::size_t m : group) {
            const double error =
                (relative_error > 0 ? relative_error : usual) * meters[m].times_the_error(relative_error);
            const double in_all = std::clamp(2.5 / (error * error), fewest_in_all, most_in_all);
            const double each = std::ceil(in_all / static_cast<double>(batches_in_all * group.size()));
            walks[m] = std::max(walks[m], static_cast<std::uint32_t>(each));
        }
    for (std::size_t m = 0; m < meters.size(); ++m)
        if (meters[m].kind != MeterKind::spot) flat = std::max(flat, walks[m]);
    // All look at the same light paths.
    for (std::size_t m = 0; m < meters.size(); ++m)
        if (meters[m].kind != MeterKind::spot) walks[m] = std::max(flat, 3U);
    return walks;
}

}  // namespace

MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort, Wanted wanted,
                     const LastSurfaces* last_surfaces) {
    wanted = or_each(std::move(wanted), meters.size());
    Work work{scene,  meters, wanted, last_surfaces, {}, walks_of(meters, wanted, effort.relative_error), {}, false,
              effort, {},     0};
    work.usual = sharing_for(scene, effort.seed, Work::light_paths_a_walk * Work::most_walks, Work::most_walks);
    return carry_out(work);
}

MeterResults measure(const Scene& scene, const std::vector<MeterPoint>& meters, const Effort& effort,
                     const Sharing& sharing, Wanted wanted, const LastSurfaces* last_surfaces) {
    wanted = or_each(std::move(wanted), meters.size());
    Work work{scene, meters, wanted, last_surfaces, {}, {}, sharing, true, effort, {}, 0};
    return carry_out(work);
}

}  // namespace rushlight
