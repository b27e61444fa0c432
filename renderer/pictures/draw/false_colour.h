// Our own false-colour scale: earth under grey, sky over it, and a horizon between them that cannot be
// missed. Lightness rises by the same step from band to band, so the scale also reads in grey; the hue
// changes only its family once, at grey. docs/false-colour.md tells how it was computed and tested.
#pragma once

#include "pictures/draw/image.h"

namespace rushlight {

/// Whole-stop bands from -5 to +7 stops, and one band beyond each end.
inline constexpr int least_stop = -5, most_stop = 7;
inline constexpr int colour_bands = most_stop - least_stop + 2;

/// Band 0 is everything under -5 stops, band 13 everything over +7; edges are whole stops, and the lower
/// edge belongs to the band. Minus infinity (no light) is band 0.
int colour_band(double stops);
/// Display colour of a band.
Colour band_colour(int band);
/// Display colour without bands: equal to band_colour at the middle of each band, changing evenly between,
/// with the one jump at grey.
Colour smooth_colour(double stops);

}  // namespace rushlight
