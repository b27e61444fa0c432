#include "setup/read/rough_models.h"

#include "quantity/content.h"
#include "quantity/kept.h"
#include "setup/model/gltf.h"
#include "setup/plain/content.h"
#include "setup/read/readers.h"
#include "setup/text/typed_values.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cstdint>
#include <filesystem>

namespace rushlight {

namespace {

// Of all models and pictures that a set-up file names, each as often as it is read.
constexpr std::size_t most_model_bytes = 1'000'000'000, most_finishes = 100'000;

std::uintptr_t address_of(const void* node) {
    return reinterpret_cast<std::uintptr_t>(node);
}

/// Changes when one of these files does.
std::string stamp_of(const std::vector<std::filesystem::path>& files) {
    Content content;
    for (const auto& file : files) {
        std::error_code none;
        content << file.string() << std::filesystem::file_size(file, none)
                << std::filesystem::last_write_time(file, none).time_since_epoch().count();
    }
    return content.fingerprint();
}

/// A glTF file may have others beside it, by any name.
std::vector<std::filesystem::path> files_of_model(const std::string& path) {
    std::vector<std::filesystem::path> files{path};
    if (!is_gltf(path)) return files;
    std::error_code none;
    const auto folder = std::filesystem::path(path).parent_path();
    for (const auto& beside : std::filesystem::directory_iterator(folder.empty() ? "." : folder, none))
        if (beside.is_regular_file(none)) files.push_back(beside.path());
    std::sort(files.begin() + 1, files.end());
    return files;
}

std::string fingerprint_of(const RoughModelRequest& r) {
    Content content;
    content << r.path << stamp_of(files_of_model(r.path)) << r.up << r.metres_per_unit << r.move << r.turn << r.is_room;
    add_content(content, r.otherwise);
    content << r.finish_of.size() << r.opening_of.size();
    for (const auto& [material, finish] : r.finish_of) add_content(content << material, finish);
    for (const auto& [material, opening] : r.opening_of) add_content(content << material, opening);
    return content.fingerprint();
}

}  // namespace

void RoughModels::count(const Triangles& t, const LayeredTable& table, std::string_view key) {
    triangles_ += t.faces.size();
    finishes_ += t.finishes.size();
    if (triangles_ > most_triangles)
        table.refuse(key, "takes models and pictures past " + std::to_string(most_triangles) + " triangles in all");
    if (finishes_ > most_finishes)
        table.refuse(key, "takes models and pictures past " + std::to_string(most_finishes) + " materials in all");
}

std::shared_ptr<const Triangles> RoughModels::picture(const LayeredTable& table, const Vec3& foot,
                                                      const Vec3& seen_from) {
    const std::string path = table.file("picture");
    if (!table.has("width")) throw InputError(table.where(), table.title() + " needs 'width'");
    PictureHanging hanging;
    hanging.name = table.text("name");
    hanging.width = table.length("width");
    hanging.turn = table.number("turn");
    hanging.reflectance = table.number("reflectance");
    hanging.seen_from = seen_from;
    Content content;
    content << path << hanging.name << hanging.width << hanging.turn << hanging.reflectance << foot << seen_from;
    const std::string fingerprint = content.fingerprint();
    if (const auto known = hung_.find(fingerprint); known != hung_.end()) return known->second;

    static WhileHeld<PictureCells> cells_of;
    static WhileHeld<Triangles> held;
    auto& cells = pictures_[path];
    const std::string stamp = stamp_of({path});
    if (!cells) cells = cells_of.get(path + stamp, [&] { return read_picture_cells(path, table.context().patience); });
    hanging.middle = foot + Vec3(0, 0, static_cast<float>(height_of(*cells, hanging.width) / 2));
    auto hung = held.get(fingerprint + stamp, [&] { return hung_picture(*cells, hanging); });
    if (hung->faces.empty()) table.refuse("picture", "is transparent all over; expected something to see");
    count(*hung, table, "picture");
    return hung_.emplace(fingerprint, std::move(hung)).first->second;
}

std::shared_ptr<const RoughModel> RoughModels::read(const LayeredTable& table, std::string_view file_key,
                                                    std::string_view otherwise_key, const Vec3& move,
                                                    bool openings_allowed) {
    const FileContext& context = table.context();
    RoughModelRequest request;
    request.path = table.file(file_key);
    request.up = !table.has("up") && is_gltf(request.path) ? "y" : table.word("up");  // as ISO/IEC 12113 has it
    request.metres_per_unit = length_from("1 " + table.word("unit")).value();
    request.move = move;
    request.turn = table.number("turn");
    request.is_room = openings_allowed;
    request.patience = context.patience;
    const auto surfaces = table.free_table("surfaces");

    // Every set-up in every option asks. Nodes stay where they are as long as the set-up file is held, so their
    // addresses tell finishes apart without reading them again, or the model's file.
    Content here;
    here << request.path << request.up << request.metres_per_unit << move << request.turn << request.is_room
         << address_of(table.find(otherwise_key));
    for (const auto& [material, node] : surfaces) here << material << address_of(node);
    if (const auto known = models_.find(here.fingerprint()); known != models_.end()) return known->second;

    for (const auto& [material, node] : surfaces) {
        const std::string title = table.title() + " surfaces " + in_quotes(material);
        const auto* t = node->as_table();
        if (!t || !t->get("opening")) {
            request.finish_of[material] = finish_from(context, title, *node);
            continue;
        }
        const LayeredTable opening(context, "opening surface", title, {t});
        if (!opening.yes("opening")) opening.refuse("opening", "is false; expected true, or a finish instead");
        if (!openings_allowed) opening.refuse("opening", "is for the room only; furniture has no holes to the sky");
        OpeningPatch patch;
        patch.name = material;
        const Glass glass = glass_in(opening);
        patch.glass = glass.transmittance;
        patch.glazed = glass.glazed;
        patch.bars = opening.number("bars");
        patch.nd_density = opening.number("nd");
        patch.curtain = curtain_in(opening);
        request.opening_of[material] = patch;
    }
    request.otherwise = finish_in(table, otherwise_key);

    const auto past = [&](std::size_t bytes) { return bytes > most_model_bytes - std::min(bytes_, most_model_bytes); };
    std::error_code none;
    if (past(static_cast<std::size_t>(std::filesystem::file_size(request.path, none))))
        table.refuse(file_key, "is " + in_quotes(table.text(file_key)) + ", which takes the models past 1 GB in all");
    static WhileHeld<RoughModel> held;
    auto model = held.get(fingerprint_of(request), [&] { return read_rough_model(request); });
    if (past(model->bytes))
        table.refuse(file_key, "is " + in_quotes(table.text(file_key)) + ", which takes the models past 1 GB in all");
    bytes_ += model->bytes;
    count(model->triangles, table, file_key);
    for (const std::string& r : model->remarks) context.remark(table.where(file_key), r);
    return models_.emplace(here.fingerprint(), std::move(model)).first->second;
}

}  // namespace rushlight
