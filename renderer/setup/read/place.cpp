#include "setup/plain/catalogues.h"
#include "setup/read/readers.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr double hair = 1e-6;  // m: openings may touch a corner or each other

constexpr double most_slats = 20'000;

Vec3 vec(double x, double y, double z) {
    return {static_cast<float>(x), static_cast<float>(y), static_cast<float>(z)};
}

Opening read_opening(const LayeredTable& t, const Room& room) {
    Opening o;
    o.name = t.text("name");
    o.wall = word_in<Wall>(t, "wall", wall_words);
    const std::string wall(word_of(o.wall));
    o.from = t.length("from");
    o.to = t.length("to");
    o.sill = t.length("sill");
    o.head = t.length("head");
    const Glass glass = glass_in(t);
    o.glazed = glass.glazed;
    o.glass = glass.transmittance;
    o.bars = t.number("bars");
    o.nd_density = t.number("nd");
    o.curtain = curtain_in(t);
    o.blind = blind_in(t);
    // Sky and sun lie on both sides of it, and a mired shift is nearly the same for either.
    o.gel = gels_in(t, "gel", 5600);
    const bool side = o.wall == Wall::left || o.wall == Wall::right;
    const bool flat = o.wall == Wall::floor || o.wall == Wall::ceiling;
    const double long_side = side ? room.depth : room.width, high_side = flat ? room.depth : room.height;
    if (o.to <= o.from) t.refuse("to", "is " + plain(o.to) + " m; expected more than from, " + plain(o.from) + " m");
    if (o.head <= o.sill)
        t.refuse("head", "is " + plain(o.head) + " m; expected more than sill, " + plain(o.sill) + " m");
    if (o.to > long_side + hair)
        t.refuse("to",
                 "is " + plain(o.to) + " m, outside the " + wall + " wall, which is " + plain(long_side) + " m long");
    if (o.head > high_side + hair)
        t.refuse("head",
                 "is " + plain(o.head) + " m, outside the " + wall + " wall, which is " + plain(high_side) + " m high");
    return o;
}

void check_apart(const FileContext& context, const std::vector<const Thing*>& things, const std::vector<Opening>& all) {
    for (std::size_t i = 0; i < all.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            const Opening &a = all[j], &b = all[i];
            if (a.wall != b.wall || b.from >= a.to - hair || a.from >= b.to - hair || b.sill >= a.head - hair ||
                a.sill >= b.head - hair)
                continue;
            throw InputError(things[i]->table(context).where(),
                             "opening " + in_quotes(b.name) + " overlaps " + in_quotes(a.name));
        }
}

Room read_room(const FileContext& context, const LayeredTable& place, const LayeredTable& size, const Things& things) {
    Room room;
    room.width = size.length("width");
    room.depth = size.length("depth");
    room.height = size.length("height");
    room.wall_thickness = place.length("wall_thickness");

    const auto given = place.table("surfaces", "[place.surfaces]");
    static const toml::table nothing;
    const LayeredTable surfaces =
        given ? *given : LayeredTable(context, "[place.surfaces]", "[place] surfaces", {&nothing});
    const Finish walls = finish_in(surfaces, "walls");
    for (std::size_t w = 0; w < 6; ++w) {
        const bool upright = w < 4;
        room.finish[w] = upright && !surfaces.has(wall_words[w]) ? walls : finish_in(surfaces, wall_words[w]);
    }
    const auto guessed = [&](const char* key) {
        context.remark(given ? given->where() : place.where(),
                       std::string(key) + ": no finish given; a reflectance of " +
                           std::string(find_key(section("[place.surfaces]"), key)->standard) + " is assumed");
    };
    const bool every_wall =
        surfaces.has("near") && surfaces.has("far") && surfaces.has("left") && surfaces.has("right");
    if (!surfaces.has("walls") && !every_wall) guessed("walls");
    if (!surfaces.has("floor")) guessed("floor");
    if (!surfaces.has("ceiling")) guessed("ceiling");

    const auto openings = things.all(ThingKind::opening);
    double slats = 0;
    for (const Thing* thing : openings) {
        const LayeredTable t = thing->table(context);
        const Opening& o = room.openings.emplace_back(read_opening(t, room));
        if (!o.blind) continue;
        slats += (o.blind->upright ? o.to - o.from : o.head - o.sill) / o.blind->pitch;
        if (slats > most_slats)
            t.refuse("blind", "takes the slats in all openings past " + plain(most_slats) + "; expected wider ones");
    }
    check_apart(context, openings, room.openings);
    return room;
}

void read_furniture(Place& place, const LayeredTable& t, RoughModels& models, bool with_models) {
    const std::vector<double> at = t.lengths("at", 2, 2);
    const double from_floor = t.length("from_floor");
    const Vec3 foot = vec(at[0], at[1], from_floor);
    const auto put_in = [&](std::shared_ptr<const Triangles> triangles) {
        if (with_models) place.models.push_back({t.text("name"), std::move(triangles), foot, t.number("turn")});
    };
    for (const char* key : {"width", "reflectance"})
        if (t.has(key) && !t.has("picture")) t.refuse(key, "is for a picture; expected picture too");
    if (t.has("picture")) {
        for (const char* key : {"obj", "size", "shape", "finish", "gaps", "up", "unit", "surfaces"})
            if (t.has(key)) t.refuse(key, "can't go with picture; expected one of the two");
        return put_in(models.picture(t, foot, (place.lower + place.upper) * 0.5F));
    }
    if (t.has("obj")) {
        if (t.has("size")) t.refuse("size", "can't go with obj; expected one of the two");
        if (t.has("shape")) t.refuse("shape", "can't go with obj; expected one of the two");
        if (t.has("gaps")) t.refuse("gaps", "is for a box; expected a model without it");
        return put_in(triangles_of(models.read(t, "obj", "finish", foot, false)));
    }
    for (const char* key : {"up", "unit", "surfaces"})
        if (t.has(key)) t.refuse(key, "is for a model; expected obj too");
    if (!t.has("size")) throw InputError(t.where(), t.title() + " needs 'size', 'obj' or 'picture'");
    Box box;
    box.name = t.text("name");
    const std::vector<double> size = t.lengths("size", 3, 3);
    box.size = vec(size[0], size[1], size[2]);
    box.centre = vec(at[0], at[1], from_floor + size[2] / 2);
    box.turn = t.number("turn");
    box.shape = word_in<FurnitureShape>(t, "shape", furniture_shape_words);
    box.finish = finish_in(t, "finish");
    if (!t.has("finish"))
        t.context().remark(t.where(), box.name + ": no finish given; a reflectance of 0.3 is assumed");
    if (const double gaps = t.number("gaps"); gaps > 0) {
        if (box.shape != FurnitureShape::box)
            t.refuse("gaps", "is for a box; " + t.word("shape") + " has gaps of its own");
        if (box.finish.see_through())
            t.refuse("gaps", "can't go with a finish that lets light through; expected one of the two");
        // Light crosses it twice, in and out.
        const auto straight = static_cast<float>(std::sqrt(gaps));
        box.finish.straight = Spectrum{straight};
        box.finish.reflectance *= 1.0F - straight;
    }
    place.boxes.push_back(box);
}

Vec3 model_move(const LayeredTable& model) {
    const std::vector<double> m = model.lengths("move", 3, 3);
    return vec(m[0], m[1], m[2]);
}

}  // namespace

Glass glass_in(const LayeredTable& t) {
    const toml::node* node = t.find("glass");
    if (node && node->is_string()) {
        const std::string found = t.text("glass");
        const GlassKind* kind = kind_named(glass_kinds(), tidy(found));
        if (!kind)
            throw InputError(t.where("glass"),
                             t.title() + ": unknown glass " + in_quotes(found) + hint(found, names_of(glass_kinds())));
        if (kind->transmittance < 0) return {false, 1.0};
        return {true, kind->transmittance};
    }
    return {true, t.number("glass")};
}

Place read_place(const FileContext& context, const toml::table& root, const Things& things, RoughModels& models,
                 bool with_models) {
    const toml::table* given = root["place"].as_table();
    if (!given) throw InputError(Where{context.path}, "the file needs [place]");
    const LayeredTable table(context, "[place]", "[place]", {given});

    Place place;
    place.name = table.text("name");
    place.latitude = table.number("latitude");
    place.longitude = table.number("longitude");
    place.near_wall_faces = table.number("near_wall_faces");
    place.ground_reflectance = table.number("ground_reflectance");

    const auto size = table.table("room", "[place] room");
    const auto model = table.table("model", "[place.model]");
    if (size && model) table.refuse("model", "can't go with room; expected one of the two");
    if (!size && !model) throw InputError(table.where(), "[place] needs 'room' or 'model'");
    if (size) {
        place.room = read_room(context, table, *size, things);
        place.upper = vec(place.room.width, place.room.depth, place.room.height);
    } else {
        if (table.has("surfaces"))
            table.refuse("surfaces", "is for a room; a model has its own, [place.model.surfaces]");
        if (const auto openings = things.all(ThingKind::opening); !openings.empty())
            throw InputError(openings.front()->table(context).where(),
                             "an opening needs a room; a model has its own, as surfaces with opening = true");
        place.has_room = false;
        const auto rough = models.read(*model, "file", "otherwise", model_move(*model), true);
        if (with_models) place.models.push_back({"", triangles_of(rough)});
        place.model_openings = rough->openings;
        place.lower = rough->lower;
        place.upper = rough->upper;
    }
    for (const Thing* thing : things.all(ThingKind::furniture))
        read_furniture(place, thing->table(context), models, with_models);
    return place;
}

std::optional<Finish> curtain_in(const LayeredTable& t) {
    const toml::node* node = t.find("curtain");
    if (!node || !node->is_string()) return sheer_curtain(t.number("curtain"));
    const std::string found = t.text("curtain");
    if (const CurtainKind* kind = kind_named(curtain_kinds(), tidy(found))) return curtain_finish(*kind);
    if (const ClothKind* kind = kind_named(cloth_kinds(), tidy(found))) return cloth_finish(*kind);
    std::vector<std::string> valid = names_of(curtain_kinds());
    for (const std::string& cloth : names_of(cloth_kinds())) valid.push_back(cloth);
    throw InputError(t.where("curtain"), t.title() + ": unknown curtain " + in_quotes(found) + hint(found, valid));
}

std::optional<Blind> blind_in(const LayeredTable& opening) {
    const auto t = opening.table("blind", "[[place.opening]] blind");
    if (!t) return std::nullopt;
    Blind b;
    b.slat = t->length("slat");
    b.pitch = t->has("pitch") ? t->length("pitch") : 0.85 * b.slat;
    b.tilt = t->number("tilt");
    b.drawn = t->number("drawn");
    b.upright = t->yes("upright");
    b.finish = finish_in(*t, "finish");
    return b;
}

}  // namespace rushlight
