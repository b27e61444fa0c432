#include "setup/plain/content.h"

#include "quantity/kept.h"
#include "setup/luminaire/luminaire.h"

namespace rushlight {

namespace {

// Every struct is taken apart by name, so that none of its fields can be forgotten.

void add(Content& c, const Finish& f) {
    const auto& [name, reflectance, through, spread, straight, gloss, roughness, metal, pane, index, transmittance,
                 pattern] = f;
    c << name << reflectance << through << spread << straight << gloss << roughness << metal << pane << index
      << transmittance << pattern;
}

void add(Content& c, const Blind& b) {
    const auto& [slat, pitch, tilt, drawn, upright, finish] = b;
    c << slat << pitch << tilt << drawn << upright;
    add(c, finish);
}

void add(Content& c, const Shade& s) {
    const auto& [top, bottom, height, lift, finish] = s;
    c << top << bottom << height << lift;
    add(c, finish);
}

template <class Thing>
void add(Content& c, const std::optional<Thing>& thing) {
    c << thing.has_value();
    if (thing) add(c, *thing);
}

void add(Content& c, const Opening& o) {
    const auto& [name, wall, from, to, sill, head, bars, glazed, glass, nd_density, gel, curtain, blind] = o;
    c << name << wall << from << to << sill << head << bars << glazed << glass << nd_density << gel;
    add(c, curtain);
    add(c, blind);
}

void add(Content& c, const Box& b) {
    const auto& [name, centre, size, turn, shape, finish] = b;
    c << name << centre << size << turn << shape;
    add(c, finish);
}

void add(Content& c, const Triangles& t) {
    const auto& [positions, faces, finishes] = t;
    c << positions << faces.size();
    for (const auto& [corner, finish] : faces) c << corner[0] << corner[1] << corner[2] << finish;
    c << finishes.size();
    for (const Finish& f : finishes) add(c, f);
}

/// Its triangles stand where they are: what it is called, and from where they were moved there, changes no light.
void add(Content& c, const Model& m) {
    const auto& [name, triangles, at, turn] = m;
    static DerivedFrom<Triangles, std::string> fingerprints;  // they are large
    c << *fingerprints.get(triangles, [&model = *triangles] {
        Content content;
        add(content, model);
        return std::make_shared<const std::string>(content.fingerprint());
    });
}

void add(Content& c, const OpeningPatch& p) {
    const auto& [name, triangles, glass, glazed, bars, nd_density, curtain] = p;
    c << name << glass << glazed << bars << nd_density << triangles.size();
    add(c, curtain);
    for (const auto& t : triangles) c << t[0] << t[1] << t[2];
}

void add(Content& c, const Room& r) {
    const auto& [width, depth, height, wall_thickness, finish, openings] = r;
    c << width << depth << height << wall_thickness << openings.size();
    for (const Finish& f : finish) add(c, f);
    for (const Opening& o : openings) add(c, o);
}

void add(Content& c, const Place& p) {
    const auto& [name, latitude, longitude, near_wall_faces, ground_reflectance, has_room, room, boxes, models,
                 model_openings, lower, upper] = p;
    c << name << latitude << longitude << near_wall_faces << ground_reflectance << has_room << lower << upper;
    add(c, room);
    c << boxes.size() << models.size() << model_openings.size();
    for (const Box& b : boxes) add(c, b);
    for (const Model& m : models) add(c, m);
    for (const OpeningPatch& o : model_openings) add(c, o);
}

void add(Content& c, const Day& d) {
    const auto& [dark, year, month, day, clock_hours, utc_offset_hours, sky, sky_lux, sun_lux, luminance, sky_kelvin,
                 sun_kelvin, factor] = d;
    const auto& [cie_type, sun] = sky;
    c << dark << year << month << day << clock_hours << utc_offset_hours << cie_type << sun << sky_lux << sun_lux
      << luminance << sky_kelvin << sun_kelvin << factor;
}

void add(Content& c, const Mark& m) {
    const auto& [name, at, facing, head_turn, head_tilt, gaze, at_lens, person] = m;  // the lens is in gaze
    const auto& [height, sex, age, build, face, expression, pose, seat, hands, table, skin, hair, hair_warmth, cut,
                 wave, wear, wardrobe, wardrobe_hue, shirt, shirt_hue, glasses, lenses, from, until] =
        person;  // hours change no light
    c << name << at << facing << head_turn << head_tilt << gaze.has_value() << gaze.value_or(Vec3(0)) << height << sex
      << age << build << face << expression << pose << seat << hands << table << skin << hair << hair_warmth << cut
      << wave << wear << wardrobe << wardrobe_hue << shirt.has_value() << shirt.value_or(0) << shirt_hue << glasses
      << lenses;
}

void add(Content& c, const IntensityTable& t) {
    c << t.type() << t.polar() << t.around() << t.candela();
}

void add(Content& c, const Lamp& l) {
    const auto& [name, shape, at, aim, aimed_at, roll, width, height, beam, field, grid, intensity_or_flux, output,
                 level, on, luminaire, depth, shade, light, kelvin, gel, gel_words, kit_item, watts, circuit] = l;
    // Level and gel are put on afterwards, the gel's name is for people; kelvin and kind are in the light already; its
    // kit and plug give none.
    c << name << shape << at << aim << roll << width << height << beam << field << grid << intensity_or_flux << output
      << depth << l.burning().dark() << (luminaire != nullptr);
    if (luminaire) {
        static DerivedFrom<Luminaire, std::string> fingerprints;  // one may hang in a thousand lamps
        c << *fingerprints.get(luminaire, [&table = luminaire->intensity] {
            Content content;
            add(content, table);
            return std::make_shared<const std::string>(content.fingerprint());
        });
    }
    add(c, shade);
}

void add(Content& c, const Panel& p) {
    const auto& [name, kind, at, facing, faces, roll, width, height, finish, kit_item] = p;
    c << name << kind << at << facing << roll << width << height;
    add(c, finish);
}

}  // namespace

void add_content(Content& content, const Setup& setup) {
    add(content, setup.place);
    add(content, setup.day);
    const auto& [marks, lamps, panels, cameras, meters, circuits, measured] = setup.rig;
    content << marks.size() << lamps.size() << panels.size();
    for (const Mark& m : marks) add(content, m);
    for (const Lamp& l : lamps) add(content, l);
    for (const Panel& p : panels) add(content, p);
}

void add_content(Content& content, const Finish& finish) {
    add(content, finish);
}

void add_content(Content& content, const OpeningPatch& opening) {
    add(content, opening);
}

}  // namespace rushlight
