// A photograph as a thing that light falls on: the view outside a window, or a painting on the wall.
#pragma once

#include "setup/picture/picture_cells.h"
#include "setup/plain/place.h"

namespace rushlight {

/// How it hangs.
struct PictureHanging {
    std::string name;
    Vec3 middle{0, 0, 0};
    double width = 1;           // m; its height follows from the picture
    double turn = 0;            // degrees about z: at 0 it runs along x
    double reflectance = 0.18;  // mean luminous share sent back
    Vec3 seen_from{0, 0, 0};    // it reads the right way round from here
};

/// Each cell is matt paint. Its colour is the picture's, all brought to the mean reflectance by one factor; what would
/// pass `whitest` stays there. Colours are thinned to `most_colours`.
Triangles hung_picture(const PictureCells& cells, const PictureHanging& hanging);
/// m, by the picture's own proportions.
double height_of(const PictureCells& cells, double width);

inline constexpr float whitest = 0.9F;
inline constexpr std::size_t most_colours = 256;

}  // namespace rushlight
