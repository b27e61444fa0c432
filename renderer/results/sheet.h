// What the meters said of one set-up: plain numbers, ready for a table, a page or JSON.
#pragma once

#include "quantity/measured.h"
#include "quantity/units.h"

#include <string>
#include <vector>

namespace rushlight {

struct Reading {
    std::string name;  // "A window cheek", or the meter's own name
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
    std::string against;  // the option that `changes` count from; empty: none
    std::vector<Change> changes;
    std::vector<std::string> remarks;  // "stopped at your request after ...", guesses, ...
    double seconds = 0;                // wall time of the tracing
    double wanted_error = 0;           // relative, 0 when a time was asked for
};

}  // namespace rushlight
