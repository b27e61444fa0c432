// How a model's own axes and units lie in the place.
#pragma once

#include "setup/model/rough_model.h"

#include <ImathVec.h>

#include <string>

namespace rushlight {

/// Scaled to metres, turned so that its up is up, turned about z, then moved.
class RoughModelPlacement {
public:
    /// Throws InputError in the name of `file` for an up axis that does not exist or a unit that is not positive.
    RoughModelPlacement(const RoughModelRequest& request, const std::string& file);
    Imath::V3d operator()(const Imath::V3d& p) const;

private:
    Imath::V3d (*upright_)(const Imath::V3d&) = nullptr;
    double metres_per_unit_ = 1;
    double cosine_ = 1, sine_ = 0;
    Imath::V3d move_{0, 0, 0};
};

}  // namespace rushlight
