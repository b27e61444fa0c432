// Lessons 1 and 2: how far the source is, how large it is.

#include "lessons/lessons.h"
#include "validation/references/references.h"

#include <algorithm>

namespace rushlight::lessons {
namespace {

const std::string one = "01-fall-off", two = "02-softness";

constexpr double put_down =
    0.003;  // m: a meter that is put on a card or a wall stands so far off it (paths/put_down.h)
// m: strip over the meters, meters off the edge of its shadow
constexpr double gap = 0.030 - put_down, off = 0.0035;

Number wall_under_face(Runs& runs, const std::string& key, const std::string& option, const std::string& words,
                       double to_face) {
    const View v{one, option};
    // The meter is put on the wall.
    return {key,
            "wall under the face, lamp " + words + " away",
            "stops",
            2,
            [&runs, v] { return stops_over(runs.lux(v, "face"), runs.lux(v, "wall")); },
            2 * std::log2((to_face + 1 - put_down) / to_face),
            "2 log2((d + 1 m) / d)",
            0.01};  // her hair sends a little back to the wall
}

/// Light on the card's meter `u` to the shadow's side of the edge, of a square source at `distance`: the part of the
/// source that the strip leaves to be seen.
double past_the_strip(double side, double distance, double u) {
    const double last = u < -2 * off ? side / 2 : std::clamp(-u * (distance / gap - 1), -side / 2, side / 2);
    return validation::parallel_rectangle(1, -side / 2 - u, last - u, -side / 2, side / 2, distance);
}

/// Width that the edge has if it goes on as steeply as it is in its middle.
Measured edge_width(Runs& runs, const std::string& option) {
    const View v{two, option};
    const Measured light = runs.lux(v, "3.5 mm into the light"), dark = runs.lux(v, "3.5 mm into the shadow"),
                   all = runs.lux(v, "in the light");
    const double step = light.value - dark.value, width = 2e3 * off * all.value / step;
    return {width, width * std::hypot(std::hypot(light.error, dark.error) / step, all.relative_error())};
}

Number edge(Runs& runs, const std::string& key, const std::string& option, const std::string& words, double side,
            double distance) {
    const double d = distance - put_down;
    const double expected =
        2e3 * off * past_the_strip(side, d, -0.06) / (past_the_strip(side, d, -off) - past_the_strip(side, d, off));
    return {key,
            "edge of a shadow 30 mm off, " + words,
            "mm",
            1,
            [&runs, option] { return edge_width(runs, option); },
            expected,
            "configuration factor of the part of a rectangle that is seen (Lambert)"};
}

}  // namespace

Lesson fall_off() {
    Lesson l;
    l.file = one;
    l.title = "1. Fall-off";
    l.law = "Light from a small source falls with the square of the distance: twice as far, a quarter, two stops.";
    l.formula = "E = I / d², so the wall is 2 log2(d_wall / d_face) stops under the face";
    l.source = "inverse square law (Kepler 1604, Lambert 1760; any photometry text)";
    l.guess =
        "A bare bulb is 1 m from her face, and the wall is 1 m behind her. Then the bulb goes back to 3 m, or "
        "comes in to half a metre, and is dimmed or raised until her face gets the same light. Nothing else "
        "moves. How many stops down is the wall, each time?";
    l.picture = "The same light on the face each time, and one stop on the lens.";
    l.panels = {{"bulb at 0.5 m", {one, "from 0.5 m"}}, {"bulb at 1 m", {one}}, {"bulb at 3 m", {one, "from 3 m"}}};
    l.exposed_for = "face";
    l.opened = 1.2;
    l.numbers = [](Runs& runs) {
        return std::vector<Number>{wall_under_face(runs, "half", "from 0.5 m", "0.5 m", 0.5),
                                   wall_under_face(runs, "one", "as found", "1 m", 1),
                                   wall_under_face(runs, "three", "from 3 m", "3 m", 3)};
    };
    l.why =
        "What counts is the ratio of the two distances, not their difference. With the bulb at 1 m the wall is "
        "twice as far as the face: {one!} stops. At 3 m it is only a third farther away than she "
        "is: {three!}. A near source lights "
        "the "
        "person and leaves the room alone; a far one lights everything alike. The price of distance is light: "
        "for the same face the bulb has to be nine times as strong at 3 m.\n\n"
        "The law is for a source that is small compared with its distance. Nearer than about five times its own size, "
        "a large source falls off more slowly.\n";
    l.command = "build/rushlight read scenes/lessons/01-fall-off.toml --option \"from 3 m\" --against \"as found\"";
    l.exercise =
        "You want the wall three stops under the face, and the bulb has to stay 1.2 m from her. How far behind "
        "her must the wall be? Work it out, then move the mark, the bulb and the meter `face` in a copy of the "
        "file, and run `read`.";
    l.answer =
        "Three stops are a factor of 8 in light, so √8 = 2.83 in distance: the wall must be 1.2 × 2.83 = 3.39 m from "
        "the bulb, 2.2 m behind her.";
    return l;
}

Lesson softness() {
    Lesson l;
    l.file = two;
    l.title = "2. Softness";
    l.law = "How soft a light is depends on how large it looks from the face: its size over its distance.";
    l.formula = "width of a shadow's edge = gap × size / distance";
    l.source = "similar triangles; the exact profile from the configuration factor of a rectangle";
    l.guess =
        "A soft box of 0.9 m stands 1.5 m from her face. Then the same box goes to 3 m; then a bare head with a "
        "22 mm emitter takes its place. Each gives her the same light. Her nose sticks out some 30 mm from her cheek. "
        "How wide is the edge of its shadow, each time?";
    l.picture =
        "Beside her a card, and a black strip 30 mm in front of it: the strip's shadow has the same edge as her "
        "nose's.";
    l.panels = {{"0.9 m box at 1.5 m", {two}},
                {"the same box at 3 m", {two, "the same at 3 m"}},
                {"bare head, 22 mm, at 3 m", {two, "a bare head at 3 m"}}};
    l.exposed_for = "in the light";
    l.opened = 0.8;
    l.numbers = [](Runs& runs) {
        return std::vector<Number>{edge(runs, "near", "as found", "box at 1.5 m", 0.9, 1.5),
                                   edge(runs, "far", "the same at 3 m", "box at 3 m", 0.9, 3)};
    };
    l.why =
        "From a point in the half-shadow, the strip covers part of the source. Move along and more of the source comes "
        "out, until all of it is there: 30 mm × 0.9 / 1.5 = 18 mm for the near box, 9 mm for the far one. "
        "Traced they are {near} mm and {far} mm, a little steeper in the middle than the rule says, because the middle "
        "of a large box counts for more than its rim. For the bare head it is 30 mm × 0.022 / 3 = 0.2 mm: a knife's "
        "edge, too narrow for any meter.\n\n"
        "*Soft* does not describe a box. The same box is soft near and hard far away. The size you see also decides "
        "how large the reflection in skin and eyes is: a large source spreads its sheen thin.\n";
    l.command = "build/rushlight read scenes/lessons/02-softness.toml --option \"the same at 3 m\"";
    l.exercise =
        "The room allows no less than 2.4 m from box to face. How large a source makes an edge as soft as the "
        "0.9 m box at 1.5 m? Find the line *softness* in the output of `read`, and try your answer with a `size` in a "
        "copy of the file.";
    l.answer =
        "The same ratio, 0.6: 2.4 × 0.6 = 1.44 m. (`read` gives the even disc of the same spread, so a square box "
        "reads about a seventh more than side over distance, and it uses the cheek's own distance.)";
    return l;
}

}  // namespace rushlight::lessons
