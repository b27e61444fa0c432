// Readings of the scout against the model, and the model scaled to them: light adds up, so one factor a source will do.
#pragma once

#include "paths/work/effort.h"
#include "quantity/measured.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

/// One reading beside what the model says there, as scouted: nobody on the marks, nothing put up, one source alone.
struct MeterAgainstModel {
    std::string name;
    double said = 0;  // lx, by the meter
    Measured model;   // lx, traced
    double stops() const;
};

struct SourceScale {
    std::string source;  // a lamp, or "daylight"
    double factor = 1;   // the geometric mean over its readings, meter over model
    double error = 0;    // standard error of its log2 from tracing, stops
    double stops() const;
    /// Farthest that a reading lies from the scaled model, stops; 0 with one reading.
    double disagreement() const;
    std::vector<MeterAgainstModel> readings;
};

/// The place as the readings were taken in it: nobody on the marks, nothing put up, the day of the file, and of the
/// lamps those that were read, as they were before a set-up or option changed them.
Setup as_scouted(Setup setup);
/// A fingerprint of everything that the readings depend on: set-ups and options with the same fingerprint have the same
/// scales.
std::string scales_key(const Setup& setup);

/// One entry for each source that has readings; a source that gives nothing there keeps its factor of one.
/// Each source is traced until its readings are as sure as `relative_error`, or for `most_seconds`.
std::vector<SourceScale> calibrate(const Setup& setup, const Effort& effort, double relative_error = 0.01,
                                   double most_seconds = 60);
/// The set-up with those sources scaled.
Setup scaled(Setup setup, const std::vector<SourceScale>& scales);
/// The result in sentences for people.
std::vector<std::string> calibration_lines(const std::vector<SourceScale>& scales);

}  // namespace rushlight
