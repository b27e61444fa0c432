#include "quantity/lens.h"

#include <cmath>

namespace rushlight {

namespace {
constexpr double per_metre = 1000;  // mm
}

double f_number(double t_stop, double lens_passes) {
    return t_stop * std::sqrt(lens_passes);
}

double ThinLens::image_distance() const {
    const double s = focus * per_metre;
    return std::isfinite(s) ? focal_length * s / (s - focal_length) : focal_length;
}

double ThinLens::blur(double distance) const {
    const double d = distance * per_metre;
    const double s = focus * per_metre;
    const double apart = std::isfinite(s) ? std::abs(d - s) / (d * s) : 1 / d;
    return image_distance() * opening() * apart;
}

ThinLens::Sharp ThinLens::sharp(double circle) const {
    if (!(f_number > 0)) return {};
    const double f = focal_length;
    const double hyperfocal = f * f / (f_number * circle) + f;
    if (!std::isfinite(focus)) return {hyperfocal / per_metre, INFINITY};
    const double s = focus * per_metre;
    Sharp found;
    found.near = s * (hyperfocal - f) / (hyperfocal + s - 2 * f) / per_metre;
    if (s < hyperfocal) found.far = s * (hyperfocal - f) / (hyperfocal - s) / per_metre;
    return found;
}

double usual_circle(double sensor_width, double sensor_height) {
    return std::hypot(sensor_width, sensor_height) / 1500;
}

}  // namespace rushlight
