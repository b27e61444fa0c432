#include "setup/model/builder.h"

#include "setup/model/polygon.h"
#include "setup/text/code_points.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <limits>
#include <optional>
#include <utility>

namespace rushlight {

namespace {

using V3d = Imath::V3d;

constexpr std::size_t most_points = 3 * most_triangles;
constexpr std::size_t most_faces = 2 * most_triangles;  // with those that are left out
// Sound polygons take some ten looks a corner, spirals some fifty; the rest is for single tangled ones.
constexpr std::size_t looks_a_corner = 200, looks_besides = 50'000'000;
constexpr double thinnest = 1e-6;  // m: a triangle less high than this is a line

}  // namespace

RoughModelBuilder::RoughModelBuilder(const RoughModelRequest& request)
    : request_(request),
      short_name_(std::filesystem::path(request.path).filename().string()),
      placement_(request, short_name_),
      materials_(1) {}

void RoughModelBuilder::add_point(const V3d& p, int line) {
    if (points_.size() >= most_points)
        throw InputError({request_.path, line}, "found more than " + std::to_string(most_points) + " points");
    request_.patience.look(points_.size());
    points_.push_back(placement_(p));
}

std::string RoughModelBuilder::material_name(const std::string& name, std::size_t known) const {
    if (name.size() > longest_material_name)
        throw InputError({request_.path}, "found a material called " + in_quotes(name) + ", expected names of up to " +
                                              std::to_string(longest_material_name) + " letters");
    if (known > most_materials)
        throw InputError({request_.path}, "found more than " + counted(most_materials, "", "materials") +
                                              ", expected a rough model: join those that look alike");
    return shown(name);
}

void RoughModelBuilder::give_colour(const std::string& material, const std::array<float, 3>& colour) {
    colour_of_.try_emplace(material_name(material, colour_of_.size()), colour);
}

void RoughModelBuilder::use_material(const std::string& written) {
    const std::string name = material_name(written, materials_.size());
    const auto [at, fresh] = number_of_.try_emplace(name, static_cast<std::uint32_t>(materials_.size()));
    if (fresh) {
        Material& m = materials_.emplace_back();
        m.name = name;
        if (const auto opening = request_.opening_of.find(name); opening != request_.opening_of.end()) {
            m.opening = &opening->second;
            m.patch = opening->second;
            m.patch.triangles.clear();
        }
    }
    current_ = at->second;
}

void RoughModelBuilder::add_polygon(std::span<const std::uint32_t> corners, int line) {
    if (++faces_met_ > most_faces)
        throw InputError({request_.path, line}, "found more than " + counted(most_faces, "", "faces") +
                                                    ", expected a rough model: reduce it first");
    request_.patience.look(faces_met_);
    corners_met_ += corners.size();
    polygon_.clear();
    polygon_points_.clear();
    for (const std::uint32_t corner : corners) {
        const V3d& p = points_[corner];
        if (!polygon_points_.empty() && p == polygon_points_.back()) continue;
        polygon_.push_back(corner);
        polygon_points_.push_back(p);
    }
    while (polygon_points_.size() > 1 && polygon_points_.front() == polygon_points_.back()) {
        polygon_.pop_back();
        polygon_points_.pop_back();
    }
    if (polygon_.size() < 3) {
        repairs_.two_corners.add(line);
        return;
    }
    const CutPolygon cut = cut_polygon(polygon_points_);
    looks_ += cut.looks;
    if (looks_ > looks_a_corner * corners_met_ + looks_besides)
        throw InputError({request_.path, line},
                         "found polygons too tangled to be cut into triangles here, expected simple ones: let the "
                         "modelling program cut them");
    if (cut.looks > 4096) request_.patience.look();
    if (cut.crosses_itself) repairs_.crossing.add(line);
    if (cut.triangles.empty()) repairs_.thin.add(line);
    for (const auto& [a, b, c] : cut.triangles) take_triangle({polygon_[a], polygon_[b], polygon_[c]}, line);
}

void RoughModelBuilder::take_triangle(const std::array<std::uint32_t, 3>& corner, int line) {
    const V3d &a = points_[corner[0]], &b = points_[corner[1]], &c = points_[corner[2]];
    const double longest = std::sqrt(std::max({(b - a).length2(), (c - b).length2(), (a - c).length2()}));
    const double height = longest > 0 ? (b - a).cross(c - a).length() / longest : 0;
    if (!(height > std::max(thinnest, 1e-6 * longest))) {
        repairs_.thin.add(line);
        return;
    }
    if (triangles_ >= most_triangles)
        throw InputError({request_.path, line}, "found more than " + counted(most_triangles, "", "triangles") +
                                                    ", expected a rough model: reduce it first");
    ++triangles_;
    Material& material = materials_[current_];
    ++material.faces;
    if (material.opening != nullptr)
        material.patch.triangles.push_back({Vec3(a), Vec3(b), Vec3(c)});
    else
        faces_.push_back({corner, current_});
}

RoughModel RoughModelBuilder::finished(bool has_lines) {
    if (triangles_ == 0) {
        const char* instead = faces_met_ > 0     ? "faces without any area"
                              : !points_.empty() ? "points but no faces (a point cloud must be meshed first)"
                                                 : "no faces";
        throw InputError({request_.path},
                         std::string("found ") + instead + ", expected a model of triangles or polygons");
    }
    RoughModel model;
    for (std::size_t i = 1; i < materials_.size(); ++i) model.material_names.push_back(materials_[i].name);
    const std::vector<std::uint32_t> finish_of_material = choose_finishes(model);

    // Points that no face uses are left behind: they would stretch the bounding box.
    constexpr auto unused = std::numeric_limits<std::uint32_t>::max();
    std::vector<std::uint32_t> new_number(points_.size(), unused);
    model.triangles.faces.reserve(faces_.size());
    for (const DoubleFace& face : faces_) {
        Triangles::Face f{{}, finish_of_material[face.material]};
        for (std::size_t i = 0; i < 3; ++i) {
            std::uint32_t& number = new_number[face.corner[i]];
            if (number == unused) {
                number = static_cast<std::uint32_t>(model.triangles.positions.size());
                model.triangles.positions.emplace_back(points_[face.corner[i]]);
            }
            f.corner[i] = number;
        }
        model.triangles.faces.push_back(f);
    }
    for (Material& m : materials_)
        if (!m.patch.triangles.empty()) model.openings.push_back(std::move(m.patch));

    model.bytes = bytes_;
    model.lower = Vec3(std::numeric_limits<float>::max());
    model.upper = -model.lower;
    const auto enclose = [&](const Vec3& p) {
        for (int i = 0; i < 3; ++i) {
            model.lower[i] = std::min(model.lower[i], p[i]);
            model.upper[i] = std::max(model.upper[i], p[i]);
        }
    };
    for (const Vec3& p : model.triangles.positions) enclose(p);
    for (const OpeningPatch& o : model.openings)
        for (const auto& t : o.triangles)
            for (const Vec3& p : t) enclose(p);

    const auto add = [&](const std::vector<std::string>& sentences) {
        for (const std::string& sentence : sentences) remark(model, sentence);
    };
    add(remarks_on_repairs(repairs_, triangles_, has_lines));
    add(remarks_on_size(model.lower, model.upper, request_.metres_per_unit));
    if (request_.is_room) add(remarks_on_floor(model.triangles));
    add(remarks_on_names(request_, model.material_names));
    return model;
}

/// The person's word first, then the file's own colour, then the finish for the rest.
std::vector<std::uint32_t> RoughModelBuilder::choose_finishes(RoughModel& model) {
    std::vector<std::uint32_t> chosen(materials_.size(), 0);
    std::vector<Finish>& finishes = model.triangles.finishes;
    std::vector<std::string> unnamed, coloured;
    std::optional<std::uint32_t> otherwise;
    bool without_material = false;
    for (std::size_t i = 0; i < materials_.size(); ++i) {
        const Material& m = materials_[i];
        if (m.opening != nullptr || m.faces == 0) continue;
        const auto named = request_.finish_of.find(m.name);
        const auto colour = colour_of_.find(m.name);
        if (i > 0 && named != request_.finish_of.end()) {
            finishes.push_back(named->second);
            finishes.back().name = m.name;
        } else if (i > 0 && colour != colour_of_.end()) {
            Finish f;
            f.name = m.name;
            f.reflectance = reflectance_from_rgb(colour->second[0], colour->second[1], colour->second[2]);
            finishes.push_back(f);
            coloured.push_back(m.name);
        } else {
            if (i == 0)
                without_material = true;
            else
                unnamed.push_back(m.name);
            if (!otherwise) {
                otherwise = static_cast<std::uint32_t>(finishes.size());
                finishes.push_back(request_.otherwise);
            }
            chosen[i] = *otherwise;
            continue;
        }
        chosen[i] = static_cast<std::uint32_t>(finishes.size() - 1);
    }
    const std::string rest = request_.otherwise.name.empty() ? "the finish for all else"
                                                             : "the finish " + in_quotes(request_.otherwise.name);
    if (materials_.size() == 1)
        remark(model, "the file names no materials, so everything takes " + rest);
    else if (without_material)
        remark(model, "some faces come before any material and take " + rest);
    if (!unnamed.empty()) remark(model, "no finish is given for " + in_a_list(unnamed) + ": taken as " + rest);
    if (!coloured.empty()) remark(model, "the colour in the file is used for " + in_a_list(coloured));
    return chosen;
}

}  // namespace rushlight
