// Lessons 6 and 7: gels and cloths.

#include "lessons/lessons.h"
#include "quantity/units.h"

#include <stdexcept>

namespace rushlight::lessons {
namespace {

const std::string six = "06-colour-mix", seven = "07-diffusion", seven_law = "07-diffusion-law";

double mired(Runs& runs, const std::string& option, const std::string& meter) {
    for (const Reading& r : runs.sheet({six, option}).readings)
        if (r.name == meter) return 1e6 / r.kelvin;
    throw std::runtime_error("no meter " + meter);
}

// Sixteen bands show kelvin to 0.2 % (docs/how-sure.md): 0.7 mired at 2700 K, 0.4 at 5600 K.
constexpr double bands = 1.1;

Number gap(Runs& runs, const std::string& key, const std::string& option, const std::string& words, double gel) {
    return {key,
            "gap between left and right, " + words,
            "mired",
            0,
            [=, &runs] {
                return Measured{mired(runs, option, "right side") - mired(runs, option, "left side"), 0};
            },
            1e6 / 2700 - 1e6 / 5600 - gel,
            gel > 0 ? "mired add: the gel's shift as sold" : "definition of the mired, 10⁶ / K",
            bands};
}

Number from_balance(Runs& runs, const std::string& key, const std::string& meter, double kelvin) {
    return {key,
            meter + ", from a balance of 4300 K",
            "mired",
            0,
            [=, &runs] {
                return Measured{mired(runs, "as found", meter) - 1e6 / 4300, 0};
            },
            1e6 / kelvin - 1e6 / 4300,
            "definition of the mired, 10⁶ / K",
            bands};
}

Number loss(Runs& runs, const std::string& key, const std::string& meter, const std::string& option,
            const std::string& against, const std::string& what) {
    return {key, what, "stops", 1, [=, &runs] {
                return stops_over(runs.lux({seven, option}, meter), runs.lux({seven, against}, meter));
            }};
}

/// Stops that a meter 1.5 m behind a matt cloth of 1.2 m loses, the lamp standing 1 m before it: every patch of the
/// cloth becomes a lamp of its own (inverse square, cosine and Lambert's law, summed over the cloth).
double through_matt_cloth(double passes, double beam, double field) {
    const double power = std::log(std::log2(10.0)) / std::log(field / beam);
    constexpr int cells = 600;
    constexpr double side = 1.2, step = side / cells, behind = 1.5;
    double lux = 0;
    for (int i = 0; i < cells; ++i)
        for (int j = 0; j < cells; ++j) {
            const double x = (i + 0.5) * step - side / 2, y = (j + 0.5) * step - side / 2, s = x * x + y * y;
            const double off = std::atan(std::sqrt(s)) * 180 / pi;
            const double on_cloth = std::exp2(-std::pow(2 * off / beam, power)) / std::pow(1 + s, 1.5);
            lux += on_cloth * passes / pi * behind * behind / std::pow(behind * behind + s, 2) * step * step;
        }
    return std::log2(lux * 2.5 * 2.5);
}

Number matt(Runs& runs, const std::string& key, const std::string& option, double beam, double field,
            const std::string& what) {
    return {key,
            what,
            "stops",
            2,
            [=, &runs] {
                return stops_over(runs.lux({seven_law, option}, "face"), runs.lux({seven_law}, "face"));
            },
            through_matt_cloth(0.35, beam, field),
            "inverse square and Lambert's cosine law, summed over the cloth",
            0.004};  // the emitter is a disc, not a point
}

}  // namespace

Lesson colour_mix() {
    Lesson l;
    l.file = six;
    l.title = "6. Two colours of white";
    l.law =
        "Count the gap between two whites in mireds, a million over kelvin. A gel adds the same mireds on any lamp.";
    l.formula = "mired = 10⁶ / K";
    l.source = "definition of the mired (reciprocal megakelvin)";
    l.guess =
        "Daylight of 5600 K from the left, a lamp of 2700 K from the right; the camera is balanced in between, to "
        "4300 K. How far apart are they, in mired? How far is each from what the camera calls white? And what does a "
        "quarter orange on the left do, or a full one?";
    l.picture = "A grey ball, the camera balanced to 4300 K throughout.";
    l.panels = {{"no gel", {six}},
                {"quarter orange, left", {six, "quarter orange on the left"}},
                {"full orange, left", {six, "full orange on the left"}}};
    l.exposed_for = "right side";
    l.opened = 0.5;
    l.numbers = [](Runs& runs) {
        return std::vector<Number>{gap(runs, "gap", "as found", "no gel", 0),
                                   gap(runs, "quarter", "quarter orange on the left", "quarter orange on the left", 42),
                                   gap(runs, "full", "full orange on the left", "full orange on the left", 147),
                                   from_balance(runs, "left", "left side", 5600),
                                   from_balance(runs, "right", "right side", 2700)};
    };
    l.why =
        "5600 K is 179 mired, 2700 K is 370: {gap!} apart. In kelvin the balance of 4300 looks like the middle; in "
        "mired, which is closer to what eyes see, the daylight is {left!} away and the lamp {right!}: the lamp's "
        "side is far more orange than the other is blue. A quarter orange takes 42 off the gap. A full one takes 147 "
        "and leaves {full!}, which looks like two lamps of a kind.\n\n"
        "On two faces, 20 mired hardly shows and 40 does (common practice, no source). Whether a gap is a fault or the "
        "whole charm is for you to say.\n";
    l.command = "build/rushlight read scenes/lessons/06-colour-mix.toml --gel \"left=half orange\"";
    l.exercise =
        "Which balance makes both sides equally wrong? And which single gel, on which lamp, leaves a gap near 110 "
        "mired, like warm evening light beside a cool window? Try it with `--gel`.";
    l.answer =
        "The mean in mired, 274: 10⁶ / 274 = 3640 K. A gap of 110 is 82 less: half orange (78) on the left, or half "
        "blue (−80) on the right; the blue costs a stop, the orange less than half of one.";
    return l;
}

Lesson diffusion() {
    Lesson l;
    l.file = seven;
    l.title = "7. A frame of cloth";
    l.law = "Cloth that scatters is a new lamp, as large as the patch of it that glows.";
    l.formula = "E = sum over the cloth of τ E_cloth cos² / (π r²)";
    l.source = "inverse square and Lambert's cosine law";
    l.guess =
        "A head with its lens at spot stands 1 m from a 1.2 m frame, "
        "and she is 1.5 m behind it. The labels say: quarter white takes "
        "a third of a stop, full white one and a half, full grid cloth two and a half. How much does she lose? Which "
        "of them makes the shadow soft?";
    l.picture = "A ball and its shadow, each exposed alike. Above the lens at spot, below the same head at flood.";
    l.panels = {{"spot, no cloth", {seven}},
                {"spot, quarter white", {seven, "quarter white"}},
                {"spot, full grid cloth", {seven, "full grid cloth"}},
                {"flood, no cloth", {seven, "flood, no cloth"}},
                {"flood, full white", {seven, "flood, full white"}},
                {"flood, full grid cloth", {seven, "flood, full grid cloth"}}};
    l.exposed_for = "face";
    l.opened = 1;
    l.numbers = [](Runs& runs) {
        return std::vector<Number>{
            loss(runs, "quarter", "face", "quarter white", "as found", "face, spot through quarter white"),
            loss(runs, "full", "face", "full white", "as found", "face, spot through full white"),
            loss(runs, "grid", "face", "full grid cloth", "as found", "face, spot through full grid cloth"),
            loss(runs, "fullflood", "face", "flood, full white", "flood, no cloth", "face, flood through full white"),
            loss(runs, "gridflood", "face", "flood, full grid cloth", "flood, no cloth",
                 "face, flood through full grid cloth"),
            loss(runs, "back", "behind the cloth", "flood, full grid cloth", "flood, no cloth",
                 "beside the lamp, flood on full grid cloth"),
            matt(runs, "mattspot", "matt cloth", 16, 27, "the law alone: spot through a matt cloth that passes 0.35"),
            matt(runs, "mattflood", "flood, matt cloth", 60, 90, "the same, flood")};
    };
    l.why =
        "A label says what the cloth does to wide, even light. A spot is the other extreme: all its light goes one "
        "way, and the cloth throws it every way. So the face loses {full!} stops to full white and {grid!} to grid "
        "cloth, "
        "while quarter white, which lets half of what passes go straight on, takes {quarter!}. At flood the "
        "frame's rim gives some of that back: {fullflood!} and {gridflood!}.\n\n"
        "What softens the shadow is the size of the patch that glows, not the thickness of the cloth. Behind quarter "
        "white "
        "there is still the spot's own hard shadow; behind a heavy cloth with a spot on it, a lamp of 30 cm. Only the "
        "flood makes a source of 1.2 m. And what doesn't get through comes back: beside the lamp it gets {back!} stops "
        "brighter, and somebody has to flag that off the walls.\n";
    l.command =
        "build/rushlight read scenes/lessons/07-diffusion.toml --option \"flood, full white\" --against \"flood, no "
        "cloth\"";
    l.exercise =
        "Instead of the flood, move the spot back until it fills the frame by itself. How far back must it go, and "
        "what is left on her face? Add an option to a copy of the file.";
    l.answer =
        "A beam of 16° is 1.2 m wide at 4.3 m. The middle of the cloth then gets a nineteenth of what it had per "
        "square metre, over an area eighteen times as large: the same light goes through, spread wide. She gets what "
        "the whole frame sends her way, and the lamp is now in the next room. Hence flood lenses and reflectors.";
    return l;
}

}  // namespace rushlight::lessons
