#include "setup/model/placement.h"

#include "quantity/units.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

using V3d = Imath::V3d;

struct UpAxis {
    const char* name;
    V3d (*upright)(const V3d&);
};
// Turns only, never a mirror: left stays left.
constexpr std::array<UpAxis, 6> up_axes{{
    {"x", [](const V3d& p) { return V3d(p.y, p.z, p.x); }},
    {"y", [](const V3d& p) { return V3d(p.x, -p.z, p.y); }},
    {"z", [](const V3d& p) { return p; }},
    {"-x", [](const V3d& p) { return V3d(p.z, p.y, -p.x); }},
    {"-y", [](const V3d& p) { return V3d(p.x, p.z, -p.y); }},
    {"-z", [](const V3d& p) { return V3d(p.x, -p.y, -p.z); }},
}};

}  // namespace

RoughModelPlacement::RoughModelPlacement(const RoughModelRequest& request, const std::string& file)
    : metres_per_unit_(request.metres_per_unit), move_(request.move) {
    const auto up = std::find_if(up_axes.begin(), up_axes.end(), [&](const UpAxis& a) { return a.name == request.up; });
    if (up == up_axes.end())
        throw InputError(file + ": found up axis " + in_quotes(request.up) +
                         hint(request.up, {"x", "y", "z", "-x", "-y", "-z"}));
    upright_ = up->upright;
    if (!(metres_per_unit_ > 0) || !std::isfinite(metres_per_unit_))
        throw InputError(file + ": expected a positive number of metres for each unit of the model");
    const double angle = radians(Degree{request.turn});
    cosine_ = std::cos(angle);
    sine_ = std::sin(angle);
}

V3d RoughModelPlacement::operator()(const V3d& p) const {
    const V3d q = upright_(p * metres_per_unit_);
    return V3d(q.x * cosine_ - q.y * sine_, q.x * sine_ + q.y * cosine_, q.z) + move_;
}

}  // namespace rushlight
