// A thin lens: what is sharp, and how wide a point blurs. Distances are metres from the lens along its axis,
// lengths on the sensor millimetres.
#pragma once

#include "quantity/units.h"

namespace rushlight {

/// f-number of a lens that is marked in T: N = T sqrt(tau), tau being the share of light its glass lets through
/// (definition of the T-number, ISO 517).
double f_number(double t_stop, double lens_passes);

struct ThinLens {
    double focal_length = 35;  // mm
    double f_number = 2.8;     // 0: no opening at all, a pinhole
    double focus = INFINITY;   // m; what lies there is sharp

    /// Diameter of the opening, mm: f / N.
    double opening() const { return f_number > 0 ? focal_length / f_number : 0.0; }
    /// From the lens to the sensor, mm: f s / (s - f). At endless focus it is f.
    double image_distance() const;
    /// Diameter on the sensor, mm, of the disc that a point at `distance` becomes: v A |d - s| / (d s), which is
    /// f^2 |d - s| / (N d (s - f)) (any optics text).
    double blur(double distance) const;

    struct Sharp {
        double near = 0, far = INFINITY;  // m
    };
    /// Where points blur to no more than `circle` mm: H = f^2 / (N c) + f, near = s (H - f) / (H + s - 2 f),
    /// far = s (H - f) / (H - s), endless from s = H on (any optics text).
    Sharp sharp(double circle) const;
};

/// Circle of confusion, mm: diagonal / 1500 (common practice, no source).
double usual_circle(double sensor_width, double sensor_height);

}  // namespace rushlight
