#include "setup/rough_models.h"

#include "setup/readers.h"
#include "setup/rough_model_gltf.h"
#include "setup/words.h"

#include <algorithm>
#include <cstdio>

namespace rushlight {

namespace {

double metres_per(const std::string& unit) {
    if (unit == "mm") return 0.001;
    if (unit == "cm") return 0.01;
    if (unit == "in") return from_feet(1).value / 12;
    if (unit == "ft") return from_feet(1).value;
    return 1.0;
}

std::string address_of(const void* node) {
    char text[32];
    std::snprintf(text, sizeof text, "|%p", node);
    return text;
}

std::string point_key(const Vec3& v) {
    return "|" + plain(v.x) + "|" + plain(v.y) + "|" + plain(v.z);
}

}  // namespace

void RoughModels::count(const Triangles& t, const LayeredTable& table, std::string_view key) {
    triangles_ += t.faces.size();
    if (triangles_ > most_triangles)
        table.refuse(key, "takes models and pictures past " + std::to_string(most_triangles) + " triangles in all");
}

const Triangles& RoughModels::picture(const LayeredTable& table, const Vec3& foot, const Vec3& seen_from) {
    const std::string path = table.file("picture");
    if (!table.has("width")) throw InputError(table.where(), table.title() + " needs 'width'");
    PictureHanging hanging;
    hanging.name = table.text("name");
    hanging.width = table.length("width");
    hanging.turn = table.number("turn");
    hanging.reflectance = table.number("reflectance");
    hanging.seen_from = seen_from;
    const std::string key = path + "|" + hanging.name + "|" + plain(hanging.width) + "|" + plain(hanging.turn) + "|" +
                            plain(hanging.reflectance) + point_key(foot) + point_key(seen_from);
    if (const auto known = hung_.find(key); known != hung_.end()) return known->second;

    auto cells = pictures_.find(path);
    if (cells == pictures_.end()) cells = pictures_.emplace(path, read_picture_cells(path)).first;
    hanging.middle = foot + Vec3(0, 0, static_cast<float>(height_of(cells->second, hanging.width) / 2));
    Triangles hung = hung_picture(cells->second, hanging);
    if (hung.faces.empty()) table.refuse("picture", "is transparent all over; expected something to see");
    count(hung, table, "picture");
    return hung_.emplace(key, std::move(hung)).first->second;
}

const RoughModel& RoughModels::read(const LayeredTable& table, std::string_view file_key,
                                    std::string_view otherwise_key, const Vec3& move, bool openings_allowed) {
    const FileContext& context = table.context();
    RoughModelRequest request;
    request.path = table.file(file_key);
    request.up = !table.has("up") && is_gltf(request.path) ? "y" : table.word("up");  // as ISO/IEC 12113 has it
    request.metres_per_unit = metres_per(table.word("unit"));
    request.move = move;
    request.turn = table.number("turn");
    request.is_room = openings_allowed;
    const auto surfaces = table.free_table("surfaces");

    // Nodes stay where they are as long as the file is held, so their addresses tell finishes apart.
    std::string key = request.path + "|" + request.up + "|" + plain(request.metres_per_unit) + "|" + plain(move.x) +
                      "|" + plain(move.y) + "|" + plain(move.z) + "|" + plain(request.turn) +
                      address_of(table.find(otherwise_key));
    for (const auto& [material, node] : surfaces) key += "|" + material + address_of(node);
    if (const auto known = models_.find(key); known != models_.end()) return known->second;

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

    RoughModel model = read_rough_model(request);
    count(model.triangles, table, file_key);
    for (const std::string& r : model.remarks) context.remark(table.where(file_key), r);
    return models_.emplace(key, std::move(model)).first->second;
}

}  // namespace rushlight
