// The light of a matt box by another road than paths: each face cut into even patches, form factors between patches in
// closed form, one dense set of linear equations. Shares nothing with the renderer.
#pragma once

#include "references.h"

#include <array>
#include <vector>

namespace rushlight::validation {

/// Share of the flux of patch a that lands on patch b, for axis-aligned rectangles in parallel planes or in planes at
/// right angles (Ehlert and Smith, J. Thermophysics 7(1), 1993; from memory, confirmed by closure).
struct Patch {
    int axis = 2;      // the plane is square to it
    double level = 0;  // where
    std::array<double, 3> low{}, high{};
    double area() const;
    std::vector<Point> corners() const;
};
double form_factor(const Patch& a, const Patch& b);

class PatchBox {
public:
    /// Faces in the order x low, x high, y low, y high, floor, ceiling, each n by n patches. `given_out` is what a face
    /// sends out by itself, lm/m2.
    PatchBox(std::array<double, 3> size, int n, std::array<double, 6> reflectance, std::array<double, 6> given_out);

    /// Area mean of the illuminance on a face.
    double mean(int face) const;
    /// Illuminance at a place inside, on a face of normal `facing`; what lies behind it is left out.
    double at(const Point& place, const Point& facing) const;
    /// Largest departure of the form factors of a patch from 1 in sum.
    double closure() const { return closure_; }
    /// Sum of (1 - rho) E A: the flux that the faces keep.
    double kept() const;

private:
    int n_;
    std::array<double, 6> reflectance_;
    std::vector<Patch> patches_;
    std::vector<double> exitance_, illuminance_;
    double closure_ = 0;
};

}  // namespace rushlight::validation
