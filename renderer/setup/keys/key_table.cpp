#include "setup/keys/key_table.h"

#include "setup/keys/balance_keys.h"
#include "setup/keys/camera_keys.h"
#include "setup/keys/kit_keys.h"
#include "setup/keys/people_keys.h"
#include "setup/text/trade_words.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace rushlight {

namespace {

constexpr std::array file_keys{
    Key{"title", KeyKind::text, "text", 0, 0, "-", "what the file is about"},
    Key{"kit", KeyKind::named, "path, or a list of paths", 0, 0, "-",
        "kit files; paths count from the folder of the set-up file"},
    Key{"hours", KeyKind::named, "[\"09:00\", \"18:00\"]", 0, 0, "-", "when you may work there, for `day` and `brief`"},
    Key{"place", KeyKind::table, "[place]", 0, 0, "", "the room as scouted"},
    Key{"day", KeyKind::table, "[day]", 0, 0, "-", "date, clock, sky; default: midsummer noon, clear"},
    Key{"mark", KeyKind::tables, "[[mark]]", 0, 0, "-", "where people stand or sit, and which way they face"},
    Key{"lamp", KeyKind::tables, "[[lamp]]", 0, 0, "-", "every light you plug in"},
    Key{"board", KeyKind::tables, "[[board]]", 0, 0, "-", "what bounces light"},
    Key{"flag", KeyKind::tables, "[[flag]]", 0, 0, "-", "what blocks light"},
    Key{"cloth", KeyKind::tables, "[[cloth]]", 0, 0, "-", "what scatters light through"},
    Key{"net", KeyKind::tables, "[[net]]", 0, 0, "-", "what cuts light without softening it"},
    Key{"camera", KeyKind::tables, "[[camera]]", 0, 0, "-", "cameras"},
    Key{"camera_body", KeyKind::table, "[camera_body]", 0, 0, "-", "what all cameras of the file share"},
    Key{"meter", KeyKind::tables, "[[meter]]", 0, 0, "-", "meters placed by hand"},
    Key{"measured", KeyKind::tables, "[[measured]]", 0, 0, "-", "readings that scale the model"},
    Key{"circuit", KeyKind::tables, "[[circuit]]", 0, 0, "-", "sockets behind one breaker"},
    Key{"setup", KeyKind::tables, "[[setup]]", 0, 0, "-", "camera positions with their changes to the rig"},
    Key{"option", KeyKind::tables, "[[option]]", 0, 0, "-", "variations to compare with the rig as found"},
    Key{"target", KeyKind::tables, "[[target]]", 0, 0, "-", "what `balance` aims for"},
    Key{"balance", KeyKind::table, "[balance]", 0, 0, "-", "what `balance` may change"},
};

constexpr std::array place_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "-", "what the place is called"},
    Key{"latitude", KeyKind::number, "degrees", -90, 90, "50", "north positive"},
    Key{"longitude", KeyKind::number, "degrees", -180, 180, "0", "east positive"},
    Key{"near_wall_faces", KeyKind::number, "degrees", 0, 360, "180",
        "compass degrees looking out through the near wall"},
    Key{"wall_thickness", KeyKind::length, "m", 0, 3, "0.2", "depth of the reveals"},
    Key{"ground_reflectance", KeyKind::number, "share", 0, 1, "0.2", "reflectance of the ground outside"},
    Key{"room", KeyKind::table, "[place] room", 0, 0, "-", "a box-shaped room; or give a model"},
    Key{"model", KeyKind::table, "[place.model]", 0, 0, "-", "the room from a rough model instead"},
    Key{"surfaces", KeyKind::table, "[place.surfaces]", 0, 0, "-", "finishes of the room"},
    Key{"opening", KeyKind::tables, "[[place.opening]]", 0, 0, "-", "windows, doors, skylights"},
    Key{"furniture", KeyKind::tables, "[[place.furniture]]", 0, 0, "-", "boxes and models, inside or outside"},
};
constexpr std::array room_keys{
    Key{"width", KeyKind::length, "m", 0.5, 200, "", "along the near wall"},
    Key{"depth", KeyKind::length, "m", 0.5, 200, "", "from the near wall to the far wall"},
    Key{"height", KeyKind::length, "m", 1, 100, "", "floor to ceiling"},
};
constexpr std::array model_keys{
    Key{"file", KeyKind::text, "path", 0, 0, "",
        "an OBJ or glTF file (.gltf, .glb); the path counts from the folder of the set-up file"},
    Key{"up", KeyKind::word, "", 0, 0, "z", "the axis of the file that points up; glTF default: y", "x|y|z|-x|-y|-z"},
    Key{"unit", KeyKind::word, "", 0, 0, "m", "the file's unit of length", "mm|cm|m|in|ft"},
    Key{"move", KeyKind::lengths, point_form, -far_away, far_away, "[0, 0, 0]", "shift after scaling and turning up"},
    Key{"turn", KeyKind::number, "degrees", -360, 360, "0", "anticlockwise seen from above, after turning up"},
    Key{"surfaces", KeyKind::table, "[place.model] surfaces", 0, 0, "-", "material name = finish, or an opening"},
    Key{"otherwise", KeyKind::finish, "finish", 0, 0, "0.5", "for materials not named"},
};
constexpr std::array model_surface_keys{
    Key{"opening", KeyKind::yes_no, "true", 0, 0, "", "these faces are a hole in the wall"},
    Key{"glass", KeyKind::named, "share, or one of: none, single, double, triple", 0, 1, "0.8",
        "what the glass lets through straight on"},
    Key{"bars", KeyKind::number, "share", 0, 0.95, "0", "part taken by glazing bars and frame"},
    Key{"nd", KeyKind::number, "density", 0, 4, "0", "ND sheet on the glass: 0.3 is one stop"},
    curtain_key,
};
constexpr std::array surface_keys{
    Key{"walls", KeyKind::finish, "finish", 0, 0, "0.5", "finish of all four walls"},
    Key{"near", KeyKind::finish, "finish", 0, 0, "-", "default: as walls"},
    Key{"far", KeyKind::finish, "finish", 0, 0, "-", "default: as walls"},
    Key{"left", KeyKind::finish, "finish", 0, 0, "-", "default: as walls"},
    Key{"right", KeyKind::finish, "finish", 0, 0, "-", "default: as walls"},
    Key{"floor", KeyKind::finish, "finish", 0, 0, "0.2", ""},
    Key{"ceiling", KeyKind::finish, "finish", 0, 0, "0.7", ""},
};
constexpr std::array finish_keys{
    Key{"like", KeyKind::named, "named finish", 0, 0, "-", "start from this one"},
    Key{"reflectance", KeyKind::number, "share", 0, 1, "-", "matt part of what is reflected; needed without like"},
    Key{"hue", KeyKind::named, "hue", 0, 0, "-", "neutral unless like has one"},
    Key{"gloss", KeyKind::number, "share", 0, 0.2, "-",
        "how much a clear coat mirrors, seen straight on (varnish: 0.04)"},
    Key{"roughness", KeyKind::number, "", 0, 1, "-",
        "of coat or metal: 0 a mirror, 0.02 a slight blur, 0.3 satin, 1 dull"},
    Key{"metal", KeyKind::number, "share", 0, 1, "-", "how much bare metal mirrors"},
    Key{"through", KeyKind::number, "share", 0, 1, "-", "share of the light that comes out scattered on the far side"},
    Key{"spread", KeyKind::number, "degrees", 2, 120, "-",
        "how wide that light scatters: full width at half its strength; 120 is matt"},
    Key{"straight", KeyKind::number, "share", 0, 1, "-", "share of the light that passes straight through"},
    Key{"pattern", KeyKind::word, "", 0, 0, "none",
        "lighter and darker by place, with the same mean; a named finish brings its own",
        "none|brick|stone|boards|tiles|chequer|books|plaster|wood|carpet|foliage"},
    Key{"passes", KeyKind::number, "share", 0.01, 1, "-",
        "for a clear sheet: the share of light that it lets through, seen straight on"},
    Key{"index", KeyKind::number, "", 1, 2.5, "-",
        "for a clear sheet: index of refraction; plain glass has 1.52, coated glass acts like 1.15"},
};
constexpr std::array opening_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"wall", KeyKind::word, "", 0, 0, "", "", "near|far|left|right|floor|ceiling"},
    Key{"from", KeyKind::length, "m", 0, 200, "",
        "where it begins along the wall: x, or y on the left and right walls"},
    Key{"to", KeyKind::length, "m", 0, 200, "", "where it ends along the wall"},
    Key{"sill", KeyKind::length, "m", 0, 200, "", "height of its lower edge; in a floor or ceiling: y where it begins"},
    Key{"head", KeyKind::length, "m", 0, 200, "", "height of its upper edge; in a floor or ceiling: y where it ends"},
    Key{"glass", KeyKind::named, "share, or one of: none, single, double, triple", 0, 1, "0.8",
        "what panes and dirt let through straight on; over 0.918: coated, mirrors less"},
    Key{"bars", KeyKind::number, "share", 0, 0.95, "0", "part taken by glazing bars and frame"},
    Key{"nd", KeyKind::number, "density", 0, 4, "0", "ND sheet on the glass: 0.3 is one stop"},
    Key{"gel", KeyKind::named, "as of a lamp", 0, 0, "-", "colour filter on the glass"},
    curtain_key,
    Key{"blind", KeyKind::table, "[[place.opening]] blind", 0, 0, "-", "slats inside the glass"},
};
constexpr std::array furniture_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"at", KeyKind::lengths, "[x, y] m", -far_away, far_away, "", "its middle; for a model its origin"},
    Key{"from_floor", KeyKind::length, "m", -far_away, far_away, "0", "height of its underside"},
    Key{"size", KeyKind::lengths, "[width, depth, height] m", 0.001, far_away, "-",
        "of a box; needed without obj or picture"},
    Key{"turn", KeyKind::number, "degrees", -360, 360, "0",
        "anticlockwise seen from above; at 0 its front faces the near wall"},
    Key{"shape", KeyKind::word, "", 0, 0, "box", "what it is; it fills the size",
        "box|table|stool|chair|sofa|bed|shelf|drawers|counter|lamp foot|tree|car|house front"},
    Key{"finish", KeyKind::finish, "finish", 0, 0, "0.3", "for a model: materials not named"},
    Key{"obj", KeyKind::text, "path", 0, 0, "-", "a rough model (OBJ, glTF) instead of a box"},
    Key{"up", KeyKind::word, "", 0, 0, "z", "the axis of the model that points up; glTF default: y", "x|y|z|-x|-y|-z"},
    Key{"unit", KeyKind::word, "", 0, 0, "m", "the model's unit of length", "mm|cm|m|in|ft"},
    Key{"surfaces", KeyKind::table, "material = finish", 0, 0, "-",
        "for a model: the finish of each material, by name"},
    Key{"picture", KeyKind::text, "path", 0, 0, "-",
        "a photograph (PNG, JPEG, ...) hung up flat instead of a box: the view outside, or a painting"},
    Key{"width", KeyKind::length, "m", 0.01, far_away, "-", "for a picture: its width; its height follows"},
    Key{"reflectance", KeyKind::number, "share", 0.01, 0.8, "0.18",
        "for a picture: its mean reflectance, transparent parts apart"},
    Key{"gaps", KeyKind::number, "share", 0, 0.95, "0",
        "for a box: the share of light that passes straight through it, as through a tree"},
};
constexpr std::array day_keys{
    Key{"dark", KeyKind::yes_no, "", 0, 0, "false", "night, or blacked out: no sun, no sky"},
    Key{"date", KeyKind::named, "2026-10-14", 0, 0, "2026-06-21", ""},
    Key{"time", KeyKind::named, "\"11:00\"", 0, 0, "12:00", "the place's own clock"},
    Key{"time_zone", KeyKind::named, "\"Europe/Lisbon\", \"UTC+1\"", 0, 0, "-", "default: whole hours by longitude"},
    Key{"sky", KeyKind::named, "name of a sky, or \"CIE 12\"", 0, 0, "clear", ""},
    Key{"sun", KeyKind::yes_no, "", 0, 0, "-", "whether the disc shines; default: as the sky says"},
    Key{"sky_lux", KeyKind::number, "lx", 0, 200000, "-", "measured: sky alone on open level ground"},
    Key{"sun_lux", KeyKind::number, "lx", 0, 200000, "-", "measured: sun alone, receptor facing it"},
    Key{"sky_luminance", KeyKind::number, "cd/m2", 0, 100000, "-", "an even sky, for checks and rough work"},
    Key{"sky_kelvin", KeyKind::number, "K", 1000, 40000, "-", ""},
    Key{"sun_kelvin", KeyKind::number, "K", 1000, 40000, "-", ""},
};
constexpr std::array mark_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"at", KeyKind::lengths, "[x, y] m", -far_away, far_away, "",
        "where the person is; add a third number if the floor is raised"},
    Key{"facing", KeyKind::named, "name of a mark or thing, [x, y] m, or degrees", -360, 360, "",
        "degrees anticlockwise from x, seen from above"},
    Key{"head_turn", KeyKind::number, "degrees", -80, 80, "0", "the head alone, to the person's left"},
    Key{"head_tilt", KeyKind::number, "degrees", -40, 40, "0", "chin up, or down if negative"},
    Key{"gaze", KeyKind::named, "name of a mark, \"lens\", or [x, y, z] m", -far_away, far_away, "-",
        "what the eyes look at; default: straight on"},
    Key{"person", KeyKind::table, "[[mark]] person", 0, 0, "-", "who it is, as far as light cares"},
};
constexpr std::array lamp_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    like_key,
    Key{"shape", KeyKind::word, "", 0, 0, "-", "needed without luminaire", "hard|box|panel|ball|tube|ring"},
    Key{"luminaire", KeyKind::text, "path", 0, 0, "-",
        "a photometric file (.ies, .ldt); the path counts from the folder of the file that names it"},
    Key{"at", KeyKind::lengths, point_form, -far_away, far_away, "", "middle of what glows"},
    Key{"aim", KeyKind::named, aim_form, -far_away, far_away, "-",
        "what it points at: at a mark, the face; default: straight down (ball, tube and luminaire only)"},
    Key{"roll", KeyKind::number, "degrees", -360, 360, "0",
        "about the aim, clockwise seen from behind the lamp; a tube or wide box is level at 0"},
    Key{"size", KeyKind::lengths, "m, or [width, height] m", 0.001, 20, "-",
        "size of what glows; a tube: [length, diameter]; a ring: [outer, inner]"},
    Key{"beam", KeyKind::number, "degrees", 1, 170, "55", "hard only: full width at half the light"},
    Key{"field", KeyKind::number, "degrees", 1, 178, "-", "hard only: full width at a tenth; default: 1.5 beams"},
    Key{"grid", KeyKind::number, "degrees", 0, 120, "0", "box only: fabric grid, 0 for none"},
    Key{"output", KeyKind::named, "\"9000 lm\", \"5200 lx at 3 m\", \"20000 cd\", \"800 cd/m2\"", 0, 0, "-",
        "at full, before gel and grid; needed without luminaire"},
    Key{"kelvin", KeyKind::number, "K", 1000, 25000, "5600", "colour temperature before gel; tungsten: 3200 at full"},
    light_key,
    tint_key,
    Key{"gel", KeyKind::named, "name, table of mired and stops, or a list of these", 0, 0, "-", ""},
    Key{"level", KeyKind::named, "\"50%\", \"-1 stop\", 0.5", 0, 1, "1", "how far it is dimmed; 1 is full output"},
    Key{"on", KeyKind::yes_no, "", 0, 0, "true", ""},
    shade_key,
    watts_key,
    circuit_key,
};
constexpr std::array gel_keys{
    Key{"mired", KeyKind::number, "mired", -300, 300, "0", "orange positive, blue negative"},
    Key{"stops", KeyKind::number, "stops", 0, 10, "0", "light lost"},
    Key{"duv", KeyKind::number, "", -0.05, 0.05, "0", "shift to green; negative is a shift to magenta"},
};

// What is the same for everything flat on a stand.
constexpr Key panel_name{"name", KeyKind::text, "text", 0, 0, "", ""};
constexpr Key panel_at{"at", KeyKind::lengths, point_form, -far_away, far_away, "", "its middle"};
constexpr Key panel_facing{"facing", KeyKind::named, aim_form, -far_away, far_away, "", "what its working side faces"};
constexpr Key panel_roll{"roll", KeyKind::number, "degrees", -360, 360, "0", "clockwise seen from behind; level at 0"};
constexpr Key panel_size(std::string_view standard) {
    return {"size", KeyKind::lengths, "m, or [width, height] m", 0.01, 20, standard, ""};
}
constexpr std::array board_keys{
    panel_name,
    like_key,
    panel_at,
    panel_facing,
    panel_roll,
    panel_size("[1.2, 1.2]"),
    Key{"finish", KeyKind::finish, "finish", 0, 0, "white foam board", ""},
};
constexpr std::array flag_keys{
    panel_name,
    like_key,
    panel_at,
    panel_facing,
    panel_roll,
    panel_size("[0.6, 0.9]"),
    Key{"finish", KeyKind::finish, "finish", 0, 0, "black cloth", ""},
};
constexpr std::array cloth_keys{
    panel_name,
    like_key,
    panel_at,
    panel_facing,
    panel_roll,
    panel_size("[1.2, 1.2]"),
    Key{"kind", KeyKind::named, "name of a cloth", 0, 0, "-", "or give a finish with through and straight"},
    Key{"finish", KeyKind::finish, "finish", 0, 0, "-", ""},
};
constexpr std::array net_keys{
    panel_name,
    like_key,
    panel_at,
    panel_facing,
    panel_roll,
    panel_size("[0.6, 0.9]"),
    Key{"kind", KeyKind::word, "", 0, 0, "single", "half a stop or one stop", "single|double"},
    Key{"stops", KeyKind::number, "stops", 0, 5, "-", "light lost, instead of kind"},
};
constexpr std::array meter_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"at", KeyKind::named, "name of a mark, or [x, y, z] m", -far_away, far_away, "",
        "a mark: a hand in front of its face"},
    Key{"facing", KeyKind::named, "[x, y, z] m, up, down, or name of a mark or camera", -far_away, far_away, "-",
        "default: up; at a mark, the way it faces"},
    Key{"receptor", KeyKind::word, "", 0, 0, "flat", "", "flat|dome"},
};
constexpr std::array setup_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"camera", KeyKind::named, "name of a camera", 0, 0, "-", "default: the first"},
    Key{"notes", KeyKind::text, "text", 0, 0, "-", "a note to the crew, printed in the brief"},
    Key{"minutes", KeyKind::number, "min", 1, 1440, "45", "for rigging and shooting it"},
    Key{"needs", KeyKind::named, "list of marks", 0, 0, "-", "who must be there; default: everybody"},
    Key{"day", KeyKind::table, "[day]", 0, 0, "-", "keys of the day that differ"},
    Key{"change", KeyKind::table, "change.KIND.NAME", 0, 0, "-", "keys of things in the base rig that differ"},
    Key{"remove", KeyKind::named, "list of names", 0, 0, "-", "things to take away from the base rig"},
    Key{"add", KeyKind::table, "[[setup.add.KIND]]", 0, 0, "-", "things to put in"},
};
constexpr std::array option_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"setups", KeyKind::named, "list of set-up names", 0, 0, "-", "default: all"},
    Key{"notes", KeyKind::text, "text", 0, 0, "-", "a note to the crew, printed in the brief"},
    Key{"day", KeyKind::table, "[day]", 0, 0, "-", "keys of the day that differ"},
    Key{"change", KeyKind::table, "change.KIND.NAME", 0, 0, "-", "keys of things in the set-up that differ"},
    Key{"remove", KeyKind::named, "list of names", 0, 0, "-", "things to take away from the set-up"},
    Key{"add", KeyKind::table, "[[option.add.KIND]]", 0, 0, "-", "things to put in"},
};

constexpr std::array sections{
    Section{"the file", "Keys at the top of the file.", file_keys},
    Section{"[place]", "The place as scouted.", place_keys},
    Section{"[place] room", "A room that is a box.", room_keys},
    Section{"[place.surfaces]", "Finishes of that box.", surface_keys},
    Section{"finish", "A finish is a name from the catalogue, a reflectance, or a table of these.", finish_keys},
    Section{"[[place.opening]]", "A hole that light comes through.", opening_keys},
    Section{"[[place.opening]] blind", "Slats inside the glass, traced one by one.", blind_keys},
    Section{"[[place.furniture]]", "What is in the room or outside it, the building opposite included.",
            furniture_keys},
    Section{"[place.model]", "The room from a rough model.", model_keys},
    Section{"opening surface", "A material of a rough model that stands for windows.", model_surface_keys},
    Section{"[day]", "What lights the place from outside.", day_keys},
    Section{"[[mark]]", "Where a person is, and which way body and head face.", mark_keys},
    Section{"[[mark]] person", "The stand-in.", person_keys},
    Section{"[[lamp]]", "Anything that makes light and is plugged in.", lamp_keys},
    Section{"[[lamp]] shade", "A drum or cone round a bulb, open above and below.", shade_keys},
    Section{"gel", "A colour filter by numbers.", gel_keys},
    Section{"[[board]]", "Bounces light.", board_keys},
    Section{"[[flag]]", "Blocks light.", flag_keys},
    Section{"[[cloth]]", "Scatters light through.", cloth_keys},
    Section{"[[net]]", "Cuts light without softening it.", net_keys},
    Section{"[[camera]]", "The camera.", camera_keys},
    Section{"[camera_body]", "What all cameras of the file share. Any of them can override it.", body_keys},
    Section{"[[meter]]", "A meter placed by hand.", meter_keys},
    Section{"[[measured]]", "A reading from the scout on a clear set, one source alone: that source is scaled to it.",
            measured_keys},
    Section{"[[circuit]]", "Sockets behind one breaker. rushlight adds up watts; it does not approve anything.",
            circuit_keys},
    Section{"[[setup]]", "One camera position with its changes.", setup_keys},
    Section{"[[option]]", "A variation, tried on one or more set-ups. \"as found\" is always there.", option_keys},
    Section{"a kit file", "A file of its own, shared between jobs.", kit_file_keys},
    Section{"kit item", "What a [[lamp]], [[board]], [[flag]], [[cloth]] or [[net]] of a kit file may also have.",
            kit_item_keys},
    Section{"[[part]]", "What several items of a kit file share, counted over all of them.", part_keys},
    Section{"[[target]]", "What a reading should be, for `balance`.", target_keys},
    Section{"[balance]", "What `balance` may change.", balance_keys},
    Section{"[[balance.move]]", "A lamp or panel that `balance` may move, if levels alone are not enough.", move_keys},
};

std::string range_of(const Key& k) {
    if (k.kind == KeyKind::word) {
        std::string words(k.words);
        for (std::size_t i = 0; (i = words.find('|', i)) != std::string::npos; i += 2) words.replace(i, 1, ", ");
        return words;
    }
    if (k.kind == KeyKind::yes_no) return k.unit.empty() ? "true, false" : std::string(k.unit);
    std::string text(k.unit);
    const std::string_view share = "share";
    if (text.starts_with(share)) text.replace(0, share.size(), "fraction or %");
    if (k.low == k.high) return text;
    return text + (text.empty() ? "" : ", ") + plain(k.low) + " to " + plain(k.high);
}

std::string standard_of(const Key& k) {
    if (k.standard.empty()) return "**needed**";
    return k.standard == "-" ? "" : std::string(k.standard);
}

}  // namespace

std::span<const Section> key_table() {
    return sections;
}

const Section& section(std::string_view name) {
    const auto* s = std::find_if(sections.begin(), sections.end(), [&](const Section& x) { return x.name == name; });
    if (s == sections.end()) throw std::logic_error("no section " + std::string(name));
    return *s;
}

const Key* find_key(const Section& in, std::string_view name) {
    const auto named = [&](std::string_view wanted) -> const Key* {
        for (const Key& k : in.keys)
            if (k.name == wanted) return &k;
        return nullptr;
    };
    const Key* own = named(name);
    return own ? own : named(key_in_our_words(name));
}

std::vector<std::string> key_names(const Section& in) {
    std::vector<std::string> names;
    for (const Key& k : in.keys) names.emplace_back(k.name);
    return names;
}

std::string key_reference() {
    std::string page;
    for (const Section& s : sections) {
        page += "### `" + std::string(s.name) + "`\n\n" + std::string(s.help) +
                "\n\n| key | value | default | meaning |\n|---|---|---|---|\n";
        for (const Key& k : s.keys)
            page += "| `" + std::string(k.name) + "` | " + range_of(k) + " | " + standard_of(k) + " | " +
                    std::string(k.help) + " |\n";
        page += "\n";
    }
    return page;
}

}  // namespace rushlight
