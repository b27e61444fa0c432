#include "paths/field.h"

#include "paths/measure.h"
#include "paths/workers.h"
#include "quantity/colour.h"
#include "quantity/content.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr std::uint32_t light_paths_a_pass = 2048;
constexpr std::size_t points_a_piece = 1024;

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
LightPaths trace_pool(const Scene& scene, const Effort& effort, std::uint64_t key, const Sharing& sharing) {
    LightPaths pool;
    if (sharing.light_paths == 0) return pool;
    constexpr std::uint32_t a_piece = 256;
    const std::uint32_t pieces = (sharing.light_paths + a_piece - 1) / a_piece;
    std::vector<LightPaths> parts(pieces);
    for_each_piece(effort, pieces, [&](std::size_t i) {
        const auto first = static_cast<std::uint32_t>(i) * a_piece;
        parts[i] =
            trace_light_paths(scene, key, first, std::min(a_piece, sharing.light_paths - first), sharing.join_samples);
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

/// Means and errors of all points, on all machines: each knows the sums of its own.
void finish(Field& field, const std::vector<PointSums>& sums, const Effort& effort) {
    const auto n = static_cast<double>(field.passes);
    for_each_piece_together(
        effort, pieces_of(field.points),
        [&](std::size_t piece) {
            const Points points = points_of(piece, field.points);
            for (std::size_t p = points.begin; p < points.end; ++p) {
                field.mean[p] = static_cast<float>(sums[p].sum / n + static_cast<double>(sums[p].first));
                field.error[p] = static_cast<float>(error_of(sums[p], n));
            }
        },
        [&](std::size_t piece, Packer& to) {
            const Points points = points_of(piece, field.points);
            to.put_all(part(field.mean, points));
            to.put_all(part(field.error, points));
        },
        [&](std::size_t piece, Unpacker& from) {
            const Points points = points_of(piece, field.points);
            from.fill(part(field.mean, points));
            from.fill(part(field.error, points));
        });
    reckon_noise(field);
    field.noise = effort.agreed(field.noise);
}

/// The same of the layers, one source after the other: all at once would take as much memory again.
void finish_layers(Field& field, const std::vector<PointSums>& own_sums, const Effort& effort) {
    const auto passes = static_cast<float>(field.passes);
    for (std::size_t source = 0; source < field.sources; ++source) {
        std::vector<Spectrum>& layer = field.layers[source];
        std::vector<Vec3>& bounced = field.bounced[source];
        std::vector<float>& own_error = field.own_error[source];
        for_each_piece_together(
            effort, pieces_of(field.points),
            [&](std::size_t piece) {
                const Points points = points_of(piece, field.points);
                for (std::size_t p = points.begin; p < points.end; ++p) {
                    layer[p] *= 1.0F / passes;
                    bounced[p] /= passes;
                    own_error[p] = static_cast<float>(error_of(own_sums[p * field.sources + source], field.passes));
                    if (source == 0) field.soft[p] /= passes;
                }
            },
            [&](std::size_t piece, Packer& to) {
                const Points points = points_of(piece, field.points);
                to.put_all(part(layer, points));
                to.put_all(part(bounced, points));
                to.put_all(part(own_error, points));
                if (source == 0) to.put_all(part(field.soft, points));
            },
            [&](std::size_t piece, Unpacker& from) {
                const Points points = points_of(piece, field.points);
                from.fill(part(layer, points));
                from.fill(part(bounced, points));
                from.fill(part(own_error, points));
                if (source == 0) from.fill(part(field.soft, points));
            });
    }
}

/// Fingerprint of the work, but for where the points lie.
std::string work_key(const Scene& scene, std::size_t points, bool keep_layers, const Effort& effort) {
    return (Content() << "field" << scene.key() << points << keep_layers << effort.relative_error << effort.seconds
                      << effort.seed)
        .key();
}

}  // namespace

std::uint64_t field_bytes(std::size_t points, std::size_t sources, bool keep_layers) {
    const std::uint64_t layers =
        keep_layers ? sources * (sizeof(Spectrum) + sizeof(Vec3) + sizeof(float) + sizeof(PointSums)) + sizeof(Vec3)
                    : 0;
    return points * (layers + sizeof(PointSums) + 2 * sizeof(float));
}

Field trace_field(const Scene& scene, std::size_t points, bool keep_layers, const CollectAtPoint& collect,
                  const Effort& effort) {
    return trace_field(scene, points, keep_layers, collect, effort,
                       sharing_for(scene, effort.seed, light_paths_a_pass, 1).for_fields());
}

Field trace_field(const Scene& scene, std::size_t points, bool keep_layers, const CollectAtPoint& collect,
                  const Effort& effort, const Sharing& sharing) {
    const Clock clock;
    Field field;
    field.points = points;
    field.sources = scene.lights.count();
    field.mean.resize(points);
    field.error.resize(points, INFINITY);
    if (keep_layers) {
        field.layers.resize(field.sources);
        // So much memory that one thread alone would be waited for.
        for_each_piece(effort, field.sources, [&](std::size_t source) { field.layers[source].resize(points); });
        field.soft.assign(points, Vec3(0, 0, 0));
        field.bounced.assign(field.sources, std::vector<Vec3>(points, Vec3(0, 0, 0)));
        field.own_error.assign(field.sources, std::vector<float>(points, INFINITY));
    }
    std::vector<PointSums> sums(points);
    std::vector<PointSums> own_sums(keep_layers ? points * field.sources : 0);
    if (field.sources == 0 || points == 0) return field;

    if (effort.team != nullptr) effort.team->expect_alike(work_key(scene, points, keep_layers, effort), other_work);
    const double limit = effort.seconds > 0 ? effort.seconds : effort.most_seconds;
    while (true) {
        const std::uint32_t pass = field.passes;
        const LightPaths pool = trace_pool(scene, effort, key_of(key_of(effort.seed, 0x706F6F6CU), pass), sharing);
        for_each_own_piece(effort, pieces_of(points), [&](std::size_t piece) {
            std::vector<Spectrum> layers(field.sources);
            std::vector<Spectrum> bounced(keep_layers ? field.sources : 0);
            const Points own = points_of(piece, points);
            for (std::size_t p = own.begin; p < own.end; ++p) {
                std::fill(layers.begin(), layers.end(), Spectrum{});
                Sampler sampler(key_of(effort.seed, p), pass);
                std::fill(bounced.begin(), bounced.end(), Spectrum{});
                LightApart apart{Spectrum{}, bounced};
                collect(p, pool, sharing, sampler, layers, apart);
                if (keep_layers) field.soft[p] += as_vector(tristimulus(apart.soft));
                float here = 0;
                for (std::size_t s = 0; s < field.sources; ++s) {
                    const float brings = photometric(layers[s]);
                    here += brings;
                    if (!keep_layers) continue;
                    add_to(own_sums[p * field.sources + s], brings, pass == 0);
                    if (brings == 0) continue;
                    field.layers[s][p] += layers[s];
                    field.bounced[s][p] += as_vector(tristimulus(bounced[s]));
                }
                add_to(sums[p], here, pass == 0);
            }
        });
        if (effort.dropped()) return Field{};
        ++field.passes;
        field.seconds = effort.agreed(clock.seconds());
        const double a_pass = field.seconds / field.passes;
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
        if (effort.stopped()) {
            field.cut_short = true;
            break;
        }
        if (field.seconds + 0.5 * a_pass >= limit) {
            field.cut_short = effort.seconds <= 0;
            break;
        }
    }
    finish(field, sums, effort);
    if (keep_layers) finish_layers(field, own_sums, effort);
    field.seconds = clock.seconds();
    return field;
}

}  // namespace rushlight
