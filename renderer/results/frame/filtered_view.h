// Spot readings through a mist or a graduated ND before the lens: the sensor gets other light than a meter beside the
// lens.
#pragma once

#include "paths/walk/camera_paths.h"
#include "quantity/colour.h"
#include "quantity/measured.h"
#include "results/light/kept_light.h"
#include "scene/rays/camera_view.h"
#include "setup/plain/setup.h"

#include <optional>
#include <vector>

namespace rushlight {

class FilteredView {
public:
    /// Takes a picture of `width` by `height` pixels, row by row: the light on the filters, and one standard error of
    /// its luminance at each pixel.
    FilteredView(const Camera& camera, int width, int height, std::vector<Tristimulus> light,
                 const std::vector<float>& error);

    /// The luminance that the sensor gets of a spot which without a filter is `luminance`. Outside the picture nothing
    /// changes.
    Measured on_sensor(const MeterPoint& spot, const Measured& luminance) const;
    /// Mean of all that the mist lays over the picture, cd/m2.
    double mean_veil() const;

private:
    Camera camera_;
    CameraView view_;
    int width_, height_;
    std::vector<double> veil_, veil_error_;  // cd/m2 that the mist adds
};

/// Traces a coarse picture for it. Nothing where the camera has no such filter.
std::optional<FilteredView> look_through_filters(const Setup& setup, const Scene& scene, const Effort& effort,
                                                 KeptLight& light);

}  // namespace rushlight
