#include "paths/field.h"

#include "paths/measure.h"
#include "paths/workers.h"
#include "quantity/colour.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr std::uint32_t light_paths_a_pass = 2048;
constexpr std::size_t points_a_piece = 1024;

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

void finish(Field& field, const std::vector<PointSums>& sums) {
    const auto n = static_cast<double>(field.passes);
    for (std::size_t p = 0; p < field.points; ++p) {
        field.mean[p] = static_cast<float>(sums[p].sum / n + static_cast<double>(sums[p].first));
        field.error[p] = static_cast<float>(error_of(sums[p], n));
    }
    reckon_noise(field);
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

    const std::size_t pieces = (points + points_a_piece - 1) / points_a_piece;
    const double limit = effort.seconds > 0 ? effort.seconds : effort.most_seconds;
    while (true) {
        const std::uint32_t pass = field.passes;
        const LightPaths pool = trace_pool(scene, effort, key_of(key_of(effort.seed, 0x706F6F6CU), pass), sharing);
        for_each_piece(effort, pieces, [&](std::size_t piece) {
            std::vector<Spectrum> layers(field.sources);
            std::vector<Spectrum> bounced(keep_layers ? field.sources : 0);
            const std::size_t end = std::min(points, (piece + 1) * points_a_piece);
            for (std::size_t p = piece * points_a_piece; p < end; ++p) {
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
        field.seconds = clock.seconds();
        const double a_pass = field.seconds / field.passes;
        double goal = limit / a_pass;
        if (field.passes >= 4 && effort.seconds <= 0) {
            finish(field, sums);
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
    finish(field, sums);
    for_each_piece(effort, field.layers.size(), [&](std::size_t source) {
        for (std::size_t p = 0; p < points; ++p) {
            field.layers[source][p] *= 1.0F / static_cast<float>(field.passes);
            field.bounced[source][p] /= static_cast<float>(field.passes);
            field.own_error[source][p] =
                static_cast<float>(error_of(own_sums[p * field.sources + source], field.passes));
        }
    });
    for (Vec3& v : field.soft) v /= static_cast<float>(field.passes);
    field.seconds = clock.seconds();
    return field;
}

}  // namespace rushlight
