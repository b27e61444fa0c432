// Many points at once: the pixels of a frame, the points of a light map. Work goes in passes, one walk a
// point each; a whole picture is there after the first, and every later one halves its noise by the square law.
#pragma once

#include "paths/walk/camera_paths.h"
#include "paths/work/effort.h"
#include "quantity/packed.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace rushlight {

struct Field {
    std::size_t points = 0, sources = 0;
    std::vector<std::vector<Spectrum>> layers;  // [source][point], mean; empty if they were not asked for
    std::vector<Vec3> soft;                     // X, Y, Z of the light split off; kept with the layers
    std::vector<std::vector<Vec3>> bounced;     // the same, [source][point]
    std::vector<float> mean;                    // photometric, all sources
    std::vector<float> error;                   // one standard error of it; infinite after one pass
    std::vector<std::vector<float>> own_error;  // [source][point] of each source alone; kept with the layers
    std::uint32_t passes = 0;
    double noise = 0;  // mean over the points of error / (mean + 2 % of the field's mean)
    double seconds = 0;
    bool cut_short = false;
};

/// The field as if every source's light passed `share`, band by band; it must hold its layers. Errors: each source's
/// own, with the correlation between sources at that point taken to be one and the same for every pair.
Field relit(Field field, std::span<const Spectrum> share);
/// Sets field.noise from its means and errors.
void reckon_noise(Field& field);

void pack(const Field& field, Packer& to);
/// Returns nothing where the bytes are no field.
std::optional<Field> unpack_field(Unpacker& from);

/// Traces one walk for a point and adds to `layers`, one a source; `split` gets the parts that are kept apart.
using CollectAtPoint = std::function<void(std::size_t point, const LightPaths& pool, const Sharing& sharing,
                                          Sampler& sampler, std::span<Spectrum> layers, SplitLight& split)>;

/// `where` is a fingerprint of where the points lie; without one no checkpoint is saved.
Field trace_field(const Scene& scene, std::size_t points, bool keep_layers, const CollectAtPoint& collect,
                  const Effort& effort, const std::string& where = "");
/// With the work shared as told: for tests and benchmarks.
Field trace_field(const Scene& scene, std::size_t points, bool keep_layers, const CollectAtPoint& collect,
                  const Effort& effort, const Sharing& sharing, const std::string& where = "");

/// Bytes a field will take, known before it is traced.
std::uint64_t field_bytes(std::size_t points, std::size_t sources, bool keep_layers);

}  // namespace rushlight
