// What tests of rough models ask, whatever format the model came in.
#pragma once

#include "setup/model/rough_model.h"

#include <string>
#include <vector>

namespace rushlight::model_checks {

inline double area(const RoughModel& m) {
    double sum = 0;
    for (const auto& f : m.triangles.faces) {
        const Vec3 a = m.triangles.positions.at(f.corner[0]), b = m.triangles.positions.at(f.corner[1]),
                   c = m.triangles.positions.at(f.corner[2]);
        sum += static_cast<double>((b - a).cross(c - a).length()) / 2;
    }
    return sum;
}

inline bool mentions(const std::vector<std::string>& remarks, const std::string& words) {
    for (const std::string& r : remarks)
        if (r.find(words) != std::string::npos) return true;
    return false;
}

}  // namespace rushlight::model_checks
