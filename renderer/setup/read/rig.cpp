#include "setup/plain/catalogues.h"
#include "setup/plain/face.h"
#include "setup/read/readers.h"
#include "setup/read/spots.h"
#include "setup/text/typed_values.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float same_point = 1e-3F;  // m

template <class T>
std::vector<std::string> all_names(const std::vector<T>& things) {
    std::vector<std::string> names;
    for (const T& t : things) names.push_back(t.name);
    return names;
}

template <class T>
const T* named(const std::vector<T>& things, const std::string& name) {
    const auto it = std::find_if(things.begin(), things.end(), [&](const T& t) { return t.name == name; });
    return it == things.end() ? nullptr : &*it;
}

void read_facing(const LayeredTable& t, const std::vector<Mark>& marks, Mark& mark) {
    const toml::node* node = t.find("facing");
    if (node && node->is_number()) {
        mark.facing = t.number("facing");
        return;
    }
    Vec3 to;
    if (node && node->is_array()) {
        const std::vector<double> p = t.lengths("facing", 2, 2);
        to = Vec3(static_cast<float>(p[0]), static_cast<float>(p[1]), 0);
    } else if (node && !node->is_string()) {
        t.refuse_kind("facing", *node, "name of a mark, [x, y] m, or degrees");
    } else {
        const Mark* other = node ? named(marks, t.text("facing")) : nullptr;
        to = other ? other->at : point_or_face(t, "facing", marks, mark.at);
    }
    const Vec3 d = to - mark.at;
    if (std::hypot(d.x, d.y) < same_point) t.refuse("facing", "points at the place where the mark is");
    mark.facing = degrees(std::atan2(d.y, d.x)).value;
}

void read_gaze(const LayeredTable& t, const std::vector<Mark>& marks, Mark& mark) {
    const toml::node* node = t.find("gaze");
    if (!node) return;
    mark.gaze_at_lens = node->is_string() && tidy(t.text("gaze")) == "lens";
    if (mark.gaze_at_lens) return;
    if (!node->is_string() && !node->is_array())
        t.refuse_kind("gaze", *node, "name of a mark, \"lens\", or [x, y, z] m");
    mark.gaze = point_or_face(t, "gaze", marks, face_of(mark));
    if ((*mark.gaze - face_of(mark)).length() < same_point) t.refuse("gaze", "points at the person's own face");
}

std::vector<Mark> read_marks(const FileContext& context, const Things& things) {
    std::vector<Mark> marks;
    const auto all = things.all(ThingKind::mark);
    for (const Thing* thing : all) {
        const LayeredTable t = thing->table(context);
        Mark m;
        m.name = t.text("name");
        const std::vector<double> at = t.lengths("at", 2, 3);
        m.at =
            Vec3(static_cast<float>(at[0]), static_cast<float>(at[1]), at.size() > 2 ? static_cast<float>(at[2]) : 0);
        m.head_turn = t.number("head_turn");
        m.head_tilt = t.number("head_tilt");
        m.person = read_person(t.table("person", "[[mark]] person"), m.name);
        marks.push_back(m);
    }
    // Now that every place is known, who looks at whom.
    for (std::size_t i = 0; i < all.size(); ++i) read_facing(all[i]->table(context), marks, marks[i]);
    for (std::size_t i = 0; i < all.size(); ++i) read_gaze(all[i]->table(context), marks, marks[i]);
    return marks;
}

Meter read_meter(const LayeredTable& t, const Rig& rig) {
    constexpr float hand = 0.1F;  // m before the face
    Meter m;
    m.name = t.text("name");
    m.receptor = t.word("receptor") == "dome" ? Receptor::dome : Receptor::flat;
    const toml::node* at = t.find("at");
    if (at && at->is_string()) {
        const Mark& mark = mark_named(t, "at", rig.marks);
        m.mark = mark.name;
        m.facing = facing_of(mark);
        m.at = face_of(mark) + m.facing * hand;
    } else {
        m.at = point_in(t, "at");
    }
    if (const auto p = t.point_if_array("facing")) {
        m.facing = direction_to(t, "facing", m.at, *p);
    } else if (t.has("facing")) {
        const std::string found = t.text("facing");
        if (const Camera* c = named(rig.cameras, found)) {
            m.facing = direction_to(t, "facing", m.at, c->at);
        } else if (const Mark* mark = named(rig.marks, found)) {
            m.facing = direction_to(t, "facing", m.at, face_of(*mark));
        } else if (tidy(found) == "up" || tidy(found) == "down") {
            m.facing = Vec3(0, 0, tidy(found) == "up" ? 1 : -1);
        } else {
            std::vector<std::string> valid{"up", "down"};
            for (const std::string& n : all_names(rig.marks)) valid.push_back(n);
            for (const std::string& n : all_names(rig.cameras)) valid.push_back(n);
            throw InputError(t.where("facing"),
                             t.title() + ": facing names no mark or camera " + in_quotes(found) + hint(found, valid));
        }
    }
    return m;
}

}  // namespace

const Mark& mark_named(const LayeredTable& t, std::string_view key, const std::vector<Mark>& marks) {
    const std::string name = t.text(key);
    if (const Mark* m = named(marks, name)) return *m;
    throw InputError(t.where(key), t.title() + ": " + std::string(key) + " names no mark " + in_quotes(name) +
                                       hint(name, all_names(marks)));
}

Vec3 point_in(const LayeredTable& t, std::string_view key) {
    const std::vector<double> v = t.lengths(key, 3, 3);
    return {static_cast<float>(v[0]), static_cast<float>(v[1]), static_cast<float>(v[2])};
}

Vec3 point_or_face(const LayeredTable& t, std::string_view key, const std::vector<Mark>& marks, const Vec3& from) {
    const toml::node* node = t.find(key);
    if (node && node->is_array()) return point_in(t, key);
    if (node && !node->is_string()) t.refuse_kind(key, *node, "name of a mark or of something here, or [x, y, z] m");
    const std::string name = t.text(key);
    if (const Mark* mark = named(marks, name)) return face_of(*mark);
    const Spots* spots = t.context().spots;
    if (const auto point = spots ? spots->find(name, from) : std::nullopt) return *point;
    std::vector<std::string> valid = all_names(marks);
    if (spots)
        for (const std::string& n : spots->names(from)) valid.push_back(n);
    throw InputError(t.where(key), t.title() + ": " + std::string(key) + " names nothing that is here, " +
                                       in_quotes(name) + hint(name, valid));
}

Vec3 direction_to(const LayeredTable& t, std::string_view key, const Vec3& at, const Vec3& to) {
    const Vec3 d = to - at;
    if (d.length() < same_point) t.refuse(key, "points at the place where the thing itself is");
    return d.normalized();
}

/// A lamp as its first layer has it, before a set-up or option changes it.
Lamp as_scouted(const FileContext& context, const Things& things, const Rig& rig, const std::string& name,
                Luminaires& luminaires) {
    const std::vector<const Thing*> lamps = things.all(ThingKind::lamp);
    Thing lamp = **std::find_if(lamps.begin(), lamps.end(), [&](const Thing* t) { return t->name == name; });
    lamp.layers.resize(1);
    return read_lamp(lamp.table(context), rig.marks, luminaires);
}

std::vector<MeasuredLight> read_measured(const FileContext& context, const toml::table& root, const Things& things,
                                         const Rig& rig, Luminaires& luminaires) {
    constexpr std::size_t most_readings = 50;
    std::vector<MeasuredLight> measured;
    for (const toml::table* table : tables_of(context, root, "measured", "[[measured]]", most_readings)) {
        const std::string name = name_in(context, *table, "[[measured]]");
        const LayeredTable t(context, "[[measured]]", "[[measured]] " + in_quotes(name), {table});
        MeasuredLight m{read_meter(t, rig), t.number("lux"), t.text("source"), std::nullopt};
        // A lamp that this set-up has taken away has nothing to be scaled.
        if (m.source != "daylight" && !named(rig.lamps, m.source)) {
            std::vector<std::string> known{"daylight"};
            const toml::array* lamps = root["lamp"].as_array();
            for (std::size_t i = 0; lamps && i < lamps->size(); ++i)
                if (const auto n = (*lamps)[i].as_table()->get("name")->value<std::string>()) known.push_back(*n);
            if (std::find(known.begin(), known.end(), m.source) == known.end())
                throw InputError(t.where("source"),
                                 t.title() + ": no lamp " + in_quotes(m.source) + hint(m.source, known));
            continue;
        }
        if (m.source != "daylight") m.lamp = as_scouted(context, things, rig, m.source, luminaires);
        measured.push_back(std::move(m));
    }
    return measured;
}

std::vector<Circuit> read_circuits(const FileContext& context, const toml::table& root) {
    constexpr std::size_t most_circuits = 100;
    std::vector<Circuit> circuits;
    for (const toml::table* table : tables_of(context, root, "circuit", "[[circuit]]", most_circuits)) {
        const LayeredTable t(context, "[[circuit]]",
                             "[[circuit]] " + in_quotes(name_in(context, *table, "[[circuit]]")), {table});
        Circuit c{t.text("name"), t.number("volts"), t.number("amps"), t.number("other")};
        if (named(circuits, c.name)) t.refuse("name", "is that of a circuit before it");
        circuits.push_back(c);
    }
    return circuits;
}

Panel read_panel(const LayeredTable& t, PanelKind kind, const std::vector<Mark>& marks) {
    Panel p;
    p.kind = kind;
    p.name = t.text("name");
    p.at = point_in(t, "at");
    p.faces = point_or_face(t, "facing", marks, p.at);
    p.facing = direction_to(t, "facing", p.at, *p.faces);
    p.roll = t.number("roll");
    const std::vector<double> size = t.lengths("size", 1, 2);
    p.width = size.front();
    p.height = size.back();
    p.kit_item = item_name_in(t);
    switch (kind) {
        case PanelKind::board:
        case PanelKind::flag:
            p.finish = finish_in(t, "finish");
            break;
        case PanelKind::net:
            if (t.has("kind") && t.has("stops")) t.refuse("stops", "can't go with kind; expected one of the two");
            p.finish = net_finish(t.number_if_given("stops").value_or(t.word("kind") == "double" ? 1.0 : 0.5));
            break;
        case PanelKind::cloth: {
            if (t.has("kind") && t.has("finish")) t.refuse("finish", "can't go with kind; expected one of the two");
            if (!t.has("kind") && !t.has("finish"))
                throw InputError(t.where(), t.title() + " needs 'kind' or 'finish'");
            if (t.has("finish")) {
                p.finish = finish_in(t, "finish");
                break;
            }
            const std::string found = t.text("kind");
            const ClothKind* cloth = kind_named(cloth_kinds(), tidy(found));
            if (!cloth)
                throw InputError(t.where("kind"),
                                 t.title() + ": unknown kind " + in_quotes(found) + hint(found, cloth_words()));
            p.finish = cloth_finish(*cloth);
            break;
        }
    }
    return p;
}

namespace {

const toml::table* camera_body(const FileContext& context, const toml::table& root) {
    const toml::node* node = root.get("camera_body");
    if (node == nullptr) return nullptr;
    if (!node->is_table())
        throw InputError(context.where(*node),
                         "camera_body is " + found_value(*node) + "; expected [camera_body] with one bracket");
    const LayeredTable checked(context, "[camera_body]", "[camera_body]", {node->as_table()});
    return node->as_table();
}

}  // namespace

Rig read_rig(const FileContext& context, const toml::table& root, const Things& things, Luminaires& luminaires) {
    Rig rig;
    rig.circuits = read_circuits(context, root);
    rig.marks = read_marks(context, things);
    for (const Thing* t : things.all(ThingKind::lamp)) {
        const LayeredTable table = t->table(context);
        rig.lamps.push_back(read_lamp(table, rig.marks, luminaires));
        const std::string& circuit = rig.lamps.back().circuit;
        if (!circuit.empty() && !named(rig.circuits, circuit))
            throw InputError(table.where("circuit"), table.title() + ": no circuit " + in_quotes(circuit) +
                                                         hint(circuit, all_names(rig.circuits)));
    }
    constexpr std::array kinds{
        std::pair{ThingKind::board, PanelKind::board}, std::pair{ThingKind::flag, PanelKind::flag},
        std::pair{ThingKind::cloth, PanelKind::cloth}, std::pair{ThingKind::net, PanelKind::net}};
    for (const auto& [thing, panel] : kinds)
        for (const Thing* t : things.all(thing)) rig.panels.push_back(read_panel(t->table(context), panel, rig.marks));
    const toml::table* body = camera_body(context, root);
    for (const Thing* t : things.all(ThingKind::camera)) {
        // The other side of a conversation has the body of the first.
        const bool reverse = std::any_of(t->layers.begin(), t->layers.end(),
                                         [](const toml::table* layer) { return layer->contains("reverse_of"); });
        rig.cameras.push_back(read_camera(t->table(context).over(reverse ? nullptr : body), rig.marks, rig.cameras));
    }
    for (const Thing* t : things.all(ThingKind::meter)) rig.meters.push_back(read_meter(t->table(context), rig));
    rig.measured = read_measured(context, root, things, rig, luminaires);
    return rig;
}

}  // namespace rushlight
