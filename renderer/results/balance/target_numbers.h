// Targets turned into meters and sums: which groups of meters each compares, and what it should come to.
#pragma once

#include "paths/measure.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <cmath>
#include <string>
#include <vector>

namespace rushlight {

/// One target as numbers: log2(mean of `over` / mean of `under`) + shift + by_stop * change of stop, in stops; or, of
/// the light at `over`, its colour in mired.
struct TargetNumber {
    std::string name, want;
    std::vector<std::size_t> over, under;  // meters; `under` empty: one
    double shift = 0, by_stop = 0;
    double wanted = 0, within = 1.0 / 3;
    Want::Side side = Want::Side::exact;
    bool colour = false;
    enum class Said { t_stop, lux, ratio, stops, kelvin } said = Said::stops;  // how people say it
    double t_squared_per_lux = 0;                                              // for Said::t_stop

    Measured value(const MeterResults& results, double stop) const;
    /// How far `value` is from what is wanted; 0 where it lies on the side that was asked for.
    double off(double value) const;
    /// Within its tolerance, or no more than two errors outside.
    bool reached(const Measured& value) const { return std::abs(off(value.value)) <= within + 2 * value.error; }
    /// It may lie within or far outside: an error larger than the tolerance tells nothing.
    bool cannot_tell(const Measured& value) const { return reached(value) && value.error > within; }
    /// The number as people say it, from its value.
    std::string for_people(double value) const;
};

class TargetNumbers {
public:
    /// Finds the meters. Throws InputError for a reading that is not there.
    TargetNumbers(const Setup& setup, const Scene& scene);

    const std::vector<MeterPoint>& meters() const { return meters_; }
    Wanted wanted() const;
    /// Throws InputError for a target that asks of a reading what that kind of reading does not say: T of an outline.
    void expect_each_of_its_kind() const;
    /// Call this once the light as found is known: it tells which cheek is the key's.
    void settle(const MeterResults& found, const std::vector<Sheet>& others);
    const std::vector<TargetNumber>& all() const { return numbers_; }

private:
    struct Group {
        std::string name;
        std::vector<std::size_t> over, under;
        bool luminance = false;
    };
    const Group* group(const std::string& name) const;
    Group needed(const std::string& name, const Target& target, const MeterResults& found) const;
    void keep_what_is_wanted();
    void add_windows(const Setup& setup, const Scene& scene);
    TargetNumber number_of(const Target& target, const MeterResults& found, const std::vector<Sheet>& others) const;

    const Setup* setup_;
    std::vector<MeterPoint> meters_;
    std::vector<Group> groups_;
    std::vector<TargetNumber> numbers_;
};

/// T of the first target that asks for a stop, else the camera's.
double stop_of_targets(const Setup& setup);

}  // namespace rushlight
