// The readings of one set-up: plain numbers, ready for a table, a page or JSON.
#pragma once

#include "quantity/measured.h"
#include "quantity/units.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct Reading {
    std::string name;  // "A near cheek", or the meter's own name
    std::string mark;  // empty for a meter placed by hand
    std::string kind;  // "flat" or "dome"
    std::string side;  // of a cheek: "key" for the brighter of the two, "fill" for the other
    Measured lux;
    double t_stop = 0;                // what an incident meter shows at the camera's ISO and shutter
    double kelvin = 0, duv = 0;       // colour of what arrives; 0 when there is no light
    std::vector<Measured> by_source;  // lux, in the order of Sheet::sources
};

/// Two cheeks, or key against fill: brighter over darker.
struct Ratio {
    std::string name;
    double ratio = 1;  // n in n:1
    Measured stops;    // log2 of it
};

/// How far an outline stands off what is behind it in the frame; positive: the outline is brighter.
struct Separation {
    std::string name;
    Measured stops;    // mean along the outline
    double least = 0;  // smallest absolute difference found along it, stops
    std::string mark = {};
    Measured outline = {}, behind = {};  // cd/m2, means along it
    // The same three as the sensor gets them through mist and graduated ND; nothing where the camera has none.
    std::optional<Measured> stops_on_sensor = {}, outline_on_sensor = {}, behind_on_sensor = {};
};

/// A reading of a spot meter at the lens.
struct SpotReading {
    std::string name;    // "near cheek", "wardrobe", "background, left"
    Measured luminance;  // cd/m2
    Measured over_grey;  // stops, for the camera's exposure
    std::string state;   // "clips", "lost" (under the footroom) or nothing
    // The same two through mist and graduated ND; nothing where the camera has none.
    std::optional<Measured> on_sensor = {}, over_grey_on_sensor = {};

    const Measured& placed() const { return over_grey_on_sensor ? *over_grey_on_sensor : over_grey; }
};

/// A light that an eye mirrors, as the lens sees it.
struct EyeLight {
    std::string source, by;  // whose light, and what is mirrored: a lamp, a window, a board
    double clock = 12;       // hours on the iris, as in the picture
    double over_iris = 0;    // stops
};

/// A light that glasses mirror, as the lens sees it.
struct GlassesGlare {
    std::string source, by;  // as of an eye light
    double over_skin = 0;    // stops over the key cheek
    double share = 0;        // of a lens that it covers; 0: a point
    double tilt = 0;         // degrees that they would have to lean further down to be rid of it; 0: no such lean
};

/// One person as this camera sees them. Readings by light meter are in Sheet::readings.
struct PersonReadings {
    std::string mark;
    bool in_picture = false;
    std::vector<SpotReading> spots;     // of what the lens sees
    std::vector<std::string> not_seen;  // spots that something hides from the lens
    std::string key_side, key_source;   // "near" or "far" cheek; the source that gives it most
    double key_share = 0;               // of that cheek's light
    /// Key to fill in each of the usual ways of saying it.
    std::vector<Ratio> key_to_fill;
    std::optional<Measured> background_step;  // stops of the background over the key cheek, as spots
    std::optional<Measured> background_step_on_sensor;
    bool eye_seen = false;
    std::vector<EyeLight> eye_lights;         // brightest first
    bool glasses_seen = false;                // with glass in them
    std::vector<GlassesGlare> glasses_glare;  // brightest first
    double softness = 0;                      // of the key: width over distance; 0 where it comes by bounce or cloth
    double shadow_edge = 0;                   // mm, of the shadow that a nose 30 mm off throws on the cheek
};

/// A window or other opening that the lens sees.
struct WindowInView {
    std::string name;
    Measured luminance;                      // cd/m2, its brightest part
    Measured over_grey;                      // stops, on the sensor
    bool holds = true;                       // not clipped
    double nd_to_hold = 0;                   // density of a sheet on the glass that would make it hold
    double lux_to_hold = 0;                  // on the key cheek, the lens closed as much: the other way to make it hold
    std::optional<Measured> over_face;       // stops over the key cheek of whom the camera is about
    std::optional<Measured> on_sensor = {};  // cd/m2, as of a spot
};

/// Light that falls on the front of the lens.
struct IntoLens {
    std::string source;
    double direct = 0;  // lux on the lens plane that comes straight from it
    bool in_picture = false;
};

/// The reading that a mist lifts most.
struct MistLift {
    std::string name;
    Measured stops;
};

struct CameraReadings {
    std::string name, subject;           // the mark the picture is about; may be empty
    double grey = 0, metered = 0;        // cd/m2 of grey, lux that the exposure asks for
    double headroom = 0, footroom = 0;   // stops
    double white_balance = 0, lens = 0;  // K, mm
    double mist = 0;                     // share of the light
    std::optional<MistLift> lift;
    double focus = 0, sharp_from = 0, sharp_to = 0;  // m; focus 0: all is sharp
    std::vector<WindowInView> windows;               // brightest first
    Measured lens_lux;                               // all light on the lens plane
    std::vector<IntoLens> into_lens;                 // what shines straight on it
};

/// How a reading or a separation of the same name moved from another option to this one.
struct Change {
    std::string name;
    Measured stops;  // with the errors of both
};

struct Sheet {
    std::string title, setup, option;
    std::vector<std::string> sources;
    std::vector<Reading> readings;
    std::vector<Ratio> ratios;
    std::vector<Separation> separations;
    std::vector<PersonReadings> people;
    std::optional<CameraReadings> camera;
    std::vector<std::string> in_shot;  // lamps, boards, flags, cloths and nets that the lens sees, largest first
    std::string against;               // the option that `changes` count from; empty: none
    std::vector<Change> changes;
    std::vector<std::string> remarks;  // "stopped at your request after ...", guesses, ...
    double seconds = 0;                // wall time of the tracing
    double wanted_error = 0;           // relative, 0 when a time was asked for
};

}  // namespace rushlight
