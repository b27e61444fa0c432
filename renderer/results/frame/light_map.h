// Illuminance over many points: what a camera sees, or a level plane at a height.
#pragma once

#include "quantity/measured.h"
#include "quantity/space.h"

#include <cstdint>
#include <string>
#include <vector>

namespace rushlight {

struct LightMap {
    int width = 0, height = 0;
    std::vector<float> lux;    // row by row from the top; NaN where there is nothing to measure
    std::vector<float> error;  // one standard error, lux
    std::vector<float> shade;  // 0..1, a plain picture of the place, laid under the colour; may be empty
    // Lux without its noise, its edges kept, for colours and lines; empty where the program has no denoising network.
    std::vector<float> calm;
    std::vector<std::uint16_t> thing;  // what is seen at each point, by its number in `things`; empty on a plane
    struct Thing {
        std::string name;    // of a person, a window or a piece of furniture; empty: not worth a name
        bool drawn = false;  // its outline stands over the colours
    };
    std::vector<Thing> things;
    struct Key {
        std::string mark;
        double lux = 0;
    };
    std::vector<Key> keys;   // what targets want on key cheeks
    double metered_lux = 0;  // what the camera's exposure asks for: 0 stops; 0 when there is none
    std::string setup, option;
    double noise = 0;  // mean relative error of a point
    double seconds = 0;
    std::vector<std::string> remarks;
    // Only for a plane:
    bool plane = false;
    double plane_height = 0;  // m
    double metres_per_pixel = 0;
    double origin_x = 0, origin_y = 0;  // place coordinates of the lower left corner
    enum class SignKind { point, mark, lamp, ball, camera, panel };
    struct Sign {
        std::string name;
        double x = 0, y = 0;  // place coordinates
        SignKind kind = SignKind::point;
        double facing = 0;  // degrees, anticlockwise from +x seen from above: nose, aim or lens
        double width = 0;   // m across the facing, of a lamp or panel; 0 when not known
    };
    std::vector<Sign> signs;
    struct Outline {
        std::string name;
        std::vector<Vec3> corners;  // place coordinates
        bool window = false;        // then a line from end to end; else furniture, closed
    };
    std::vector<Outline> outlines;

    std::size_t at(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    }
};

}  // namespace rushlight
