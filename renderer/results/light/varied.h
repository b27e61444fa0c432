// A number with its chance parts kept apart, so that a difference of two knows what they have in common: the same
// paths of the sky stand behind every hour of a day.
#pragma once

#include "quantity/measured.h"

#include <cmath>
#include <vector>

namespace rushlight {

/// `sky` and `sun` hold what each batch adds to the mean's error, so that its variance is the sum of their squares.
/// Sky parts of one trace are shared by all hours; sun parts only by numbers of the same hour.
struct Varied {
    double value = 0;
    std::vector<float> sky, sun;

    double error() const { return std::sqrt(squares(sky) + squares(sun)); }
    Measured measured() const { return {value, error()}; }

    static double squares(const std::vector<float>& parts) {
        double sum = 0;
        for (const float p : parts) sum += static_cast<double>(p) * static_cast<double>(p);
        return sum;
    }
};

/// a value + b value, and the parts with them; of the same hour.
Varied weighted_sum(const Varied& x, double a, const Varied& y, double b);
/// log2(over / under) of the same hour, to first order in the errors.
Varied stops_between(const Varied& over, const Varied& under);
/// log2 of it, to first order.
Varied stops_of(const Varied& x);
/// after - before, of two hours.
Measured difference(const Varied& after, const Varied& before);

/// The parts that belong to the batches' means `x`, of equal weight.
std::vector<float> parts_of(const std::vector<double>& x);

}  // namespace rushlight
