// Our own false-colour scale: earth under grey, sky over it, and a horizon between them that cannot be
// missed. Within a stop of grey, where skin is placed, bands are half a stop; beyond they are a stop. Lightness rises
// from band to band, so the scale also reads in grey; the hue changes only its family once, at grey.
// docs/false-colour.md tells how it was computed and tested.
#pragma once

#include "pictures/draw/image.h"

#include <array>

namespace rushlight {

inline constexpr int least_stop = -5, most_stop = 7;
/// Where bands meet, in stops; one band lies beyond each end.
inline constexpr std::array band_edges{-5.0, -4.0, -3.0, -2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0};
inline constexpr int colour_bands = static_cast<int>(band_edges.size()) + 1;

/// Band 0 is everything under -5 stops, band 15 everything over +7; the lower edge belongs to the band. Minus infinity
/// (no light) is band 0.
int colour_band(double stops);
/// The middle of a band, stops; of the two beyond the ends, half a stop beyond.
double band_middle(int band);
/// Display colour of a band.
Colour band_colour(int band);
/// Display colour without bands: equal to band_colour at the middle of each band, changing evenly between,
/// with the one jump at grey.
Colour smooth_colour(double stops);

}  // namespace rushlight
