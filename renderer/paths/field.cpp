#include "paths/field.h"

#include "paths/measure.h"
#include "paths/work/workers.h"
#include "quantity/colour.h"
#include "quantity/content.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace rushlight {

namespace {

constexpr std::uint32_t light_paths_a_pass = 2048;
constexpr std::size_t points_a_piece = 1024;
// Apart from the streams of points, which are numbered from 0.
constexpr std::uint32_t light_path_stream = 0x706F6F6CU;

/// Points that are one piece of work.
struct Points {
    std::size_t begin, end;
};
std::size_t pieces_of(std::size_t points) {
    return (points + points_a_piece - 1) / points_a_piece;
}
Points points_of(std::size_t piece, std::size_t points) {
    return {piece * points_a_piece, std::min(points, (piece + 1) * points_a_piece)};
}
template <class T>
std::span<T> part(std::vector<T>& all, Points of) {
    return std::span(all).subspan(of.begin, of.end - of.begin);
}

/// Light paths of a pass, traced in pieces and joined in order.
LightPaths trace_pool(const Scene& scene, const Effort& effort, std::uint64_t stream, const Sharing& sharing) {
    LightPaths pool;
    if (sharing.light_paths == 0) return pool;
    constexpr std::uint32_t a_piece = 256;
    const std::uint32_t pieces = (sharing.light_paths + a_piece - 1) / a_piece;
    std::vector<LightPaths> parts(pieces);
    for_each_piece(effort, pieces, [&](std::size_t i) {
        const auto first = static_cast<std::uint32_t>(i) * a_piece;
        parts[i] = trace_light_paths(scene, stream, first, std::min(a_piece, sharing.light_paths - first),
                                     sharing.connection_samples);
    });
    for (LightPaths& p : parts) {
        pool.paths += p.paths;
        pool.vertices.insert(pool.vertices.end(), p.vertices.begin(), p.vertices.end());
        pool.layers.insert(pool.layers.end(), p.layers.begin(), p.layers.end());
    }
    return pool;
}

Vec3 as_vector(const Tristimulus& t) {
    return {static_cast<float>(t.x), static_cast<float>(t.y), static_cast<float>(t.z)};
}

/// Sums of one point over the passes; the squares are taken about the first pass, so that they do not cancel.
struct PointSums {
    float first = 0;
    double sum = 0, squares = 0;
};

/// The sums of every point; where layers are kept, also those of each source alone, [source][point].
struct FieldSums {
    std::vector<PointSums> all;
    std::vector<std::vector<PointSums>> of_source;
    /// Of every piece: 1 where it has a pass more than the field, as the last one was given up before it was through.
    std::vector<std::uint8_t> ahead = {};
    double passes(const Field& field, std::size_t point) const {
        return field.passes + (ahead.empty() ? 0.0 : ahead[point / points_a_piece]);
    }
};

double error_of(const PointSums& s, double n) {
    const double mean = s.sum / n;
    const double variance = n > 1 ? std::max(0.0, (s.squares - n * mean * mean) / (n - 1)) : INFINITY;
    return std::sqrt(variance / n);
}

void add_to(PointSums& s, float here, bool first_pass) {
    if (first_pass) s.first = here;
    const double off = static_cast<double>(here) - static_cast<double>(s.first);
    s.sum += off;
    s.squares += off * off;
}

/// The sum of `of` over all points: by pieces, so that machines need not tell each other of every point.
double sum_over_points(std::size_t points, const Effort& effort, const std::function<double(std::size_t point)>& of) {
    std::vector<double> sums(pieces_of(points));
    for_each_piece_together(
        effort, sums.size(),
        [&](std::size_t piece) {
            const Points own = points_of(piece, points);
            for (std::size_t p = own.begin; p < own.end; ++p) sums[piece] += of(p);
        },
        [&](std::size_t piece, Packer& to) { to.put(sums[piece]); },
        [&](std::size_t piece, Unpacker& from) { sums[piece] = from.get<double>(); });
    return std::accumulate(sums.begin(), sums.end(), 0.0);
}

double noise_of(const Field& field, const Effort& effort) {
    const auto points = static_cast<double>(field.points);
    const auto mean = [&](std::size_t p) { return static_cast<double>(field.mean[p]); };
    const double floor = 0.02 * sum_over_points(field.points, effort, mean) / points;
    if (!(floor > 0)) return 0;
    return sum_over_points(field.points, effort,
                           [&](std::size_t p) { return static_cast<double>(field.error[p]) / (mean(p) + floor); }) /
           points;
}

/// Means and errors of this machine's points, and the noise of all.
void finish(Field& field, const FieldSums& sums, const Effort& effort) {
    for_each_own_piece(effort, pieces_of(field.points), [&](std::size_t piece) {
        const Points points = points_of(piece, field.points);
        const double n = sums.passes(field, points.begin);
        for (std::size_t p = points.begin; p < points.end; ++p) {
            field.mean[p] = static_cast<float>(sums.all[p].sum / n + static_cast<double>(sums.all[p].first));
            field.error[p] = static_cast<float>(error_of(sums.all[p], n));
        }
    });
    field.noise = effort.agreed(noise_of(field, effort));
}

/// Does `work` on the points of every piece. Afterwards all machines hold the arrays of those points that `each_array`
/// names.
template <class Work, class EachArray>
void do_and_gather(std::size_t points, const Effort& effort, const Work& work, const EachArray& each_array) {
    for_each_piece_together(
        effort, pieces_of(points), [&](std::size_t piece) { work(points_of(piece, points)); },
        [&](std::size_t piece, Packer& to) {
            each_array(points_of(piece, points), [&](auto array) { to.put_all(array); });
        },
        [&](std::size_t piece, Unpacker& from) {
            each_array(points_of(piece, points), [&](auto array) { from.fill(array); });
        });
}

constexpr auto no_work = [](Points) {};

/// Gives every machine what each of them finished.
void gather(Field& field, const Effort& effort) {
    do_and_gather(field.points, effort, no_work, [&](Points points, const auto& act) {
        act(part(field.mean, points));
        act(part(field.error, points));
    });
}

/// Finishes and gathers the layers one source after the other: all at once would take as much memory again.
void finish_layers(Field& field, const FieldSums& sums, const Effort& effort) {
    for (std::size_t source = 0; source < field.sources; ++source) {
        std::vector<Spectrum>& layer = field.layers[source];
        std::vector<Vec3>& bounced = field.bounced[source];
        std::vector<float>& own_error = field.own_error[source];
        do_and_gather(
            field.points, effort,
            [&](Points points) {
                const auto passes = static_cast<float>(sums.passes(field, points.begin));
                for (std::size_t p = points.begin; p < points.end; ++p) {
                    layer[p] *= 1.0F / passes;
                    bounced[p] /= passes;
                    own_error[p] = static_cast<float>(error_of(sums.of_source[source][p], sums.passes(field, p)));
                    if (source == 0) field.soft[p] /= passes;
                }
            },
            [&](Points points, const auto& act) {
                act(part(layer, points));
                act(part(bounced, points));
                act(part(own_error, points));
                if (source == 0) act(part(field.soft, points));
            });
    }
}

/// Calls `act` with every array that holds sums of this piece: the source's own and, with the first source, those of
/// the whole light.
template <class Act>
void each_sum(Field& field, FieldSums& sums, std::size_t source, Points points, const Act& act) {
    if (source == 0) {
        act(part(sums.all, points));
        if (!field.soft.empty()) act(part(field.soft, points));
    }
    if (field.layers.empty()) return;
    act(part(field.layers[source], points));
    act(part(field.bounced[source], points));
    act(part(sums.of_source[source], points));
}

/// Saves what there is after some passes, so that another run can go on from it. First every machine tells the others
/// of its own points.
void save_checkpoint(const std::string& work, Field& field, FieldSums& sums, const Effort& effort) {
    if (field_bytes(field.points, field.sources, !field.layers.empty()) > effort.checkpoints->largest()) return;
    Packer all;
    all.put(field.passes);
    all.put(field.seconds);
    for (std::size_t source = 0; source < (field.layers.empty() ? 1 : field.sources); ++source) {
        do_and_gather(field.points, effort, no_work,
                      [&](Points points, const auto& act) { each_sum(field, sums, source, points, act); });
        each_sum(field, sums, source, {0, field.points}, [&](auto sum) { all.put_all(sum); });
    }
    effort.checkpoints->keep(work, all.bytes);
}

/// Goes on from a saved checkpoint. One that is damaged, or of another size, counts as none.
void load_checkpoint(const std::string& work, Field& field, FieldSums& sums, const Effort& effort) {
    const auto bytes = effort.checkpoints->find(work);
    if (!bytes) return;
    Unpacker from(*bytes);
    const auto passes = from.get<std::uint32_t>();
    const auto seconds = from.get<double>();
    std::size_t expected = 0;
    const std::size_t sources = field.layers.empty() ? 1 : field.sources;
    const auto everywhere = [&](const auto& act) {
        for (std::size_t source = 0; source < sources; ++source) each_sum(field, sums, source, {0, field.points}, act);
    };
    everywhere([&](auto sum) { expected += sum.size_bytes(); });
    if (!from.sound() || from.left() != expected || passes == 0) return;
    everywhere([&](auto sum) { from.fill(sum); });
    field.passes = passes;
    field.seconds = seconds;
}

/// Fingerprint of the work.
std::string work_fingerprint(const Scene& scene, std::size_t points, bool keep_layers, const Effort& effort,
                             const std::string& where) {
    return (Content() << "field" << scene.fingerprint() << points << where << keep_layers << effort.relative_error
                      << effort.seconds << effort.seed)
        .fingerprint();
}

}  // namespace

void reckon_noise(Field& field) {
    field.noise = noise_of(field, Effort{});
}

std::uint64_t field_bytes(std::size_t points, std::size_t sources, bool keep_layers) {
    const std::uint64_t layers =
        keep_layers ? sources * (sizeof(Spectrum) + sizeof(Vec3) + sizeof(float) + sizeof(PointSums)) + sizeof(Vec3)
                    : 0;
    return points * (layers + sizeof(PointSums) + 2 * sizeof(float));
}

Field trace_field(const Scene& scene, std::size_t points, bool keep_layers, const CollectAtPoint& collect,
                  const Effort& effort, const std::string& where) {
    return trace_field(scene, points, keep_layers, collect, effort,
                       sharing_for(scene, effort.seed, light_paths_a_pass, 1).for_fields(), where);
}

Field trace_field(const Scene& scene, std::size_t points, bool keep_layers, const CollectAtPoint& collect,
                  const Effort& effort, const Sharing& sharing, const std::string& where) {
    const Clock clock;
    Field field;
    field.points = points;
    field.sources = scene.lights.layers();
    field.mean.resize(points);
    field.error.resize(points, INFINITY);
    if (keep_layers) {
        field.layers.resize(field.sources);
        // This is so much memory that one thread alone would take long to fill it.
        for_each_piece(effort, field.sources, [&](std::size_t source) { field.layers[source].resize(points); });
        field.soft.assign(points, Vec3(0, 0, 0));
        field.bounced.assign(field.sources, std::vector<Vec3>(points, Vec3(0, 0, 0)));
        field.own_error.assign(field.sources, std::vector<float>(points, INFINITY));
    }
    FieldSums sums{std::vector<PointSums>(points), {}, {}};
    if (keep_layers) sums.of_source.assign(field.sources, std::vector<PointSums>(points));
    if (field.sources == 0 || points == 0) return field;

    const bool fingerprinted = effort.team != nullptr || effort.checkpoints != nullptr;
    const std::string work = fingerprinted ? work_fingerprint(scene, points, keep_layers, effort, where) : "";
    if (effort.team != nullptr) effort.team->expect_alike(work, other_work);
    const bool may_save = effort.checkpoints != nullptr && !where.empty();
    if (may_save) load_checkpoint(work, field, sums, effort);
    const double before = field.seconds;
    const double limit = effort.until         ? before + effort.limit()
                         : effort.seconds > 0 ? effort.seconds
                                              : effort.most_seconds;
    // A pass so long that nobody would wait for its end is given up in the middle, by a machine alone.
    constexpr double long_pass = 0.5;  // s
    double a_pass = 0;
    while (true) {
        const std::uint32_t pass = field.passes;
        const bool may_be_given_up = effort.team == nullptr && pass > 0 && a_pass > long_pass;
        const auto given_up = [&] {
            return may_be_given_up && (effort.asked_to_stop() || before + clock.seconds() >= limit);
        };
        std::vector<std::uint8_t> done(may_be_given_up ? pieces_of(points) : 0);
        const LightPaths pool =
            trace_pool(scene, effort, stream_of(stream_of(effort.seed, light_path_stream), pass), sharing);
        for_each_own_piece(effort, pieces_of(points), [&](std::size_t piece) {
            if (given_up()) return;
            if (may_be_given_up) done[piece] = 1;
            std::vector<Spectrum> layers(field.sources);
            std::vector<Spectrum> bounced(keep_layers ? field.sources : 0);
            const Points own = points_of(piece, points);
            for (std::size_t p = own.begin; p < own.end; ++p) {
                std::fill(layers.begin(), layers.end(), Spectrum{});
                Sampler sampler(stream_of(effort.seed, p), pass);
                std::fill(bounced.begin(), bounced.end(), Spectrum{});
                SplitLight split{Spectrum{}, bounced};
                collect(p, pool, sharing, sampler, layers, split);
                if (keep_layers) field.soft[p] += as_vector(tristimulus(split.soft));
                float here = 0;
                for (std::size_t s = 0; s < field.sources; ++s) {
                    const float brings = photometric(layers[s]);
                    here += brings;
                    if (!keep_layers) continue;
                    add_to(sums.of_source[s][p], brings, pass == 0);
                    if (brings == 0) continue;
                    field.layers[s][p] += layers[s];
                    field.bounced[s][p] += as_vector(tristimulus(bounced[s]));
                }
                add_to(sums.all[p], here, pass == 0);
            }
        });
        if (effort.dropped()) return Field{};
        if (std::count(done.begin(), done.end(), 0) > 0) {
            sums.ahead = std::move(done);
            field.cut_short = effort.stopped() || effort.seconds <= 0;
            break;
        }
        ++field.passes;
        effort.has_reached_something();
        field.seconds = before + effort.agreed(clock.seconds());
        a_pass = field.seconds / field.passes;
        double goal = limit / a_pass;
        if (field.passes >= 4 && effort.seconds <= 0) {
            finish(field, sums, effort);
            if (field.noise <= effort.relative_error) break;
            const double ratio = field.noise / effort.relative_error;
            goal = std::min(goal, field.passes * ratio * ratio);
        }
        if (effort.tell)
            effort.tell(
                {std::min(1.0, field.passes / goal), std::max(0.0, (goal - field.passes) * a_pass), field.noise});
        if (may_save && (effort.stopped() || effort.agreed(effort.checkpoints->due())))
            save_checkpoint(work, field, sums, effort);
        if (effort.stopped()) {
            field.cut_short = true;
            break;
        }
        if (effort.team == nullptr && effort.until
                ? field.seconds >= limit || (a_pass <= long_pass && field.seconds + 0.5 * a_pass >= limit)
                : field.seconds + 0.5 * a_pass >= limit) {
            field.cut_short = effort.seconds <= 0;
            break;
        }
    }
    finish(field, sums, effort);
    gather(field, effort);
    if (keep_layers) finish_layers(field, sums, effort);
    field.seconds = before + clock.seconds();
    return field;
}

}  // namespace rushlight
