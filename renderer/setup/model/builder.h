// Points, materials and polygons of a rough model, whatever file they come from, made into clean triangles with a
// report of what was mended.
#pragma once

#include "setup/model/placement.h"
#include "setup/model/remarks.h"
#include "setup/model/rough_model.h"

#include <array>
#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <vector>

namespace rushlight {

inline constexpr double farthest_model_coordinate = 1e6;  // m

class RoughModelBuilder {
public:
    explicit RoughModelBuilder(const RoughModelRequest& request);

    std::size_t points() const { return points_.size(); }
    /// In the file's own axes and unit. `line`: of the file, for messages; 0 where it has none.
    void add_point(const Imath::V3d& p, int line);
    /// Faces that follow are of this material.
    void use_material(const std::string& name);
    /// What the file itself says of a material, linear BT.709 in 0..1: taken where the person says nothing.
    void give_colour(const std::string& material, const std::array<float, 3>& colour);
    /// Bytes of a file that the model was read from.
    void count_bytes(std::size_t bytes) { bytes_ += bytes; }
    /// Corners are numbers of points, from 0. `line`: of the file, or the number of the face where it has no lines.
    void add_polygon(std::span<const std::uint32_t> corners, int line);

    /// Throws InputError when there are no faces. The builder is used up. `has_lines`: whether remarks may name lines
    /// of the file.
    RoughModel finished(bool has_lines);

private:
    struct Material {
        std::string name;
        const OpeningPatch* opening = nullptr;
        OpeningPatch patch;
        std::size_t faces = 0;
    };
    struct DoubleFace {
        std::array<std::uint32_t, 3> corner;
        std::uint32_t material;
    };

    /// Its name as it may be shown. Throws InputError for one too long, or one too many.
    std::string material_name(const std::string& name, std::size_t known) const;
    void take_triangle(const std::array<std::uint32_t, 3>& corner, int line);
    std::vector<std::uint32_t> choose_finishes(RoughModel& model);
    void remark(RoughModel& model, const std::string& sentence) const {
        model.remarks.push_back(short_name_ + ": " + sentence);
    }

    const RoughModelRequest& request_;
    std::string short_name_;
    RoughModelPlacement placement_;

    std::vector<Imath::V3d> points_;
    std::vector<Material> materials_;  // number 0: faces before any material
    std::map<std::string, std::uint32_t> number_of_;
    std::uint32_t current_ = 0;
    std::vector<DoubleFace> faces_;
    std::size_t triangles_ = 0;
    std::size_t faces_met_ = 0, corners_met_ = 0, looks_ = 0, bytes_ = 0;
    std::map<std::string, std::array<float, 3>> colour_of_;
    Repairs repairs_;
    std::vector<std::uint32_t> polygon_;  // scratch
    std::vector<Imath::V3d> polygon_points_;
};

}  // namespace rushlight
