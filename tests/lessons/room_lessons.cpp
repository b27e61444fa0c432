// Lessons 3 to 5: what the room, a board and a black do to the cheek that the window does not see.

#include "lessons/lessons.h"
#include "quantity/units.h"
#include "validation/references/patch_box.h"
#include "validation/references/references.h"

namespace rushlight::lessons {
namespace {

/// Share of what an evenly bright world sends to a flat meter that a centred rectangle facing it fills.
double share_of_view(double width, double height, double distance) {
    return validation::parallel_rectangle(1 / pi, -width / 2, width / 2, -height / 2, height / 2, distance);
}

const std::string factor = "configuration factor of a centred rectangle (catalogues of view factors; Lambert 1760)";

Number far_cheek(Runs& runs, const std::string& key, const std::string& file, const std::string& option,
                 const std::string& what) {
    return {key, what, "stops", 2, [=, &runs] {
                return stops_over(runs.lux({file, option}, "A near cheek"), runs.lux({file}, "A near cheek"));
            }};
}

/// The lens stands in the room: the cheek near to it is the one far from the window.
Number cheek_to_cheek(Runs& runs, const std::string& key, const View& v, const std::string& what) {
    return {key, what, "stops", 2,
            [=, &runs] { return stops_over(runs.lux(v, "A far cheek"), runs.lux(v, "A near cheek")); }};
}

Number far_cheek_lux(Runs& runs, const std::string& key, const View& v, const std::string& what) {
    return {key, what, "lx", 0, [=, &runs] { return runs.lux(v, "A near cheek"); }};
}

Number board_alone(Runs& runs, const std::string& key, const std::string& option, const std::string& what,
                   double height, double distance) {
    // 1000 lx on the board, of which it sends back 0.85.
    return {key,
            what,
            "lx",
            0,
            [=, &runs] {
                return runs.lux({"03-bounce-law", option}, "meter");
            },
            850 * share_of_view(1.2, height, distance),
            factor};
}

Number black_alone(Runs& runs, const std::string& key, const std::string& option, double width, double height) {
    return {key,
            "black " + option + " at 0.6 m, even light all round",
            "stops",
            2,
            [=, &runs] {
                return stops_over(runs.lux({"04-negative-fill-law", option}, "meter"),
                                  runs.lux({"04-negative-fill-law"}, "meter"));
            },
            std::log2(1 - share_of_view(width, height, 0.6)),
            "log2(1 − F), F the " + factor};
}

Number empty_room(Runs& runs, const std::string& key, const std::string& option, const std::string& what,
                  double depth) {
    // The window wall gives out pi x 3000 lm/m2 and sends nothing back; finite patches, form factors in closed form.
    const validation::PatchBox box({4.5, depth, 2.8}, 10, {.7, .7, 0, .7, .2, .8}, {0, 0, pi * 3000, 0, 0, 0});
    const double expected = box.at({2.25, 1.88, 1.2}, {0, 1, 0});
    return {key, what, "lx", 0,
            [=, &runs] {
                return runs.lux({"05-wall-distance-law", option}, "meter");
            },
            expected, "radiosity equations on 600 patches (Goral and others 1984)",
            // Each patch is taken to be even.
            0.01 * expected};
}

const std::string room_words =
    "The room is 6 × 4.5 × 2.8 m, walls 70 %, ceiling 80 %, floor 20 %; one window of 1.2 × 1.5 m in a short wall, "
    "3,000 "
    "cd/m² bright. She sits 1.8 m from it, side-on.";

}  // namespace

Lesson bounce() {
    const std::string file = "03-bounce";
    Lesson l;
    l.file = file;
    l.title = "3. Bounce";
    l.law =
        "A board gives the light that falls on it, times its reflectance, times the fraction of the view that it "
        "fills.";
    l.formula = "E = ρ × E_board × F; F of a rectangle that faces the meter, by its size and distance";
    l.source = "configuration factor of a rectangle (Lambert 1760; catalogues of view factors)";
    l.guess = room_words +
              " A white board of 1.2 m is held beside the cheek that the window does not see: at 1.5 m, at "
              "1.0, at 0.6, at 0.3. How many stops does that cheek gain? And which is better: a board twice as large, "
              "or one at half the distance?";
    l.picture = "One stop on the lens throughout; the window is at the left, out of the picture.";
    l.panels = {{"no board", {file}},
                {"board at 1.5 m", {file, "board at 1.5 m"}},
                {"board at 1.0 m", {file, "board at 1.0 m"}},
                {"board at 0.6 m", {file, "board at 0.6 m"}}};
    l.in_a_row = 2;
    l.exposed_for = "A front";
    l.exposed = Exposed::by_the_first;
    l.opened = -0.4;
    l.numbers = [file](Runs& runs) {
        return std::vector<Number>{
            far_cheek(runs, "far15", file, "board at 1.5 m", "far cheek, board at 1.5 m"),
            far_cheek(runs, "far10", file, "board at 1.0 m", "far cheek, board at 1.0 m"),
            far_cheek(runs, "far06", file, "board at 0.6 m", "far cheek, board at 0.6 m"),
            far_cheek(runs, "far03", file, "board at 0.3 m", "far cheek, board at 0.3 m"),
            board_alone(runs, "base", "as found", "the law alone: 1.2 × 1.2 m with 1,000 lx on it, 1 m off", 1.2, 1),
            board_alone(runs, "twice", "twice the area", "the same, twice the area", 2.4, 1),
            board_alone(runs, "half", "half the distance", "the same, at half the distance", 1.2, 0.5)};
    };
    l.why =
        "A cheek takes its light from what it sees, most from what is large, bright and straight ahead. Going from 1 m "
        "to half a metre more than doubles what the board fills ({base} lx to {half}), while a board twice as large "
        "brings only "
        "{twice}, because the cheek sees the added parts at a slant and from farther off. In the room the board shares "
        "with everything else that lights the cheek, and it hides a wall that gave light itself, so its gain starts "
        "small. From 0.6 to 0.3 m it gains little more: the board already fills nearly all that the cheek sees, and "
        "less light from the window gets past her onto it.\n\n"
        "So: bring it in until it is nearly in the picture, and only then ask for a larger one.\n";
    l.command = "build/rushlight compare scenes/lessons/03-bounce.toml";
    l.exercise =
        "You own a board of 0.6 × 0.9 m only. Where must it be to do what the 1.2 m board does at 1 m? Guess, then "
        "set `size = [0.6, 0.9]` in a copy of the file and find out.";
    l.answer =
        "By the law, 1.2 × 1.2 m at 1 m fills 31 % of the view, and 0.6 × 0.9 m does the same at 0.6 m. In the room it "
        "comes out close to that, because what it hides there is about as bright.";
    return l;
}

Lesson negative_fill() {
    const std::string pale = "04-negative-fill", dark = "04-negative-fill-dark-walls";
    Lesson l;
    l.file = pale;
    l.title = "4. Black";
    l.law =
        "A black takes away what it hides and no more: the fraction of the view that it fills, if the whole view is "
        "equally bright.";
    l.formula = "at most log2(1 − F) stops";
    l.source = "configuration factor of a rectangle (Lambert 1760; catalogues of view factors)";
    l.guess = room_words +
              " A 1.2 × 2.4 m black cloth hangs 0.6 m from the cheek that faces away from the window. How many "
              "stops does it take off that cheek? And with 20 % walls and a 40 % ceiling?";
    l.picture = "Each row at one stop on the lens: pale walls above, dark walls below.";
    l.panels = {{"walls 70 %", {pale}},
                {"walls 70 %, black at 0.6 m", {pale, "black at 0.6 m"}},
                {"walls 20 %", {dark}},
                {"walls 20 %, black at 0.6 m", {dark, "black at 0.6 m"}}};
    l.in_a_row = 2;
    l.exposed_for = "A front";
    l.exposed = Exposed::each;
    l.opened = -0.4;
    l.numbers = [pale, dark](Runs& runs) {
        return std::vector<Number>{
            far_cheek(runs, "pale", pale, "black at 0.6 m", "far cheek, walls 70 %, black at 0.6 m"),
            far_cheek(runs, "pale12", pale, "black at 1.2 m", "far cheek, walls 70 %, black at 1.2 m"),
            far_cheek(runs, "dark", dark, "black at 0.6 m", "far cheek, walls 20 %, black at 0.6 m"),
            cheek_to_cheek(runs, "was", {pale}, "cheek to cheek, walls 70 %, no black"),
            cheek_to_cheek(runs, "is", {pale, "black at 0.6 m"}, "cheek to cheek, walls 70 %, black at 0.6 m"),
            cheek_to_cheek(runs, "wasdark", {dark}, "cheek to cheek, walls 20 %, no black"),
            black_alone(runs, "small", "0.6 x 0.9 m", 0.6, 0.9),
            black_alone(runs, "square", "1.2 x 1.2 m", 1.2, 1.2),
            black_alone(runs, "large", "1.2 x 2.4 m", 1.2, 2.4)};
    };
    l.why =
        "The far cheek gets its light from walls and ceiling. In the pale room the cloth hides two thirds of that "
        "view, though not its brightest part, and takes {pale!} stops; the bound is {large!}, whatever the room. With "
        "dark walls the cheek gets little from that side to begin with: {dark!} stops. But the face is contrasty "
        "there to begin with: {wasdark!} stops from cheek to cheek, where the pale room needs its black to get from "
        "{was!} to "
        "{is!}.\n\n"
        "You can only take away what is there. Find out first where the light on the cheek comes from: `origins` tells "
        "you.\n";
    l.command = "build/rushlight origins scenes/lessons/04-negative-fill.toml \"A near cheek\" --black 1.2x2.4";
    l.exercise =
        "Let the program look for the best place for the cloth within a metre (the command above; the lens is on "
        "the room side, so the cheek *near* the lens is the one away from the window). Would you have hung it "
        "there?";
    l.answer =
        "As near as it may go, 0.4 m, and a little in front of the cheek rather than straight beside it: there it "
        "fills 81 % of what the meter weighs. (The search takes about a minute.)";
    return l;
}

Lesson wall_distance() {
    const std::string file = "05-wall-distance";
    Lesson l;
    l.file = file;
    l.title = "5. The wall behind";
    l.law = "A lit wall is a lamp. Its distance sets the fill, and with it the contrast, with no lamp touched.";
    l.formula = "no short one: each wall lights all others (radiosity equations)";
    l.source = "radiosity equations solved on patches, form factors in closed form (Goral and others 1984)";
    l.guess = room_words +
              " The end of the room, 4.1 m behind her far cheek, comes up to 2.1 m, to 1.1, to 0.6. What happens to "
              "the contrast between her cheeks?";
    l.picture = "One stop on the lens throughout. The wall that moves is out of the picture, at the right.";
    l.panels = {{"4.1 m behind her cheek", {file}},
                {"2.1 m", {file, "wall at 2.1 m"}},
                {"1.1 m", {file, "wall at 1.1 m"}},
                {"0.6 m", {file, "wall at 0.6 m"}}};
    l.in_a_row = 2;
    l.exposed_for = "A front";
    l.exposed = Exposed::by_the_first;
    l.opened = -0.4;
    l.numbers = [file](Runs& runs) {
        return std::vector<Number>{
            far_cheek_lux(runs, "lux41", {file}, "far cheek, wall at 4.1 m"),
            far_cheek_lux(runs, "lux21", {file, "wall at 2.1 m"}, "far cheek, wall at 2.1 m"),
            far_cheek_lux(runs, "lux11", {file, "wall at 1.1 m"}, "far cheek, wall at 1.1 m"),
            far_cheek_lux(runs, "lux06", {file, "wall at 0.6 m"}, "far cheek, wall at 0.6 m"),
            cheek_to_cheek(runs, "far", {file}, "cheek to cheek, wall at 4.1 m"),
            cheek_to_cheek(runs, "near", {file, "wall at 0.6 m"}, "cheek to cheek, wall at 0.6 m"),
            empty_room(runs, "empty41", "as found", "the law alone: all window, nobody there, wall at 4.1 m", 6),
            empty_room(runs, "empty06", "wall at 0.6 m", "the same, wall at 0.6 m", 2.48)};
    };
    l.why =
        "The window lights the wall, and the wall lights the cheek. Nearer, the wall catches more of the window's "
        "light and fills more of what the cheek sees: {lux41} lx become {lux06}. Cheek to cheek falls from {far!} "
        "stops to "
        "{near!}, as if somebody had brought a large board.\n\n"
        "That is why the corner of a small pale room looks flat whatever the lamps do, and why stepping a chair away "
        "from a wall is the cheapest light in the van.\n";
    l.command = "build/rushlight compare scenes/lessons/05-wall-distance.toml";
    l.exercise =
        "The wall at 0.6 m cannot move. Which brings back more contrast: painting it 20 %, or a black of 1.2 × 2.4 m "
        "hung on it? Try both in a copy of the file (`finish` of the end wall; a `[[flag]]` facing her, a "
        "hand in front of it).";
    l.answer =
        "The paint, because it covers the whole wall while the black covers only what the cheek sees best. It is "
        "close, though, and the cloth is on a stand in two minutes.";
    return l;
}

}  // namespace rushlight::lessons
