// The place as scouted: plain structs with sensible defaults, in metres and degrees. Stand with your back
// to the near wall: its left corner is the origin, x runs to the right along it, y straight into the room.
#pragma once

#include "quantity/space.h"
#include "quantity/units.h"
#include "setup/plain/finish.h"

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

enum class Wall { near, far, left, right, floor, ceiling };

/// As a file says them.
inline constexpr std::array<std::string_view, 6> wall_words{"near", "far", "left", "right", "floor", "ceiling"};
inline std::string_view word_of(Wall wall) {
    return wall_words[static_cast<std::size_t>(wall)];
}
/// "near wall", "ceiling"
inline std::string full_name(Wall wall) {
    const bool upright = wall != Wall::floor && wall != Wall::ceiling;
    return std::string(word_of(wall)) + (upright ? " wall" : "");
}

/// Slats before the glass.
struct Blind {
    double slat = 0.025, pitch = 0.021;  // m: width of a slat, from one to the next
    double tilt = 45;                    // degrees from level; 90: shut. Positive: the outer edge up, against the sky
    double drawn = 1;                    // share of the opening, from the head down
    bool upright = false;                // slats that hang, drawn from one side; tilt then turns them from square-on
    Finish finish;
};

/// A hole that light comes through. Measured along its wall: x for near and far, y for left and right;
/// for floor and ceiling `from`, `to` run along x and `sill`, `head` along y.
struct Opening {
    std::string name;
    Wall wall = Wall::near;
    double from = 0, to = 0;    // m along the wall
    double sill = 0, head = 0;  // m above the floor
    double bars = 0;            // share of the hole taken by glazing bars and frame, 0..1
    bool glazed = true;
    double glass = 0.8;     // luminous transmittance at normal incidence, all panes and dirt together
    double nd_density = 0;  // ND sheet on the glass
    Spectrum gel{1.0F};     // colour filter on the glass
    std::optional<Finish> curtain;
    std::optional<Blind> blind;
};

/// What stands within a box: nothing but the box itself, or a piece of furniture of that size, its front towards the
/// near wall before it is turned.
enum class FurnitureShape { box, table, stool, chair, sofa, bed, shelf, drawers, counter, lamp_foot, tree, car, house };
inline constexpr std::array<std::string_view, 13> furniture_shape_words{
    "box",     "table",   "stool",     "chair", "sofa", "bed",        "shelf",
    "drawers", "counter", "lamp foot", "tree",  "car",  "house front"};

/// A box that stands in the room, or outside it (the building opposite is a box too).
struct Box {
    std::string name;
    Vec3 centre{0, 0, 0};  // of the box
    Vec3 size{1, 1, 1};    // along its own x, y, z
    double turn = 0;       // degrees about z, anticlockwise seen from above
    FurnitureShape shape = FurnitureShape::box;
    Finish finish;
};

/// The triangles of a rough model or a hung picture, in metres in the place's frame.
struct Triangles {
    std::vector<Vec3> positions;
    struct Face {
        std::array<std::uint32_t, 3> corner;
        std::uint32_t finish;  // index into finishes
    };
    std::vector<Face> faces;
    std::vector<Finish> finishes;
};

struct Model {
    std::string name;                            // of the furniture; none: it is the place itself
    std::shared_ptr<const Triangles> triangles;  // shared by all set-ups that hold them
    Vec3 at{0, 0, 0};                            // of its origin; of a picture: of the middle of its lower edge
    double turn = 0;                             // as of a box
};

/// A polygon of a rough model that stands for a hole in the wall: kept as the triangles that were drawn.
struct OpeningPatch {
    std::string name;
    std::vector<std::array<Vec3, 3>> triangles;  // facing either way
    double glass = 0.8;
    bool glazed = true;
    double bars = 0;
    double nd_density = 0;
    std::optional<Finish> curtain;
};

struct Room {
    double width = 0, depth = 0, height = 0;  // along x, y, z
    double wall_thickness = 0.2;              // deep reveals shade a window
    std::array<Finish, 6> finish;             // by Wall
    std::vector<Opening> openings;
};

struct Place {
    std::string name;
    double latitude = 50.0, longitude = 0.0;  // degrees, north and east positive
    double near_wall_faces = 180.0;           // compass degrees looking out through the near wall
    double ground_reflectance = 0.2;
    bool has_room = true;  // else the model is the room
    Room room;
    std::vector<Box> boxes;
    std::vector<Model> models;
    std::vector<OpeningPatch> model_openings;

    /// Lower and upper corner of everything inside (the room, or the model's bounding box).
    Vec3 lower{0, 0, 0}, upper{0, 0, 0};
};

/// A CIE general sky (ISO 15469:2004), by its type: 1 to 15; 16 is the traditional overcast sky.
struct Sky {
    int cie_type = 12;
    bool sun = true;  // whether the disc shines
};

inline constexpr int uniform_sky_type = 5;

/// The class of a sky: overcast up to CIE type 5 and the traditional one, mixed up to 10, clear beyond.
enum class Weather { clear, mixed, overcast };
constexpr Weather weather_of(int cie_type) {
    return cie_type <= 5 || cie_type == 16 ? Weather::overcast : cie_type <= 10 ? Weather::mixed : Weather::clear;
}

struct Day {
    bool dark = false;  // night, or every opening shut: no sun, no sky
    int year = 2026, month = 6, day = 21;
    double clock_hours = 12.0;      // the place's own clock
    double utc_offset_hours = 0.0;  // resolved from the time zone
    Sky sky;
    // The light may be calibrated by readings; negative means "from the date, the sun and the sky".
    double sky_horizontal_lux = -1;     // unobstructed, sky alone
    double sun_normal_lux = -1;         // facing the sun
    double uniform_sky_luminance = -1;  // cd/m2: an even sky, for checks and rough work
    double sky_kelvin = -1, sun_kelvin = -1;
    double factor = 1;  // all of it times this: from a reading on the scout
};

}  // namespace rushlight
