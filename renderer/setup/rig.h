// What is put into the place: people on their marks, lamps, what shapes the light, cameras and meters.
#pragma once

#include "quantity/exposure.h"
#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "setup/finish.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

enum class Pose { standing, seated };

struct StandIn {
    double height = 1.70;  // m, shoes included
    Pose pose = Pose::standing;
    double seat = 0.45;        // m above the floor
    double skin = 0.20;        // luminous reflectance of the skin, gloss apart
    double hair = 0.06;        // body reflectance of the hair; negative: bald
    double hair_warmth = 0.5;  // 0 neutral (black, grey, white) .. 1 warm (brown, blond, red)
    double wardrobe = 0.15;    // luminous reflectance of what is worn
    std::string wardrobe_hue = "neutral";
    double free_from = 0, free_until = 24;  // hours by the place's own clock
};

/// Where a person is, and which way the nose points.
struct Mark {
    std::string name;
    Vec3 at{0, 0, 0};   // on the floor
    double facing = 0;  // degrees, anticlockwise from +x seen from above
    StandIn person;
};

enum class LampShape {
    hard,  // a small bright disc behind a reflector or lens: beam and field angles
    box,   // soft box or panel: an even rectangle, lit on one side
    ball,  // lantern or bulb: a sphere, even all round
    tube   // a line of light, even around its axis
};

struct Lamp {
    std::string name;
    LampShape shape = LampShape::box;
    Vec3 at{0, 0, 2};                      // middle of what glows
    Vec3 aim{0, -1, 0};                    // unit vector the light leaves along
    double roll = 0;                       // degrees about the aim; a tube or wide box lies level at 0
    double width = 0.022, height = 0.022;  // m; ball and hard: diameter = width; tube: length, diameter
    double beam = 55, field = 85;          // degrees, full width at 50 % and 10 % (hard only)
    double grid = 0;                       // degrees of fabric grid on a box, 0 = none
    Spectrum intensity_or_flux;            // see `output`
    enum class Output { lumen, candela } output = Output::lumen;  // candela: on the aim
    double level = 1.0;                                           // linear share of full output, gel loss not included
    bool on = true;
};

enum class PanelKind { board, flag, cloth, net };

/// A flat thing on a stand: what it does to light is all in its finish.
struct Panel {
    std::string name;
    PanelKind kind = PanelKind::board;
    Vec3 at{0, 0, 1.5};     // centre
    Vec3 facing{0, -1, 0};  // unit normal of the working side
    double roll = 0;        // degrees about the normal; its width lies level at 0
    double width = 1.2, height = 1.2;
    Finish finish;
};

struct Camera {
    std::string name;
    Vec3 at{0, 0, 1.5};
    Vec3 look_at{1, 0, 1.5};
    double roll = 0;                                   // degrees
    double lens = 35;                                  // focal length, mm
    double sensor_width = 24.9, sensor_height = 14.0;  // mm, as recorded
    Exposure exposure;
    double white_balance = 5600;  // K
    double headroom = 6.0;        // stops over grey before it clips
    double footroom = 5.0;        // stops under grey that can be used
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

struct Rig {
    std::vector<Mark> marks;
    std::vector<Lamp> lamps;
    std::vector<Panel> panels;
    std::vector<Camera> cameras;
    std::vector<Meter> meters;
};

}  // namespace rushlight
