// Closed forms and sums that rows are held to, in double and apart from the renderer: nothing here calls it.
#pragma once

#include <ImathVec.h>

#include <array>
#include <vector>

namespace rushlight::validation {

using Point = Imath::V3d;

/// Lambert's polygon formula (Photometria, 1760): E at `at` on a face of normal `facing` from a polygon of even
/// luminance, all of it before the face.
double polygon_illuminance(double luminance, const std::vector<Point>& corners, const Point& at, const Point& facing);

/// Opposite a parallel rectangle x0..x1, y0..y1 at height h: four corner terms (configuration-factor catalogues).
double parallel_rectangle(double luminance, double x0, double x1, double y0, double y1, double h);

/// Parallel receiver at height h and offset d from the axis of a disc of radius r (configuration-factor catalogues).
double parallel_disc(double luminance, double r, double h, double d);

/// A cylinder whose middle the receiver faces, summed over its side: the definition of illuminance.
double cylinder(double luminance, double length, double diameter, double distance);

/// Fresnel reflectance per polarisation, from air into a medium of index n.
struct Polarised {
    double s, p;
};
Polarised fresnel(double cosine, double n);
/// Pane with every internal bounce, per polarisation, then averaged; t is the internal transmittance at normal
/// incidence.
double pane_transmittance(double cosine, double n, double t);

/// ISO 15469:2004: relative luminance, zenith 1, of a sky a..e; `toward` and `sun` are unit vectors.
double general_sky(const std::array<double, 5>& sky, const Point& toward, const Point& sun);
/// a..e of the fifteen types.
const std::array<std::array<double, 5>, 15>& general_sky_table();

}  // namespace rushlight::validation
