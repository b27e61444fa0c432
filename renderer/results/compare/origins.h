// The light at one point, by source and by the surface that the light left last.
#pragma once

#include "paths/walk/last_surface.h"
#include "results/light/kept_light.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

/// Light at the point that came from one surface last.
struct Origin {
    std::string name;
    Measured lux;
    std::vector<double> by_source;  // lux, in the order of Origins::sources
};

struct Origins {
    std::string title, setup, option;
    std::string point;  // the reading's name: "A near cheek"
    MeterPoint meter;
    Measured lux;
    double t_stop = 0;
    std::vector<std::string> sources;
    std::vector<Measured> by_source;
    std::vector<Origin> surfaces;  // most light first
    std::vector<std::string> remarks;
    double seconds = 0;
};

/// Stops that the whole would lose without `part` of it.
double stops_without(double part, double whole);

/// The surfaces of a scene by the names people know them by. People are one surface each, glass is its window's.
LastSurfaces last_surfaces(const Scene& scene, const Setup& setup);

/// `point` is the name of a reading of this set-up.
Origins find_origins(const Setup& setup, const Scene& scene, const std::string& point, const MeterPoint& meter,
                     const Effort& effort, KeptLight& light);

}  // namespace rushlight
