// What to measure on arrival, what the model says there, and what to write back into the file when the place says
// otherwise.
#pragma once

#include "paths/work/effort.h"
#include "quantity/measured.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

struct ToMeasure {
    std::string name;  // "daylight at A", "walls"
    std::string how;   // where the meter or the tape is held
    enum class Unit { lux, stops, metre, degree } unit = Unit::lux;
    std::vector<double> model;  // what the model has: one number, or the sides of a thing
    double error = 0;           // of a traced number, in its unit
    std::string file;           // what is written into the set-up file, with a gap for the number
    std::string why;            // what it moves
};

/// Daylight at the marks and in the middle of the room, each lamp alone at the mark it lights, reflectance against a
/// grey card, the glass, which way the room faces, the room itself. Light is traced as `[[measured]]` is: nobody on
/// the marks, nothing put up, one source alone, for `effort.seconds` each. Lamps named in `done` are left out, and the
/// others added to it.
std::vector<ToMeasure> to_measure(const Setup& setup, const Effort& effort, std::vector<std::string>& done);

/// The mark that a lamp lights: the face nearest to its aim, within 0.6 m. Null when there is none.
const Mark* lit_mark(const Rig& rig, const Lamp& lamp);

}  // namespace rushlight
