#include "desk/plan/plan_json.h"

#include "desk/light/sheet_json.h"
#include "desk/plan/furniture_json.h"
#include "pictures/maps/sign_shapes.h"
#include "quantity/clock.h"
#include "quantity/exposure.h"
#include "quantity/units.h"
#include "setup/advice/check.h"
#include "setup/edit/edited_text.h"
#include "setup/plain/catalogues.h"
#include "setup/plain/face.h"
#include "setup/text/words.h"

#include <algorithm>

namespace rushlight::desk {

namespace {

double degrees_of(const Vec3& v) {
    return degrees(std::atan2(static_cast<double>(v.y), static_cast<double>(v.x))).value;
}

const char* word_of(LampShape shape) {
    static constexpr const char* words[] = {"hard", "box", "ball", "tube", "ring"};
    return words[static_cast<std::size_t>(shape)];
}

JsonValue openings(const Room& room) {
    JsonValue list = JsonValue::array();
    for (const Opening& o : room.openings) {
        double x0 = o.from, y0 = 0, x1 = o.to, y1 = 0;
        if (o.wall == Wall::far) y0 = y1 = room.depth;
        if (o.wall == Wall::left || o.wall == Wall::right) {
            x0 = x1 = o.wall == Wall::left ? 0 : room.width;
            y0 = o.from, y1 = o.to;
        }
        if (o.wall == Wall::floor || o.wall == Wall::ceiling) y0 = o.sill, y1 = o.head;
        list.push_back({{"name", json_text(o.name)},
                        {"wall", word_of(o.wall)},
                        {"from", {metres_json(x0), metres_json(y0)}},
                        {"to", {metres_json(x1), metres_json(y1)}},
                        {"sill", metres_json(o.sill)},
                        {"head", metres_json(o.head)}});
    }
    return list;
}

/// A sign's closed bodies and the lines over them, x, y, x, y ... in metres.
JsonValue sign_json(LightMap::SignKind kind, double width) {
    static constexpr const char* pens[] = {"thin", "ray", "sight", "tick", "front", "edge"};
    const SignShape shape = sign_shape(kind, width);
    JsonValue bodies = JsonValue::array(), lines = JsonValue::array();
    for (const auto& body : shape.bodies) {
        JsonValue corners = JsonValue::array();
        for (const Point& p : body)
            for (const double v : {p.x, p.y}) corners.push_back(metres_json(v));
        bodies.push_back(std::move(corners));
    }
    for (const SignShape::Line& l : shape.lines)
        lines.push_back(
            {{"pen", pens[static_cast<std::size_t>(l.pen)]},
             {"along", {metres_json(l.from.x), metres_json(l.from.y), metres_json(l.to.x), metres_json(l.to.y)}}});
    return {{"bodies", std::move(bodies)}, {"lines", std::move(lines)}};
}

JsonValue thing(const char* kind, const std::string& name, const Vec3& at) {
    return {{"kind", kind}, {"name", json_text(name)}, {"at", point_json(at)}};
}

void add_things(const Setup& setup, JsonValue& things) {
    const Rig& rig = setup.rig;
    for (const Mark& m : rig.marks) {
        JsonValue t = thing("mark", m.name, m.at);
        t["sign"] = sign_json(LightMap::SignKind::mark, 0);
        t["facing"] = metres_json(m.facing);
        t["pose"] = m.person.pose == Pose::seated ? "seated" : "standing";
        t["height"] = metres_json(m.person.height);
        t["eyes"] = metres_json(eye_height(m.person));
        things.push_back(std::move(t));
    }
    for (const Lamp& l : rig.lamps) {
        JsonValue t = thing("lamp", l.name, l.at);
        t["sign"] = sign_json(sign_of(l), l.width);
        t["facing"] = metres_json(degrees_of(l.aim));
        t["direction"] = point_json(l.aim);
        t["shape"] = word_of(l.shape);
        t["size"] = {metres_json(l.width), metres_json(l.height)};
        t["on"] = l.on;
        t["share"] = short_number(l.level);
        t["kelvin"] = short_number(l.kelvin);
        t["watts"] = short_number(l.watts);
        things.push_back(std::move(t));
    }
    for (const Panel& p : rig.panels) {
        JsonValue t = thing(word_of(p.kind), p.name, p.at);
        t["sign"] = sign_json(LightMap::SignKind::panel, p.width);
        t["facing"] = metres_json(degrees_of(p.facing));
        t["direction"] = point_json(p.facing);
        t["size"] = {metres_json(p.width), metres_json(p.height)};
        things.push_back(std::move(t));
    }
    for (const Camera& c : rig.cameras) {
        JsonValue t = thing("camera", c.name, c.at);
        t["sign"] = sign_json(LightMap::SignKind::camera, 0);
        t["facing"] = metres_json(degrees_of(c.look_at - c.at));
        t["look_at"] = point_json(c.look_at);
        t["active"] = &c == setup.its_camera();
        t["lens"] = short_number(c.lens);
        t["sensor"] = {short_number(c.sensor_width), short_number(c.sensor_height)};
        things.push_back(std::move(t));
    }
    for (const Meter& m : rig.meters) {
        JsonValue t = thing("meter", m.name, m.at);
        t["facing"] = metres_json(degrees_of(m.facing));
        t["direction"] = point_json(m.facing);
        t["mark"] = json_text(m.mark);
        things.push_back(std::move(t));
    }
}

/// How the file says it, where it says so, and what of it cannot be dragged.
void add_written(const TomlText& text, const EditPlace& place, JsonValue& t) {
    const auto written = written_thing(text, place, t["kind"].get<std::string>(), t["name"].get<std::string>());
    t["editable"] = written.has_value();
    t["fields"] = JsonValue::object();
    if (!written) {
        t["why"] = "the file has nothing of this name";
        return;
    }
    for (const auto& [key, value] : written->values)
        t["fields"][json_text(key).get<std::string>()] = json_text(value.text);
    if (t["kind"] == "lamp") {
        t["gel"] = nullptr;  // given by numbers
        const auto gel = written->values.find("gel");
        if (gel == written->values.end()) t["gel"] = JsonValue::array();
        if (gel != written->values.end() && !gel->second.names.empty()) {
            t["gel"] = JsonValue::array();
            for (const std::string& name : gel->second.names) t["gel"].push_back(json_text(tidy(name)));
        }
    }
    t["aim_name"] = nullptr;
    for (const char* key : {"aim", "facing", "look_at", "of"})
        if (const auto v = written->values.find(key); v != written->values.end() && v->second.names.size() == 1)
            t["aim_name"] = json_text(v->second.names.front());
    const auto held = [&](const std::string& why) { t["editable"] = false, t["why"] = json_text(why); };
    if (const auto at = written->values.find("at"); at != written->values.end() && at->second.names.size() == 1)
        held("it is placed at " + at->second.names.front() + " and moves with it");
    if (written->values.count("shot") > 0) held("its place follows from the shot");
    if (written->values.count("reverse_of") > 0) held("its place follows from the camera it mirrors");
}

JsonValue exposure(const Setup& setup) {
    const Camera* c = setup.its_camera();
    const Exposure e = setup.exposure();
    JsonValue j{{"camera", c ? json_text(c->name) : JsonValue(nullptr)},
                {"iso", e.iso},
                {"t_stop", e.t_stop},
                {"nd", e.nd_density},
                {"shutter", e.shutter_angle},
                {"fps", e.frames_per_second},
                {"metered_lux", short_number(metered_illuminance(e).value)},
                {"grey", short_number(grey_luminance(e).value)}};
    j["white_balance"] = c ? JsonValue(c->white_balance) : JsonValue(nullptr);
    const Camera usual;
    j["headroom"] = (c ? c : &usual)->headroom;
    j["footroom"] = (c ? c : &usual)->footroom;
    return j;
}

template <class T>
JsonValue names(const std::vector<T>& kinds) {
    JsonValue list = JsonValue::array();
    for (const T& k : kinds) list.push_back(std::string(k.name));
    return list;
}

}  // namespace

JsonValue plan_json(const Document& document, const std::string& setup_name, const std::string& option) {
    const Setup setup = document.setup(setup_name, option);
    const Place& p = setup.place;
    JsonValue j{{"revision", document.state().revision},
                {"setup", json_text(setup.name)},
                {"option", json_text(setup.option)},
                {"bounds", {point_json(p.lower), point_json(p.upper)}}};
    j["room"] = p.has_room ? JsonValue{{"width", p.room.width}, {"depth", p.room.depth}, {"height", p.room.height}}
                           : JsonValue(nullptr);
    j["near_wall_faces"] = p.near_wall_faces;
    j["openings"] = openings(p.room);
    j["furniture"] = furniture_json(p);
    j["structure"] = structure_json(p);
    j["things"] = JsonValue::array();
    add_things(setup, j["things"]);
    const TomlText text(document.text(), document.path().string());
    for (const char* list : {"things", "furniture"})
        for (JsonValue& t : j[list]) add_written(text, {setup.name, setup.option}, t);
    const Day& d = setup.day;
    char date[16];
    std::snprintf(date, sizeof date, "%04d-%02d-%02d", std::clamp(d.year, 0, 9999), std::clamp(d.month, 0, 99),
                  std::clamp(d.day, 0, 99));
    const std::string time = clock_text(std::fmod(std::round(d.clock_hours * 60), 24 * 60) / 60);
    j["day"] = {{"dark", d.dark}, {"date", date}, {"time", time}, {"sky", sky_words(d.sky.cie_type, d.sky.sun)}};
    j["exposure"] = exposure(setup);
    j["problems"] = JsonValue::array();
    for (const std::string& line : careful_remarks(setup)) j["problems"].push_back(json_text(document.told(line)));
    return j;
}

JsonValue words_json() {
    return {{"gels", names(gel_kinds())}};
}

JsonValue state_json(const Document& document, bool read_only) {
    const Document::State s = document.state();
    JsonValue j{{"revision", s.revision},
                {"file", json_text(document.path().filename().string())},
                {"why", s.why},
                {"read_only", read_only},
                {"can_undo", s.can_undo && !read_only},
                {"can_redo", s.can_redo && !read_only}};
    document.with_file([&](const SetupFile& file) {
        j["title"] = json_text(file.title());
        j["setups"] = JsonValue::array();
        for (const std::string& name : file.setup_names()) {
            JsonValue options = JsonValue::array();
            for (const std::string& option : file.option_names(name)) options.push_back(json_text(option));
            j["setups"].push_back({{"name", json_text(name)}, {"options", std::move(options)}});
        }
        j["remarks"] = JsonValue::array();
        for (const std::string& line : file.remarks()) j["remarks"].push_back(json_text(document.told(line)));
    });
    if (!s.trouble.empty()) j["trouble"] = {{"line", json_text(s.trouble)}};
    if (!s.conflict.empty())
        j["conflict"] = {{"message", json_text(s.conflict)}, {"ours", json_text(s.ours)}, {"both_kept", s.both_kept}};
    j["words"] = words_json();
    j["caution"] = planning_caution;
    return j;
}

}  // namespace rushlight::desk
