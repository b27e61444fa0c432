// The rig, which is put into the place: people on their marks, lamps, boards and cloths, cameras and meters.
#pragma once

#include "quantity/exposure.h"
#include "quantity/lamp_spectra.h"
#include "quantity/lens.h"
#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "setup/plain/finish.h"

#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct Luminaire;

enum class Pose { standing, walking, leaning, seated };
enum class Hands { sides, lap, table, cup, book };  // where they rest or what they hold
enum class Sex { woman, man };
enum class Physique { slim, average, sturdy, heavy };
enum class Expression { neutral, listening, smiling, worried, closed };  // closed: the eyes
enum class Wear { jumper, shirt, tee, jacket, dress };
enum class HairCut { cropped, shorter, bob, loose, tied };
enum class Rims { none, wire, dark, pale };  // of glasses; none: no glasses are worn
enum class Lenses { plain, coated, empty };  // what the rims hold; empty: no glass

struct StandIn {
    double height = 1.70;  // m, shoes included
    Sex sex = Sex::man;
    double age = 35;  // years
    Physique build = Physique::average;
    int face = 1;  // which of all the faces of such people
    Expression expression = Expression::neutral;
    Pose pose = Pose::standing;
    double seat = 0.45;  // m above the floor
    Hands hands = Hands::sides;
    double table = 0.74;       // m above the floor, what hands rest on
    double skin = 0.20;        // luminous reflectance of the skin, gloss apart
    double hair = 0.06;        // reflectance of a thick tress of the hair; negative: bald
    double hair_warmth = 0.5;  // 0 neutral (black, grey, white) .. 1 warm (brown, blond, red)
    HairCut cut = HairCut::shorter;
    double wave = 0.2;  // 0 straight .. 1 curled
    Wear wear = Wear::jumper;
    double wardrobe = 0.15;  // luminous reflectance of what is worn
    std::string wardrobe_hue = "neutral";
    std::optional<double> shirt;  // the same of a shirt under an open jacket; none: one thing is worn
    std::string shirt_hue = "neutral";
    Rims glasses = Rims::none;
    Lenses lenses = Lenses::plain;
    double free_from = 0, free_until = 24;  // hours by the place's own clock
};

/// Where a person is, which way the body faces, and the nose if the head is not turned.
struct Mark {
    std::string name;
    Vec3 at{0, 0, 0};           // on the floor
    double facing = 0;          // degrees, anticlockwise from +x seen from above
    double head_turn = 0;       // degrees from there to the person's left: the head only
    double head_tilt = 0;       // degrees, chin up positive
    std::optional<Vec3> gaze;   // what the eyes look at; none: straight on, as the nose points
    bool gaze_at_lens = false;  // of whichever camera the set-up has
    StandIn person;
};

enum class LampShape {
    hard,  // a small bright disc behind a reflector or lens: beam and field angles
    box,   // soft box or panel: an even rectangle, lit on one side
    ball,  // lantern or bulb: a sphere, even all round
    tube,  // a line of light, even around its axis
    ring   // a flat ring, even, lit on one side
};

/// A drum or cone round a bulb, open above and below; its axis is upright.
struct Shade {
    double top = 0.2, bottom = 0.35;  // m, diameters
    double height = 0.25;             // m
    double lift = 0;                  // m: its middle over the bulb's
    Finish finish;
};

struct Lamp {
    std::string name;
    LampShape shape = LampShape::box;
    Vec3 at{0, 0, 2};                  // middle of what glows
    Vec3 aim{0, -1, 0};                // unit vector the light leaves along
    std::optional<Vec3> aimed_at;      // the point that the aim was given by
    double roll = 0;                   // degrees about the aim; a tube or wide box lies level at 0
    double width = 0.9, height = 0.9;  // m; ball and hard: diameter = width; tube: length, diameter; ring: outer, inner
    double beam = 55, field = 1.5 * 55;                           // degrees, full width at 50 % and 10 % (hard only)
    double grid = 0;                                              // degrees of fabric grid on a box, 0 = none
    Spectrum intensity_or_flux;                                   // at full, before the gel; see `output`
    enum class Output { lumen, candela } output = Output::lumen;  // candela: on the aim
    double level = 1.0;                                           // linear share of full output, gel loss not included
    bool on = true;
    /// Where its light goes, if a photometric file says so. Then hard means round and box means a rectangle.
    std::shared_ptr<const Luminaire> luminaire;
    double depth = 0;  // m along the aim, of a luminaire that shines sideways and back too
    std::optional<Shade> shade;
    LightKind light = LightKind::plain;
    double kelvin = 5600;   // at full, before the gel
    Spectrum gel{1.0F};     // share that the gels pass
    std::string gel_words;  // what they are called, for people: "half orange + nd 0.3"; "" for none
    std::string kit_item;   // what it is like, "" when nothing of the kit
    double watts = 0;       // drawn at full; 0: not known
    std::string circuit;    // that it is plugged into, "" when nobody said

    /// Colour temperature at its level: a filament is warmer when it is dimmed.
    double burning_kelvin() const;
    /// Colour temperature of its light at full behind its gels, 1,000 to 25,000 K: the light that another gel would
    /// get.
    double gelled_kelvin() const;
    /// The share of its full light that the lamp gives now, band by band: its layer is traced once and weighed by this.
    Spectrum burning() const;
    /// The light as dimmed and gelled, as much of it as `output` says. What the layers hold is what a meter on the day
    /// would read.
    Spectrum given() const { return intensity_or_flux * burning(); }
};

enum class PanelKind { board, flag, cloth, net };

/// As the set-up file has it.
constexpr const char* word_of(PanelKind kind) {
    constexpr const char* words[] = {"board", "flag", "cloth", "net"};
    return words[static_cast<int>(kind)];
}

/// A flat thing on a stand: what it does to light is all in its finish.
struct Panel {
    std::string name;
    PanelKind kind = PanelKind::board;
    Vec3 at{0, 0, 1.5};         // centre
    Vec3 facing{0, -1, 0};      // unit normal of the working side
    std::optional<Vec3> faces;  // the point that the facing was given by
    double roll = 0;            // degrees about the normal; its width lies level at 0
    double width = 1.2, height = 1.2;
    Finish finish;
    std::string kit_item;  // what it is like, "" when nothing of the kit
};

/// Mist-type diffusion before the lens: `share` of the light is spread over a core and a skirt, half each.
struct Mist {
    double share = 0;
    double core = 1.5, skirt = 12;  // degrees, full width at half the light
};

/// ND that covers one side of the picture only.
struct Graduated {
    double density = 0;  // at its dark side
    double edge = 0.6;   // middle of the change, as a share of the picture's height from below
    double blend = 0.2;  // width of the change, the same way
    double turn = 0;     // degrees; 0: the dark side is above, 90: to the left
};

struct Camera {
    std::string name;
    Vec3 at{0, 0, 1.5};
    Vec3 look_at{1, 0, 1.5};
    std::string of;                                    // the mark it looks at, if any
    double roll = 0;                                   // degrees
    double lens = 35;                                  // focal length, mm
    double lens_passes = 0.85;                         // of the light, by its glass: the T-stop's gap to the f-number
    double focus = 0;                                  // m along the axis; 0: all is sharp, as with a pinhole
    double sensor_width = 24.9, sensor_height = 14.0;  // mm, as recorded
    Exposure exposure;
    double white_balance = 5600;  // K
    double tint = 0;              // Duv of the balance's white: positive where the light is green
    double headroom = 6.0;        // stops over grey before it clips
    double footroom = 5.0;        // stops under grey that can be used
    Mist mist;
    double delivery = 0;              // width over height of what is delivered; 0: all that is recorded
    std::optional<double> polarizer;  // degrees: see scene/surface/polarizer.h; its loss is in the exposure
    Graduated graduated;

    /// mm of the sensor that are delivered.
    double delivered_height() const {
        return delivery > 0 ? std::min(sensor_height, sensor_width / delivery) : sensor_height;
    }
    ThinLens thin_lens() const {
        const bool opens = focus > 0;
        return {lens, opens ? f_number(exposure.t_stop, lens_passes) : 0.0, opens ? focus : INFINITY};
    }
};

enum class Receptor { flat, dome };

/// A meter put anywhere by hand.
struct Meter {
    std::string name;
    Receptor receptor = Receptor::flat;
    Vec3 at{0, 0, 1};
    Vec3 facing{0, 0, 1};  // unit vector the receptor looks along
    std::string mark;      // the mark it was placed from, if any
};

/// A meter's reading on the day or the scout, with one source alone: the model is scaled to it.
struct MeasuredLight {
    Meter meter;
    double lux = 0;
    std::string source;        // name of a lamp, or "daylight"
    std::optional<Lamp> lamp;  // the source, if it is one, before a set-up or option changes it
};

/// Sockets behind one breaker.
struct Circuit {
    std::string name;
    double volts = 230, amps = 16;
    double other = 0;  // W: what else hangs on it
};

struct Rig {
    std::vector<Mark> marks;
    std::vector<Lamp> lamps;
    std::vector<Panel> panels;
    std::vector<Camera> cameras;
    std::vector<Meter> meters;
    std::vector<Circuit> circuits;
    std::vector<MeasuredLight> measured;
};

}  // namespace rushlight
