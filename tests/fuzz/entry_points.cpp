#include "fuzz/entry_points.h"
#include "fuzz/must.h"

#include "rooms_as_text.h"
#include "setup/advice/check.h"
#include "setup/luminaire/luminaire.h"
#include "setup/model/rough_model.h"
#include "setup/picture/picture_cells.h"
#include "setup/read/setup_file.h"
#include "setup/text/code_points.h"

#include <stdlib.h>

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

/// Readers take paths, so bytes go through files of this process's own.
class Beside {
public:
    Beside() {
        std::string pattern = (std::filesystem::temp_directory_path() / "rushlight-fuzz-XXXXXX").string();
        folder_ = ::mkdtemp(pattern.data());
    }
    Beside(const Beside&) = delete;
    Beside& operator=(const Beside&) = delete;
    ~Beside() {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    std::string with(const std::string& name, const std::string& bytes) const {
        std::ofstream(folder_ / name, std::ios::binary) << bytes;
        return (folder_ / name).string();
    }
    std::string path(const std::string& name) const { return (folder_ / name).string(); }

private:
    std::filesystem::path folder_;
};

const Beside& beside() {
    static const Beside folder;
    return folder;
}

/// What a terminal obeys stays in nobody's remarks.
void must_be_plain(const std::vector<std::string>& remarks) {
    for (const std::string& r : remarks) must(one_line(r) && r == shown(r), "a remark is one line of letters");
}

void feed_model(const std::string& path) {
    feed([&] {
        RoughModelRequest request;
        request.path = path;
        request.is_room = true;
        const RoughModel model = read_rough_model(request);
        for (const Triangles::Face& f : model.triangles.faces) {
            for (const std::uint32_t c : f.corner) must(c < model.triangles.positions.size(), "corners are points");
            must(f.finish < model.triangles.finishes.size(), "every face has a finish");
        }
        must_be_plain(model.remarks);
        // A material may have no name.
        for (const std::string& name : model.material_names) must(name == shown(name), "a name is letters");
    });
}

}  // namespace

void feed_rough_model(const std::string& bytes) {
    feed_model(beside().with("fuzz.obj", bytes));
}

void feed_gltf(const std::string& bytes) {
    feed_model(beside().with("fuzz.gltf", bytes));
}

void feed_materials(const std::string& bytes) {
    beside().with("paint.mtl", bytes);
    feed_model(beside().with("painted.obj", "mtllib paint.mtl\nusemtl paint\nv 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n"));
}

void feed_kit(const std::string& bytes) {
    beside().with("kit.toml", bytes);
    feed([&] {
        const SetupFile file =
            SetupFile::from_text("kit = \"kit.toml\"\n" + testing_rooms::room("4", "4", "3"), beside().path("f.toml"));
        for (const KitItem* item : file.kit().items())
            must(!item->name.empty() && item->name == shown(item->name), "an item has a name that can be read");
    });
}

void feed_picture(const std::string& bytes) {
    const std::string path = beside().with("picture.tif", bytes);
    feed([&] {
        const PictureCells cells = read_picture_cells(path);
        const auto count = static_cast<std::size_t>(cells.across) * static_cast<std::size_t>(cells.down);
        must(cells.across > 0 && cells.across <= PictureCells::most_across, "a picture has cells across");
        must(cells.down > 0 && cells.down <= PictureCells::most_across, "a picture has cells down");
        must(cells.colour.size() == count && cells.clear.size() == count, "a picture has all its cells");
        for (const auto& colour : cells.colour)
            for (const float share : colour) must(std::isfinite(share) && share >= 0, "a colour is a number");
    });
}

}  // namespace rushlight::fuzz
