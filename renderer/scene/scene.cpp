#include "scene/scene.h"

#include "quantity/kept.h"
#include "quantity/units.h"
#include "scene/furniture/furniture.h"
#include "scene/gets_in.h"
#include "scene/light/sky.h"
#include "scene/room.h"
#include "setup/plain/content.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <future>
#include <map>
#include <thread>

namespace rushlight {

namespace {

/// A filter on the inside of the glass, a hair away from it.
Mesh gel_sheet(Rectangle hole, const Spectrum& shares) {
    hole.centre += hole.normal * 0.003F;
    Finish f;
    f.name = "gel";
    f.reflectance = Spectrum{0.0F};
    f.straight = shares;
    return rectangle_mesh(hole, f);
}

void add_room(const Room& room, Scene& scene, Openings& openings) {
    for (std::size_t w = 0; w < wall_words.size(); ++w)
        add_part(scene, wall_mesh(room, static_cast<Wall>(w)), PartKind::room, full_name(static_cast<Wall>(w)));
    for (const Opening& o : room.openings) {
        if (room.wall_thickness > 0) add_part(scene, reveal_mesh(room, o), PartKind::room, o.name + ", reveal");
        const Rectangle hole = opening_rectangle(room, o);
        if (const auto glass = glass_of(o.glazed, o.glass, o.bars, o.nd_density))
            add_part(scene, rectangle_mesh(hole, *glass), PartKind::pane, o.name + ", glass");
        if (o.gel != Spectrum{1.0F}) add_part(scene, gel_sheet(hole, o.gel), PartKind::pane, o.name + ", gel");
        if (o.blind) add_part(scene, blind_mesh(room, o, *o.blind), PartKind::panel, o.name + ", blind");
        if (o.curtain) {
            Rectangle sheet = hole;
            sheet.centre += hole.normal * static_cast<float>(room.wall_thickness + 0.03);
            sheet.half_width += 0.08F;
            sheet.half_height += 0.08F;
            add_part(scene, rectangle_mesh(sheet, *o.curtain), PartKind::panel, o.name + ", curtain");
        }
        openings.rectangles.push_back(hole);
    }
}

void add_model_opening(const OpeningPatch& patch, const Vec3& inside, Scene& scene, Openings& openings) {
    if (patch.triangles.empty()) return;  // a material that no face has
    for (const Rectangle& opening : rectangles_of(patch, inside)) openings.rectangles.push_back(opening);
    Mesh pane;
    for (const auto& t : patch.triangles) {
        const auto first = static_cast<std::uint32_t>(pane.positions.size());
        pane.positions.insert(pane.positions.end(), t.begin(), t.end());
        pane.triangles.push_back({first, first + 1, first + 2});
    }
    if (const auto glass = glass_of(patch.glazed, patch.glass, patch.bars, patch.nd_density)) {
        pane.finish = *glass;
        add_part(scene, pane, PartKind::pane, patch.name);
    }
    if (patch.curtain) {
        pane.finish = *patch.curtain;
        for (Vec3& p : pane.positions) p += (inside - p).normalized() * 0.03F;
        add_part(scene, pane, PartKind::panel, patch.name + ", curtain");
    }
}

Vec3 middle_of(const Triangles& t) {
    if (t.positions.empty()) return {0, 0, 0};
    Vec3 lower = t.positions.front(), upper = lower;
    for (const Vec3& p : t.positions)
        for (int i = 0; i < 3; ++i) {
            lower[i] = std::min(lower[i], p[i]);
            upper[i] = std::max(upper[i], p[i]);
        }
    return (lower + upper) * 0.5F;
}

/// One mesh a finish: corners are copied only where used.
std::vector<Mesh> by_finish(const Triangles& t) {
    std::vector<Mesh> meshes(t.finishes.size());
    std::vector<std::map<std::uint32_t, std::uint32_t>> renumbered(t.finishes.size());
    for (const auto& face : t.faces) {
        Mesh& m = meshes.at(face.finish);
        auto& number = renumbered[face.finish];
        std::array<std::uint32_t, 3> corners{};
        for (std::size_t i = 0; i < 3; ++i) {
            const auto [at, fresh] = number.try_emplace(face.corner[i], static_cast<std::uint32_t>(m.positions.size()));
            if (fresh) m.positions.push_back(t.positions.at(face.corner[i]));
            corners[i] = at->second;
        }
        m.triangles.push_back(corners);
    }
    return meshes;
}

void add_triangles(const std::shared_ptr<const Triangles>& t, Scene& scene, PartKind kind) {
    static DerivedFrom<Triangles, std::vector<Mesh>> kept;
    const auto meshes = kept.get(t, [&] { return std::make_shared<const std::vector<Mesh>>(by_finish(*t)); });
    for (std::size_t i = 0; i < meshes->size(); ++i) {
        const Mesh& one = (*meshes)[i];
        if (one.triangles.empty()) continue;  // a finish that no face has
        const std::shared_ptr<const Mesh> made(meshes, &one);
        add_part(scene, PlacedMesh{made, {}, t->finishes[i]}, kind, t->finishes[i].name);
    }
}

/// Whoever stands on the marks, made side by side.
std::vector<Figure> people_on(const std::vector<Mark>& marks) {
    std::vector<Figure> people(marks.size());
    std::atomic<std::size_t> next = 0;
    const auto make = [&] {
        for (std::size_t i = next++; i < marks.size(); i = next++) people[i] = stand_in(marks[i]);
    };
    std::vector<std::future<void>> at_work;
    const std::size_t hands = std::min<std::size_t>(std::thread::hardware_concurrency(), marks.size());
    for (std::size_t i = 1; i < hands; ++i) at_work.push_back(std::async(std::launch::async, make));
    make();
    for (std::future<void>& w : at_work) w.get();
    return people;
}

Figure add_figure(const Mark& mark, Figure figure, int number, Scene& scene) {
    const std::pair<const std::vector<PlacedMesh>*, PartKind> groups[] = {{&figure.skin, PartKind::skin},
                                                                          {&figure.wardrobe, PartKind::wardrobe},
                                                                          {&figure.eyes, PartKind::eyes},
                                                                          {&figure.rims, PartKind::glasses},
                                                                          {&figure.lens_glass, PartKind::pane}};
    for (const auto& [meshes, kind] : groups)
        for (const PlacedMesh& m : *meshes)
            if (!m.made->triangles.empty()) add_part(scene, m, kind, mark.name + ", " + m.made->name, number);
    if (figure.hair_fibre) {
        const std::uint32_t surface = scene.rays.add_surface(Surface(*figure.hair_fibre));
        for (const PlacedFibres& f : figure.hair)
            scene.rays.add(f, {mark.name + ", " + f.made->name, PartKind::hair, surface, -1, number});
    }
    return figure;
}

Light light_of(const Lamp& lamp) {
    if (lamp.luminaire) return LuminaireLamp(lamp);
    switch (lamp.shape) {
        case LampShape::hard:
            return HardLamp(lamp);
        case LampShape::box:
            return BoxLamp(lamp);
        case LampShape::tube:
            return TubeLamp(lamp);
        case LampShape::ring:
            return RingLamp(lamp);
        case LampShape::ball:
            break;
    }
    return BallLamp(lamp);
}

void add_outside(const Daylight& daylight, const std::shared_ptr<const Openings>& openings, Lights& lights) {
    if (daylight.sun) lights.add("sun", SunLight(daylight, openings));
    if (!daylight.zenith_radiance.dark() || !daylight.ground_radiance.dark())
        lights.add("sky", SkyLight(daylight, openings));
}

}  // namespace

Lights lights_under(const Daylight& outside, const Scene& scene, const Rig& rig, bool lamps_burn) {
    Lights lights;
    for (Lamp lamp : rig.lamps) {
        lamp.on = lamp.on && lamps_burn;
        lights.add(lamp.name, light_of(lamp));
    }
    add_outside(outside, scene.holes, lights);
    lights.settle(scene.mirrors);
    lights.start_by(scene.gets_in);
    Content content;
    content << lamps_burn;
    add_content(content, outside);
    lights.content = content.fingerprint();
    return lights;
}

std::string Scene::fingerprint() const {
    return (Content() << content << lights.content << lights.layers()).fingerprint();
}

int Scene::mirror_at(const Hit& hit) const {
    for (std::size_t i = 0; i < mirrors.size(); ++i)
        if (mirrors[i].face.part == hit.part && mirrors[i].face.holds(hit.position, hit.normal))
            return static_cast<int>(i);
    return -1;
}

namespace {

// Wider than this, what it mirrors is spread so far that it need not be looked for.
constexpr float narrow_gloss = 0.15F;
// Every step of a walk asks all that are remembered: what a crowd of more shows is left to walks that come by. Panes
// come first, and must leave room for a mirror that stands on the floor.
constexpr std::size_t most_remembered = 96, most_panes = 32, most_images = 4000;

/// A finish in all its tones becomes the part's.
void put_on(Scene& scene, Part& part, const Finish& finish, bool rounded, const PatternLie& lie) {
    const auto surface_of = [&](const Finish& f) { return rounded ? Surface::of_rounded(f) : Surface(f); };
    const Surface even = surface_of(finish);
    // A sharp coat turns walks by a chance that must be the same all over it.
    const std::vector<Finish> tones = even.sharp() ? std::vector<Finish>{} : tones_of(finish);
    part.surface = scene.rays.add_surface(tones.empty() ? even : surface_of(tones.front()));
    if (tones.empty()) return;
    for (std::size_t i = 1; i < tones.size(); ++i) scene.rays.add_surface(surface_of(tones[i]));
    part.pattern = std::make_shared<const Pattern>(finish.pattern, lie);
}

/// Metal that mirrors with little blur: what it shows is worth a look.
bool shines(const Surface& s) {
    return s.metal_share > 0 && s.alpha <= narrow_gloss;
}

Thrower ball_round(const Mesh& mesh, float share) {
    Vec3 low = mesh.positions.front(), high = low;
    for (const Vec3& p : mesh.positions)
        for (int i = 0; i < 3; ++i) low[i] = std::min(low[i], p[i]), high[i] = std::max(high[i], p[i]);
    return {(low + high) * 0.5F, (high - low).length() / 2, share};
}

/// Remembers the flat faces of what mirrors.
void note_mirrors(Scene& scene, const Mesh& mesh, std::uint32_t part) {
    const Surface& s = scene.rays.surface(scene.rays.part(part).surface);
    const bool bright = shines(s);
    if (!s.sharp() && !bright) return;
    const float share = s.sharp() ? s.mirrored_at(1.0F).largest() : s.metal_share;
    const std::vector<FlatFace> faces = flat_faces(mesh, part);
    bool all = !faces.empty();
    for (const FlatFace& face : faces) {
        const bool room = scene.mirrors.size() < (s.pane ? most_panes : most_remembered);
        const bool room_to_aim = scene.shining.rectangles.size() < most_remembered;
        if (s.sharp() && room) scene.mirrors.push_back({face, share, s.pane});
        if (bright && room_to_aim) scene.shining.rectangles.push_back(face.rectangle);
        all = all && (s.sharp() ? room : room_to_aim);
    }
    if (!all) scene.throwers.push_back(ball_round(mesh, share));
}

}  // namespace

std::uint32_t add_part(Scene& scene, const Mesh& mesh, PartKind kind, std::string name, int mark, int light) {
    Part part{std::move(name), kind, 0, light, mark};
    put_on(scene, part, mesh.finish, mark >= 0 || !mesh.normals.empty(), mesh.lie);
    const std::uint32_t number = scene.rays.add(mesh, std::move(part));
    note_mirrors(scene, mesh, number);
    return number;
}

std::uint32_t add_part(Scene& scene, const PlacedMesh& mesh, PartKind kind, std::string name, int mark) {
    Part part{std::move(name), kind, 0, -1, mark};
    put_on(scene, part, mesh.finish, mark >= 0 || !mesh.made->normals.empty(), mesh.made->lie);
    const Surface surface = scene.rays.surface(part.surface);
    const std::uint32_t number = scene.rays.add(mesh.made, mesh.at, std::move(part));
    // A mesh is put in its place, which copies it, only where there is something to remember.
    if ((surface.sharp() || shines(surface)) && mesh.made->normals.empty()) note_mirrors(scene, in_place(mesh), number);
    return number;
}

Mesh shade_mesh(const Vec3& bulb, const Shade& shade) {
    constexpr int sides = 48;
    // Cut by chords, a ring keeps its girth: so does the light that goes out through it.
    const double swell = (pi / sides) / std::sin(pi / sides);
    const auto ring = [&](double diameter, double z, int i) {
        const double r = diameter / 2 * swell, a = 2 * pi * i / sides;
        return bulb + Vec3(static_cast<float>(r * std::cos(a)), static_cast<float>(r * std::sin(a)),
                           static_cast<float>(shade.lift + z));
    };
    const double h = shade.height / 2;
    Mesh m;
    m.finish = shade.finish;
    for (int i = 0; i < sides; ++i)
        add_quad(m, ring(shade.bottom, -h, i), ring(shade.bottom, -h, i + 1), ring(shade.top, h, i + 1),
                 ring(shade.top, h, i));
    return m;
}

void add_lamp(Scene& scene, const Lamp& lamp) {
    if (lamp.shade) add_part(scene, shade_mesh(lamp.at, *lamp.shade), PartKind::panel, lamp.name + ", shade");
    const int number = static_cast<int>(scene.lights.count());
    Finish black;
    black.reflectance = Spectrum{0.0F};
    Light light = light_of(lamp);
    std::visit(
        [&](const auto& l) {
            if constexpr (requires { l.glow(); }) {
                Mesh face = l.glow();
                face.finish = black;
                add_part(scene, face, PartKind::lamp, lamp.name, -1, number);
            } else if constexpr (requires { l.radius(); }) {
                scene.rays.add_sphere(l.centre(), l.radius(),
                                      {lamp.name, PartKind::lamp, scene.rays.add_surface(Surface(black)), number, -1});
            }
        },
        light);
    scene.lights.add(lamp.name, std::move(light));
}

Scene build_scene(const Setup& setup) {
    Scene scene;
    auto openings = std::make_shared<Openings>();
    const Place& place = setup.place;
    openings->closed = place.has_room;
    // Inside reaches into the reveals, just not as far as the glass; walls themselves are well within.
    const float reveal = place.has_room ? 0.98F * static_cast<float>(place.room.wall_thickness) : 0.0F;
    openings->lower = place.lower - Vec3(reveal, reveal, reveal);
    openings->upper = place.upper + Vec3(reveal, reveal, reveal);

    if (place.has_room) add_room(place.room, scene, *openings);
    const Vec3 inside = (place.lower + place.upper) * 0.5F;
    for (const OpeningPatch& patch : place.model_openings) add_model_opening(patch, inside, scene, *openings);
    const auto kind_at = [&](const Vec3& middle) {
        return openings->inside(middle) ? PartKind::furniture : PartKind::outside;
    };
    for (const Model& model : place.models) {
        const bool is_room = !place.has_room && &model == &place.models.front();
        add_triangles(model.triangles, scene, is_room ? PartKind::room : kind_at(middle_of(*model.triangles)));
    }
    for (const Box& box : place.boxes)
        for (const Mesh& mesh : furniture_meshes(box)) add_part(scene, mesh, kind_at(box.centre), box.name);

    std::vector<Figure> people = people_on(setup.rig.marks);
    for (std::size_t i = 0; i < people.size(); ++i)
        scene.figures.push_back(add_figure(setup.rig.marks[i], std::move(people[i]), static_cast<int>(i), scene));
    for (const Panel& panel : setup.rig.panels)
        add_part(scene,
                 rectangle_mesh(facing_rectangle(panel.at, panel.facing, panel.roll, panel.width, panel.height),
                                panel.finish),
                 PartKind::panel, panel.name);
    for (const Lamp& lamp : setup.rig.lamps) add_lamp(scene, lamp);

    scene.holes = openings;
    const Daylight daylight = daylight_at(place, setup.day);
    add_outside(daylight, openings, scene.lights);
    if (daylight.lit && !openings->rectangles.empty()) scene.openings = openings;
    if (const std::size_t most = most_images / std::max<std::size_t>(1, scene.lights.count());
        scene.mirrors.size() > most) {
        for (std::size_t i = most; i < scene.mirrors.size(); ++i) {
            const Rectangle& face = scene.mirrors[i].face.rectangle;
            scene.throwers.push_back(
                {face.centre, std::hypot(face.half_width, face.half_height), scene.mirrors[i].share});
        }
        scene.mirrors.resize(most);
    }
    scene.lights.settle(scene.mirrors);
    scene.rays.commit();
    for (std::size_t i = 0; i < setup.rig.lamps.size(); ++i) {
        const bool outside = openings->closed && !openings->inside(setup.rig.lamps[i].at);
        scene.gets_in.push_back(outside ? share_that_gets_in(scene, i) : 1.0F);
    }
    scene.lights.start_by(scene.gets_in);
    Content content;
    add_content(content, setup);
    for (const Lamp& lamp : setup.rig.lamps) content << lamp.burning();
    scene.content = content.fingerprint();
    return scene;
}

}  // namespace rushlight
