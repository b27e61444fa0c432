// The floor of a scanned room: the lowest large plane that looks up, or down where the scan was turned inside out.
#include "quantity/units.h"
#include "setup/model/remarks.h"
#include "setup/text/words.h"

#include <ImathVec.h>

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

using V3d = Imath::V3d;

struct Facet {
    double height, area;
    V3d normal;  // unit, upwards
};

/// What leans less than this may be a floor.
constexpr double most_lean = 20;  // degrees

std::vector<Facet> level_facets(const Triangles& model, double& area_of_all) {
    std::vector<Facet> level;
    area_of_all = 0;
    for (const Triangles::Face& f : model.faces) {
        const V3d a(model.positions[f.corner[0]]), b(model.positions[f.corner[1]]), c(model.positions[f.corner[2]]);
        V3d normal = (b - a).cross(c - a);
        const double twice = normal.length();
        if (!(twice > 0)) continue;
        area_of_all += twice / 2;
        normal /= normal.z < 0 ? -twice : twice;
        if (normal.z > std::cos(radians(Degree{most_lean})))
            level.push_back({(a.z + b.z + c.z) / 3, twice / 2, normal});
    }
    return level;
}

}  // namespace

std::vector<std::string> remarks_on_floor(const Triangles& model) {
    double all = 0;
    std::vector<Facet> level = level_facets(model, all);
    double level_area = 0;
    for (const Facet& f : level) level_area += f.area;
    // Floor and ceiling of a room are a fifth of its surfaces at least, unless it lies on its side.
    if (level_area < 0.1 * all)
        return {"hardly anything in it is level: is 'up' the axis that points up, and was the scan levelled?"};
    std::sort(level.begin(), level.end(), [](const Facet& a, const Facet& b) { return a.height < b.height; });
    // The lowest third of what is level, by area: without the ceiling, and without the odd face under the floor.
    double below = 0, area = 0, height = 0;
    V3d normal(0, 0, 0);
    for (const Facet& f : level) {
        below += f.area;
        if (below < 0.02 * level_area || below > 0.35 * level_area) continue;
        area += f.area;
        height += f.area * f.height;
        normal += f.normal * f.area;
    }
    if (area <= 0) return {};
    height /= area;
    const double lean = degrees(std::acos(std::clamp(normal.z / normal.length(), -1.0, 1.0))).value;
    std::vector<std::string> remarks;
    if (lean > 0.7)
        remarks.push_back("its floor leans by " + plain(std::round(lean * 10) / 10) +
                          " degrees: level the scan before it is exported, or heights are off by " +
                          plain(std::round(1000 * std::tan(radians(Degree{lean}))) / 10) + " cm a metre");
    if (std::abs(height) > 0.05)
        remarks.push_back("its floor is at z = " + plain(std::round(height * 100) / 100) +
                          " m; marks stand at z = 0: add " + plain(std::round(-height * 100) / 100) +
                          " m to the third number of 'move'");
    return remarks;
}

}  // namespace rushlight
