#include "desk/plan/new_place.h"

#include "desk/plan/plan_json.h"
#include "pictures/files/write_file.h"
#include "setup/edit/toml_text.h"
#include "setup/read/setup_file.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <cmath>

namespace rushlight::desk {

namespace {

constexpr std::size_t most_of_a_kind = 50;

std::string number(const JsonValue& j, const char* name, double otherwise) {
    const auto found = j.is_object() ? j.find(name) : j.end();
    const bool given = j.is_object() && found != j.end() && found->is_number();
    return written({given ? found->get<double>() : otherwise, 3});
}

std::string text(const JsonValue& j, const char* name, const std::string& otherwise) {
    const auto found = j.is_object() ? j.find(name) : j.end();
    const bool given = j.is_object() && found != j.end() && found->is_string() && !found->get<std::string>().empty();
    return written({given ? found->get<std::string>() : otherwise});
}

/// A point in brackets, a name in quotes, or an angle.
std::string place(const JsonValue& j, const char* name, const std::string& otherwise) {
    const auto found = j.is_object() ? j.find(name) : j.end();
    if (!j.is_object() || found == j.end()) return otherwise;
    if (found->is_string()) return written({found->get<std::string>()});
    if (found->is_number()) return written({found->get<double>(), 1});
    if (!found->is_array() || found->size() < 2 || found->size() > 3) return otherwise;
    NewValue::List list;
    for (const JsonValue& v : *found) {
        if (!v.is_number()) return otherwise;
        list.push_back({v.get<double>(), 3});
    }
    return written({list});
}

std::vector<JsonValue> list_of(const JsonValue& j, const char* name) {
    std::vector<JsonValue> all;
    const auto found = j.find(name);
    if (found == j.end()) return all;
    if (found->is_object()) return {*found};
    if (!found->is_array()) return all;
    for (const JsonValue& one : *found) all.push_back(one);
    if (all.size() > most_of_a_kind) throw InputError("that is more than a first place needs: begin with fewer");
    return all;
}

std::string lamp_text(const JsonValue& lamp, std::size_t i) {
    const std::string shape = text(lamp, "shape", "box");
    std::string t = "\n[[lamp]]\nname = " + text(lamp, "name", i == 0 ? "key" : "lamp " + std::to_string(i + 1)) +
                    "\nshape = " + shape + "\nat = " + place(lamp, "at", "[1, 1, 2]") + "\n";
    const bool all_round = shape == "\"ball\"" || shape == "\"tube\"";
    const std::string aim = place(lamp, "aim", "");
    if (!aim.empty()) t += "aim = " + aim + "                # a mark's name: it follows the face\n";
    if (aim.empty() && !all_round) t += "aim = [0, 0, 0]\n";
    const double size = shape == "\"hard\"" ? 0.05 : shape == "\"ball\"" ? 0.3 : 0.6;
    if (shape != "\"tube\"") t += "size = " + number(lamp, "size", size) + "\n";
    if (shape == "\"tube\"") t += "size = [1.2, 0.04]\n";
    t += "output = " + text(lamp, "output", "2000 lm") +
         "        # at full; a reading such as \"2500 lx at 1 m\" will do\n";
    t += "kelvin = " + number(lamp, "kelvin", 5600) + "\n";
    if (const std::string level = text(lamp, "level", ""); level != "\"\"") t += "level = " + level + "\n";
    return t;
}

}  // namespace

std::string new_place_text(const JsonValue& wish) {
    const auto part = [&](const char* name) {
        const auto found = wish.find(name);
        return found != wish.end() && found->is_object() ? *found : JsonValue::object();
    };
    const JsonValue room = part("room"), day = part("day");
    std::string t =
        "# Started on the desk. Every key there is: docs/set-up-file.md.\ntitle = " +
        text(wish, "title", "A new place") +
        "\n\n# Stand with your back to the near wall: x runs to the right along it, y into the room, z up.\n"
        "[place]\nname = " +
        text(wish, "name", "the room") + "\nnear_wall_faces = " + number(wish, "near_wall_faces", 180) +
        "        # compass degrees, looking out through the near wall: decides where the sun comes from\n"
        "room = { width = " +
        number(room, "width", 5) + ", depth = " + number(room, "depth", 4) +
        ", height = " + number(room, "height", 2.6) +
        " }\n\n"
        "# Guesses: a spot reading against a grey card is better.\n[place.surfaces]\nwalls = " +
        text(room, "walls", "cream paint") + "\nfloor = " + text(room, "floor", "light oak") +
        "\nceiling = " + text(room, "ceiling", "white matt paint") + "\n";
    std::size_t i = 0;
    for (const JsonValue& w : list_of(wish, "windows"))
        t += "\n[[place.opening]]\nname = " + text(w, "name", "window " + std::to_string(++i)) +
             "\nwall = " + text(w, "wall", "near") + "\nfrom = " + number(w, "from", 1) +
             "\nto = " + number(w, "to", 2) + "\nsill = " + number(w, "sill", 0.9) +
             "\nhead = " + number(w, "head", 2.1) + "\n";
    const auto dark = day.find("dark");
    t += "\n[day]\n";
    if (dark != day.end() && dark->is_boolean() && dark->get<bool>())
        t += "dark = true                # night, or all shut\n";
    else
        t += "date = " + text(day, "date", "2026-06-21") + "\ntime = " + text(day, "time", "12:00") +
             "\nsky = " + text(day, "sky", "overcast") + "\n";
    i = 0;
    std::string first;
    const std::vector<JsonValue> marks = list_of(wish, "marks");
    for (const JsonValue& m : marks) {
        const std::string name = text(m, "name", std::string(1, static_cast<char>('A' + i++ % 26)));
        if (first.empty()) first = name;
        t += "\n[[mark]]\nname = " + name + "\nat = " + place(m, "at", "[2, 2]") +
             "\nfacing = " + place(m, "facing", "0") + "\n";
        const auto seated = m.is_object() ? m.find("seated") : m.end();
        if (m.is_object() && seated != m.end() && seated->is_boolean() && seated->get<bool>())
            t += "person = { pose = \"seated\" }\n";
    }
    i = 0;
    for (const char* name : {"lamp", "lamps"})
        for (const JsonValue& lamp : list_of(wish, name)) t += lamp_text(lamp, i++);
    if (!first.empty())
        t += "\n# Looks at the first mark's face, from the far corner.\n[[camera]]\nname = \"first camera\"\nat = " +
             place(part("camera"), "at",
                   "[" + number({{"v", std::max(0.3, room.value("width", 5.0) - 0.4)}}, "v", 1) + ", " +
                       number({{"v", std::max(0.3, room.value("depth", 4.0) - 0.4)}}, "v", 1) + ", 1.4]") +
             "\nlook_at = " + first + "\nlens = 35\n";
    SetupFile::from_text(t, "the new place");  // throws where it is not sound
    return t;
}

std::filesystem::path write_new_place(const JsonValue& wish) {
    const std::string text_of_file = new_place_text(wish);
    std::filesystem::path path = "new-place.toml";
    for (int i = 2; std::filesystem::exists(path); ++i) path = "new-place-" + std::to_string(i) + ".toml";
    write_file(path, text_of_file);
    return path;
}

JsonValue state_without_file() {
    return {{"revision", 0},
            {"file", ""},
            {"title", ""},
            {"read_only", false},
            {"can_undo", false},
            {"can_redo", false},
            {"setups", JsonValue::array()},
            {"words", words_json()}};
}

}  // namespace rushlight::desk
