#include "fuzz/entry_points.h"
#include "fuzz/must.h"

#include "setup/advice/check.h"
#include "setup/luminaire/luminaire.h"
#include "setup/model/rough_model.h"
#include "setup/read/setup_file.h"

#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>

namespace rushlight::fuzz {

namespace {

/// What every luminaire that is read at all must keep.
void feed_luminaire(const std::string& bytes, const char* name) {
    feed([&] {
        const Luminaire l = luminaire_from_text(bytes, name);
        must(std::isfinite(l.lumens) && l.lumens > 0, "a luminaire gives light");
        must(std::isfinite(l.intensity.peak()) && l.intensity.peak() > 0, "a luminaire has a peak");
        must(l.lumens <= 4 * 3.1416 * l.intensity.peak(), "no more light than the peak all round");
        const Vec3 middle = l.intensity.peak_direction();
        for (const Vec3& d :
             {middle, -middle, Vec3(0, 0, 1), Vec3(1, 0, 0), Vec3(0, -1, 0), Vec3(0.6F, -0.48F, -0.64F)})
            must(l.intensity.candela(d) >= 0 && l.intensity.candela(d) <= 1.001F * l.intensity.peak(),
                 "no direction is brighter than the peak");
        for (const Luminaire::Width& w : {l.beam, l.field})
            must(w.along >= 0 && w.along <= 360 && w.across >= 0 && w.across <= 360, "widths are angles");
        must(l.beam.along <= l.field.along && l.beam.across <= l.field.across, "the beam lies within the field");
        for (const double size : {l.opening.length, l.opening.width, l.opening.depth})
            must(size >= 0 && size <= 20, "openings are of a size");
        for (const double tilt : {0.0, 37.0, 180.0})
            must(l.tilt_share(tilt) >= 0 && l.tilt_share(tilt) <= 100, "tilt shares are shares");
        for (const std::string& r : l.remarks) must(r.find('\n') == std::string::npos, "a remark is one line");
    });
}

}  // namespace

void feed_lm63(const std::string& bytes) {
    feed_luminaire(bytes, "fuzz.ies");
}

void feed_eulumdat(const std::string& bytes) {
    feed_luminaire(bytes, "fuzz.ldt");
}

void feed_setup_file(const std::string& bytes) {
    feed([&] {
        const SetupFile file = SetupFile::from_text(bytes, "fuzz.toml");
        careful_remarks(file.setup());
    });
}

namespace {

/// The reader takes a path, so the bytes go through a file of this process's own.
void feed_model(const std::string& bytes, const char* ending) {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("rushlight-fuzz-" + std::to_string(getpid()) + ending);
    std::ofstream(path, std::ios::binary) << bytes;
    feed([&] {
        RoughModelRequest request;
        request.path = path.string();
        request.is_room = true;
        const RoughModel model = read_rough_model(request);
        for (const Triangles::Face& f : model.triangles.faces)
            for (const std::uint32_t c : f.corner) must(c < model.triangles.positions.size(), "corners are points");
        for (const std::string& r : model.remarks) must(r.find('\n') == std::string::npos, "a remark is one line");
    });
    std::filesystem::remove(path);
}

}  // namespace

void feed_rough_model(const std::string& bytes) {
    feed_model(bytes, ".obj");
}

void feed_gltf(const std::string& bytes) {
    feed_model(bytes, ".gltf");
}

}  // namespace rushlight::fuzz
