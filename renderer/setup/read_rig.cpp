#include "setup/catalogues.h"
#include "setup/face.h"
#include "setup/measures.h"
#include "setup/readers.h"
#include "setup/words.h"

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

const Mark& mark_named(const LayeredTable& t, std::string_view key, const std::vector<Mark>& marks) {
    const std::string name = t.text(key);
    if (const Mark* m = named(marks, name)) return *m;
    throw InputError(t.where(key), t.title() + ": " + std::string(key) + " names no mark " + in_quotes(name) +
                                       hint(name, all_names(marks)));
}

void read_hair(const LayeredTable& t, StandIn& who) {
    const toml::node* node = t.find("hair");
    if (!node || !node->is_string()) {
        who.hair = t.number("hair");
        return;
    }
    const std::string found = t.text("hair");
    const HairKind* kind = kind_named(hair_kinds(), tidy(found));
    if (!kind)
        throw InputError(t.where("hair"),
                         t.title() + ": unknown hair " + in_quotes(found) + hint(found, names_of(hair_kinds())));
    who.hair = kind->reflectance;
    who.hair_warmth = kind->warmth;
}

StandIn read_person(const LayeredTable& t) {
    StandIn who;
    who.height = t.length("height");
    who.pose = t.word("pose") == "seated" ? Pose::seated : Pose::standing;
    who.seat = t.length("seat");
    who.skin = t.number("skin");
    read_hair(t, who);
    who.wardrobe = t.number("wardrobe");
    who.wardrobe_hue = t.has("wardrobe_hue") ? hue_in(t, "wardrobe_hue") : "neutral";
    if (luminous_share(*reflectance_of(who.wardrobe_hue, who.wardrobe), equal_energy()) < who.wardrobe - 0.005)
        t.refuse("wardrobe", "is " + plain(who.wardrobe) + ", more than " + who.wardrobe_hue + " can reach");
    if (const toml::node* node = t.find("hours")) {
        const auto* list = node->as_array();
        const auto clock = [&](std::size_t i) {
            if (!list || list->size() != 2) t.refuse_kind("hours", *node, "two times such as [\"09:30\", \"15:00\"]");
            const auto* text = list->get(i)->as_string();
            const auto hours = text ? clock_from(text->get()) : std::nullopt;
            if (!hours) t.refuse_kind("hours", *list->get(i), "a time between \"00:00\" and \"23:59\"");
            return *hours;
        };
        who.free_from = clock(0);
        who.free_until = clock(1);
        if (who.free_until <= who.free_from)
            t.refuse("hours", "ends before it begins; expected the earlier time first");
    }
    if (t.has("seat") && who.pose == Pose::standing)
        t.context().remark(t.where("seat"), t.title() + ": seat means nothing for someone who stands");
    return who;
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
        if (const auto who = t.table("person", "[[mark]] person")) m.person = read_person(*who);
        marks.push_back(m);
    }
    // Now that every place is known, who looks at whom.
    for (std::size_t i = 0; i < all.size(); ++i) {
        const LayeredTable t = all[i]->table(context);
        const toml::node* node = t.find("facing");
        if (node && node->is_number()) {
            marks[i].facing = t.number("facing");
            continue;
        }
        Vec3 to;
        if (node && node->is_array()) {
            const std::vector<double> p = t.lengths("facing", 2, 2);
            to = Vec3(static_cast<float>(p[0]), static_cast<float>(p[1]), 0);
        } else if (node && !node->is_string()) {
            t.refuse_kind("facing", *node, "name of a mark, [x, y] m, or degrees");
        } else {
            to = mark_named(t, "facing", marks).at;
        }
        const Vec3 d = to - marks[i].at;
        if (std::hypot(d.x, d.y) < same_point) t.refuse("facing", "points at the place where the mark is");
        marks[i].facing = degrees(std::atan2(d.y, d.x)).value;
    }
    return marks;
}

Camera read_camera(const LayeredTable& t, const std::vector<Mark>& marks) {
    Camera c;
    c.name = t.text("name");
    c.at = point_in(t, "at");
    c.look_at = point_or_face(t, "look_at", marks);
    direction_to(t, "look_at", c.at, c.look_at);
    c.roll = t.number("roll");
    c.lens = t.number("lens");
    if (const toml::node* node = t.find("sensor")) {
        const auto* list = node->as_array();
        if (!list || list->size() != 2) t.refuse_kind("sensor", *node, "[width, height] in mm");
        c.sensor_width = t.number_in(*list->get(0), "sensor");
        c.sensor_height = t.number_in(*list->get(1), "sensor");
    }
    c.exposure.t_stop = t.number("t_stop");
    c.exposure.shutter_angle = t.number("shutter");
    c.exposure.frames_per_second = t.number("fps");
    c.exposure.iso = t.number("iso");
    c.exposure.nd_density = t.number("nd");
    c.white_balance = t.number("white_balance");
    c.headroom = t.number("headroom");
    c.footroom = t.number("footroom");
    return c;
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

Vec3 point_in(const LayeredTable& t, std::string_view key) {
    const std::vector<double> v = t.lengths(key, 3, 3);
    return {static_cast<float>(v[0]), static_cast<float>(v[1]), static_cast<float>(v[2])};
}

Vec3 point_or_face(const LayeredTable& t, std::string_view key, const std::vector<Mark>& marks) {
    const toml::node* node = t.find(key);
    if (node && node->is_array()) return point_in(t, key);
    if (node && !node->is_string()) t.refuse_kind(key, *node, "name of a mark, or [x, y, z] m");
    return face_of(mark_named(t, key, marks));
}

Vec3 direction_to(const LayeredTable& t, std::string_view key, const Vec3& at, const Vec3& to) {
    const Vec3 d = to - at;
    if (d.length() < same_point) t.refuse(key, "points at the place where the thing itself is");
    return d.normalized();
}

Panel read_panel(const LayeredTable& t, PanelKind kind, const std::vector<Mark>& marks) {
    Panel p;
    p.kind = kind;
    p.name = t.text("name");
    p.at = point_in(t, "at");
    p.facing = direction_to(t, "facing", p.at, point_or_face(t, "facing", marks));
    p.roll = t.number("roll");
    const std::vector<double> size = t.lengths("size", 1, 2);
    p.width = size.front();
    p.height = size.back();
    switch (kind) {
        case PanelKind::board:
        case PanelKind::flag:
            p.finish = finish_in(t, "finish");
            break;
        case PanelKind::net:
            if (t.has("kind") && t.has("stops")) t.refuse("stops", "stands beside kind; expected one of the two");
            p.finish = net_finish(t.number_if_given("stops").value_or(t.word("kind") == "double" ? 1.0 : 0.5));
            break;
        case PanelKind::cloth: {
            if (t.has("kind") && t.has("finish")) t.refuse("finish", "stands beside kind; expected one of the two");
            if (!t.has("kind") && !t.has("finish"))
                throw InputError(t.where(), t.title() + " needs 'kind' or 'finish'");
            if (t.has("finish")) {
                p.finish = finish_in(t, "finish");
                break;
            }
            const std::string found = t.text("kind");
            const ClothKind* cloth = kind_named(cloth_kinds(), tidy(found));
            if (!cloth)
                throw InputError(t.where("kind"), t.title() + ": unknown kind " + in_quotes(found) +
                                                      hint(found, names_of(cloth_kinds())));
            p.finish = cloth_finish(*cloth);
            break;
        }
    }
    return p;
}

Rig read_rig(const FileContext& context, const Things& things) {
    Rig rig;
    rig.marks = read_marks(context, things);
    for (const Thing* t : things.all(ThingKind::lamp)) rig.lamps.push_back(read_lamp(t->table(context), rig.marks));
    constexpr std::array kinds{
        std::pair{ThingKind::board, PanelKind::board}, std::pair{ThingKind::flag, PanelKind::flag},
        std::pair{ThingKind::cloth, PanelKind::cloth}, std::pair{ThingKind::net, PanelKind::net}};
    for (const auto& [thing, panel] : kinds)
        for (const Thing* t : things.all(thing)) rig.panels.push_back(read_panel(t->table(context), panel, rig.marks));
    for (const Thing* t : things.all(ThingKind::camera))
        rig.cameras.push_back(read_camera(t->table(context), rig.marks));
    for (const Thing* t : things.all(ThingKind::meter)) rig.meters.push_back(read_meter(t->table(context), rig));
    return rig;
}

}  // namespace rushlight
