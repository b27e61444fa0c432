// Lessons 8 to 10: what the lens makes of it.

#include "lessons/lessons.h"
#include "quantity/units.h"
#include "validation/references/references.h"

#include <stdexcept>

namespace rushlight::lessons {
namespace {

const std::string eight = "08-window-exposure", nine = "09-hair-light", nine_law = "09-hair-light-law",
                  ten = "10-polarizer", ten_law = "10-polarizer-law";
const std::string round_the_head = "40 degrees round";

const WindowInView& window(Runs& runs, const std::string& option) {
    const Sheet& sheet = runs.sheet({eight, option});
    if (!sheet.camera || sheet.camera->windows.empty()) throw std::runtime_error("no window in view");
    return sheet.camera->windows.front();
}

Measured over_face(Runs& runs, const std::string& option) {
    return window(runs, option).over_face.value_or(Measured{NAN, NAN});
}

Measured difference(const Measured& a, const Measured& b) {
    return {a.value - b.value, std::hypot(a.error, b.error)};
}

/// Mean along the outline of the head, cd/m2.
Measured edge_of(Runs& runs, const std::string& option, const std::string& setup) {
    const Sheet& sheet = runs.sheet({nine, option, setup});
    if (sheet.separations.empty()) throw std::runtime_error("no outline");
    return sheet.separations.front().outline;
}

Number swung(Runs& runs, const std::string& key, const std::string& option, const std::string& what) {
    return {key, what, "stops", 2, [=, &runs] {
                return stops_over(edge_of(runs, option, round_the_head), edge_of(runs, option, "in front"));
            }};
}

Number mirrored(Runs& runs, const std::string& key, int degrees, bool filtered) {
    const std::string option = degrees == 56 ? (filtered ? "polarizer" : "as found")
                                             : std::to_string(degrees) + " degrees" + (filtered ? ", polarizer" : "");
    // The panel gives 1000 cd/m2. The filter takes what swings level; shares are those of a plain filter of its loss.
    const validation::Polarised fresnel =
        validation::fresnel(std::cos((degrees == 56 ? 56.31 : degrees) * pi / 180), 1.5);
    const double share = 100 * (filtered ? fresnel.p : (fresnel.s + fresnel.p) / 2);
    return {key, std::to_string(degrees) + "°, " + (filtered ? "with the filter" : "without"), "%", 2,
            [=, &runs] {
                const Measured seen = runs.seen({ten_law, option});
                return Measured{seen.value / 10, seen.error / 10};
            },
            share, "Fresnel's equations, n = 1.5",
            // A coat is never quite smooth: it mixes neighbouring angles, and throws a hundredth past the panel.
            0.08 + 0.015 * share};
}

}  // namespace

Lesson window_exposure() {
    Lesson l;
    l.file = eight;
    l.title = "8. The window in shot";
    l.law = "How far a view is over a face depends on the light on each. No camera setting changes it.";
    l.formula = "stops = log2(ρ_view E_view τ / (ρ_face E_face))";
    l.source = "luminance of a matt surface, L = ρ E / π (Lambert)";
    l.guess =
        "She gets about 1,000 lx from a soft box. Behind her, through glass, a wall of 25 % stands in the sun; the "
        "camera "
        "holds 6 stops over grey. Does the view hold? What if the iris is closed by three stops? What if an ND 0.9 "
        "goes on "
        "the glass?";
    l.picture = "T8; T22 by the iris; T8 with ND 0.9 on the glass.";
    l.panels = {{"as found", {eight}},
                {"iris closed three stops", {eight, "iris closed three stops"}},
                {"ND 0.9 on the glass", {eight, "nd 0.9 on the glass"}}};
    l.exposed = Exposed::as_written;
    l.numbers = [](Runs& runs) {
        const Measured wall = runs.lux({eight}, "view meter");
        return std::vector<Number>{
            {"view", "the view, as a spot reads it", "cd/m²", 0, [&runs] { return window(runs, "as found").luminance; },
             0.25 * 0.85 * wall.value / pi, "ρ E τ / π, E as the meter on that wall has it", 0.01 * 1900},
            {"over", "view over the key cheek", "stops", 2, [&runs] { return over_face(runs, "as found"); }},
            {"iris", "what the iris changes in that", "stops", 2,
             [&runs] { return difference(over_face(runs, "iris closed three stops"), over_face(runs, "as found")); }, 0,
             "the iris dims all alike", 0.005},
            {"face", "what the iris does to the view itself", "stops", 2,
             [&runs] {
                 return difference(window(runs, "iris closed three stops").over_grey,
                                   window(runs, "as found").over_grey);
             },
             -2 * std::log2(22.6 / 8), "light goes as 1 / T² (ISO 2720)", 0.005},
            {"nd", "what ND 0.9 on the glass does to the view", "stops", 2,
             [&runs] {
                 return stops_over(window(runs, "nd 0.9 on the glass").luminance, window(runs, "as found").luminance);
             },
             -0.9 / std::log10(2.0), "density, D / log10 2", 0.01},
            {"held", "view over the key cheek, ND on the glass", "stops", 2,
             [&runs] { return over_face(runs, "nd 0.9 on the glass"); }}};
    };
    l.why =
        "The wall outside gets some ninety times her light, and reflects a quarter of it: {view!} cd/m² "
        "against "
        "her cheek, {over!} stops apart. The camera holds 6 over grey, so the view is lost, and lost at every stop: "
        "the iris takes the face down with it. Only what changes one of the two helps. An ND on the glass takes 3 "
        "stops off the view and nothing off her; more light on her does the same from the other side.\n\n"
        "If that window is also her key, a sheet on the glass takes light off her as well, and gains nothing.\n";
    l.command = "build/rushlight read scenes/lessons/08-window-exposure.toml --option \"nd 0.9 on the glass\"";
    l.exercise =
        "There is no ND in the van. How many lux must she have, instead of a thousand, to bring the view down to 3.5 "
        "stops over her cheek, and what stop is that at 800 ISO and 1/48 s? `--level` cannot raise a lamp above full; "
        "change its `output`.";
    l.answer =
        "Three stops more: about 8,000 lx, T22. It works, it is hot, and she squints: sheets on glass are cheaper than "
        "light.";
    return l;
}

Lesson hair_light() {
    Lesson l;
    l.file = nine;
    l.title = "9. The back light and the lens";
    l.law =
        "A matt surface looks equally bright from every side. Hair is not: it sends light on in a cone, and its colour "
        "decides "
        "how much.";
    l.formula = "matt: L = ρ E / π, whatever the lens position";
    l.source = "Lambert's law; for fibres Marschner and others 2003";
    l.guess =
        "One back light, on black hair, brown hair, blond hair and on no hair. How many stops are there between black "
        "and blond? Then the camera moves 40 degrees round her, away from the lamp. Which edge changes?";
    l.picture = "Top row: the lens in front. Bottom row: swung by 40 degrees. The same exposure for all.";
    for (const std::string& setup : {std::string("in front"), round_the_head})
        for (const auto& [name, option] : std::vector<std::pair<std::string, std::string>>{
                 {"black", "as found"}, {"brown", "brown"}, {"blond", "blond"}, {"bald", "bald"}})
            l.panels.push_back({name + (setup == round_the_head ? ", 40° round" : ""), {nine, option, setup}});
    l.in_a_row = 4;
    l.exposed = Exposed::as_written;
    l.numbers = [](Runs& runs) {
        const auto colour = [&](const std::string& key, const std::string& option) {
            return Number{key, "edge, " + key + " over black", "stops", 2, [=, &runs] {
                              return stops_over(edge_of(runs, option, "in front"),
                                                edge_of(runs, "as found", "in front"));
                          }};
        };
        Number blond = colour("blond", "blond");
        blond.expected = 2.5;
        blond.source = "two to three stops (common practice, no source)";
        blond.allowance = 0.5;
        const auto card = [&runs] { return runs.seen({nine_law, "as found", "in front"}); };
        const Measured on_card = runs.lux({nine_law}, "on the card");
        return std::vector<Number>{colour("brown", "brown"),
                                   blond,
                                   colour("bald", "bald"),
                                   swung(runs, "blackround", "as found", "lens swung: black hair"),
                                   swung(runs, "brownround", "brown", "lens swung: brown hair"),
                                   swung(runs, "blondround", "blond", "lens swung: blond hair"),
                                   swung(runs, "baldround", "bald", "lens swung: skin of a bald head"),
                                   {"card", "lens swung: a matt card in the same light", "stops", 3,
                                    [=, &runs] {
                                        return stops_over(runs.seen({nine_law, "as found", round_the_head}), card());
                                    },
                                    0, "Lambert's law"},
                                   {"grey", "that card, seen from in front", "cd/m²", 2, card, 0.2 * on_card.value / pi,
                                    "ρ E / π, E by the meter on it", 4 * 0.2 / pi * on_card.error}};
    };
    l.why =
        "Black hair gives you only the gleam off its surface. Blond hair lets light through, and sends it back, "
        "tinted, "
        "from the far wall of every fibre: {blond!} stops more from one lamp. That is why one back light cannot serve "
        "two such heads: net half its beam.\n\n"
        "As the lens swings, the matt card stays the same to a hundredth of a stop. In hair the gleam wanders over the "
        "head rather than going out. Averaged along the outline, black hair changes by {blackround} stops and blond "
        "hair "
        "by "
        "{blondround}, while single locks light up or die (see the pictures). Skin is not matt either: at the edge of "
        "a bald head, at a grazing angle, its sheen changes by {baldround}.\n";
    l.command = "build/rushlight read scenes/lessons/09-hair-light.toml --option blond --setup \"40 degrees round\"";
    l.exercise =
        "Black and blond share a two-shot and one back light. How much must the net on the blond half take for equal "
        "edges? Try it at once with `--level \"back=-1 stop\"` and the like.";
    l.answer =
        "Their difference, {blond!} stops: a double net (one stop) on the blond half is not enough; two doubles and a "
        "single come near. Most would leave the blond a stop over: it reads as blond.";
    return l;
}

Lesson polarizer() {
    Lesson l;
    l.file = ten;
    l.title = "10. The polarizer's angle";
    l.law =
        "Reflections in varnish and glass are polarised, fully so at one angle: there a filter takes all of them, "
        "elsewhere a part.";
    l.formula = "Fresnel's R_s and R_p; R_p = 0 where the tangent of the angle is n, 56.3° for n = 1.5";
    l.source = "Fresnel 1823, Brewster 1815 (any optics text)";
    l.guess =
        "A varnished table reflects a window. You look at it from 30, 45, 56 or 70 degrees off the vertical. How "
        "much of the reflection does a polarizer leave at each?";
    l.picture =
        "Top row: from 56 degrees. Bottom row: from 30. Right: with the filter, opened up for the 1.5 stops it costs.";
    l.panels = {{"56°", {ten}},
                {"56°, polarizer", {ten, "polarizer"}},
                {"30°", {ten, "from above"}},
                {"30°, polarizer", {ten, "from above, polarizer"}}};
    l.in_a_row = 2;
    l.exposed = Exposed::as_written;
    l.numbers = [](Runs& runs) {
        return std::vector<Number>{mirrored(runs, "p30", 30, false), mirrored(runs, "q30", 30, true),
                                   mirrored(runs, "p45", 45, false), mirrored(runs, "q45", 45, true),
                                   mirrored(runs, "p56", 56, false), mirrored(runs, "q56", 56, true),
                                   mirrored(runs, "p70", 70, false), mirrored(runs, "q70", 70, true)};
    };
    l.why =
        "Reflected light vibrates mostly level, along the table. At 56 degrees it does nothing else, and the filter, "
        "turned upright, lets none of it through. What was {p56} % of the window's brightness becomes {q56}. At 45 "
        "degrees "
        "{q45} of {p45} % are left, which most would call gone; at 30 degrees {q30} of {p30}, so the filter hardly "
        "helps a lens that looks down. And at 70 degrees {q70} of {p70}: at a slant the table reflects more, and the "
        "filter takes three quarters of it.\n\n"
        "Everything that is not a reflection is dimmed alike, by a stop and a half here. Metal and silvered glass "
        "reflect without polarising, and stay.\n";
    l.command = "build/rushlight frame scenes/lessons/10-polarizer.toml --option polarizer --exposure";
    l.exercise =
        "The lens is at a height of 1.75 m, the table at 0.75. How far from the mirrored spot must it stand, along the "
        "floor, for the filter to work best? Then turn the filter to 90 in a copy of the file: what happens to the "
        "window in the table, and why?";
    l.answer =
        "1 m × tan 56.3° = 1.5 m. At 90 the filter passes exactly what the table reflects and takes half of everything "
        "else: the image in the varnish stands out more than without a filter.";
    return l;
}

}  // namespace rushlight::lessons
