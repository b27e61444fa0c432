// The only file that sees tinyobjloader. Its callback reader splits the lines and hands over whole material
// names; what the numbers mean is decided here, because a wrong index or an endless coordinate passes it.
#include "setup/rough_model.h"

#include "setup/rough_model_lines.h"
#include "setup/rough_model_placement.h"
#include "setup/rough_model_polygon.h"
#include "setup/rough_model_remarks.h"
#include "setup/where.h"
#include "setup/words.h"

#include <tiny_obj_loader.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <optional>
#include <set>
#include <utility>

namespace rushlight {

namespace {

using V3d = Imath::V3d;

constexpr std::size_t most_points = 3 * most_triangles;
constexpr std::size_t most_corners = 1000;   // of one polygon
constexpr double farthest_coordinate = 1e6;  // m
constexpr double thinnest = 1e-6;            // m: a triangle less high than this is a line

std::string trimmed(std::string_view s) {
    const auto from = s.find_first_not_of(" \t\r\n");
    if (from == std::string_view::npos) return {};
    return std::string(s.substr(from, s.find_last_not_of(" \t\r\n") - from + 1));
}

/// "3", "3/1", "3//2", "3/1/2", with or without signs. The OBJ reader makes several corners of anything longer.
bool is_corner(std::string_view word) {
    int parts = 0;
    for (std::size_t at = 0; at <= word.size(); ++parts) {
        const std::size_t to = std::min(word.find('/', at), word.size());
        std::string_view number = word.substr(at, to - at);
        if (!number.empty() && number[0] == '-') number.remove_prefix(1);
        if (number.find_first_not_of("0123456789") != std::string_view::npos) return false;
        at = to + 1;
    }
    return parts <= 3;
}

class Reader {
public:
    explicit Reader(const RoughModelRequest& request)
        : request_(request),
          short_name_(std::filesystem::path(request.path).filename().string()),
          placement_(request, short_name_) {}

    RoughModel read();

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

    bool wanted(std::string_view line, int number);
    void take_point(std::string_view line, std::size_t at, int number);
    void check_face(std::string_view line, std::size_t at, int number);
    void read_material_file(const std::string& name);
    void use_material(const std::string& name);
    void take_face(const tinyobj::index_t* corners, std::size_t count, int line);
    void take_triangle(const std::array<std::uint32_t, 3>& corner, int line);

    RoughModel finished();
    std::vector<std::uint32_t> choose_finishes(RoughModel& model);
    void remark(RoughModel& model, const std::string& sentence) const {
        model.remarks.push_back(short_name_ + ": " + sentence);
    }

    const RoughModelRequest& request_;
    std::string short_name_;
    RoughModelPlacement placement_;

    std::vector<V3d> points_;
    std::vector<Material> materials_;  // number 0: faces before any usemtl
    std::map<std::string, std::uint32_t> number_of_;
    std::uint32_t current_ = 0;
    std::vector<DoubleFace> faces_;
    std::size_t triangles_ = 0;
    std::size_t faces_met_ = 0;
    std::size_t corners_checked_ = 0;                        // of the face in hand
    std::map<std::string, std::array<float, 3>> colour_of_;  // Kd, from material files
    std::set<std::string> material_files_;
    Repairs repairs_;
    std::vector<std::uint32_t> polygon_;  // scratch
    std::vector<V3d> polygon_points_;
};

RoughModel Reader::read() {
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(request_.path, ignored))
        throw InputError({request_.path}, "found no such file, expected a rough model (OBJ)");
    std::filebuf file;
    if (file.open(request_.path, std::ios::in | std::ios::binary) == nullptr)
        throw InputError({request_.path}, "the file cannot be opened");

    materials_.emplace_back();
    CheckedLines lines(file, request_.path, [this](std::string_view line, int number) { return wanted(line, number); });
    std::istream stream(&lines);
    stream.exceptions(std::ios::badbit);  // so that what wanted() throws comes through

    struct Both {
        Reader& reader;
        CheckedLines& lines;
    } both{*this, lines};
    tinyobj::callback_t callback;
    callback.index_cb = [](void* user, tinyobj::index_t* corners, int count) {
        auto& [reader, at] = *static_cast<Both*>(user);
        reader.take_face(corners, static_cast<std::size_t>(count), at.line_number());
    };
    callback.usemtl_cb = [](void* user, const char* name, int) { static_cast<Both*>(user)->reader.use_material(name); };
    std::string warnings, errors;
    if (!tinyobj::LoadObjWithCallback(stream, callback, &both, nullptr, &warnings, &errors))
        throw InputError({request_.path}, "not an OBJ file that can be read: " + trimmed(errors).substr(0, 200));
    return finished();
}

/// Takes points and material files itself, checks the numbers of faces, and passes on faces and materials.
bool Reader::wanted(std::string_view line, int number) {
    std::size_t at = 0;
    const std::string_view keyword = next_word(line, at).text;
    if (keyword == "v") {
        take_point(line, at, number);
    } else if (keyword == "f") {
        check_face(line, at, number);
        return true;
    } else if (keyword == "mtllib") {
        read_material_file(trimmed(line.substr(at)));
    }
    return keyword == "usemtl";
}

void Reader::take_point(std::string_view line, std::size_t at, int number) {
    V3d p;
    for (int i = 0; i < 3; ++i) {
        const Word word = next_word(line, at);
        std::string_view digits = word.text;
        if (digits.size() > 1 && digits[0] == '+') digits.remove_prefix(1);
        double value = 0;
        const auto [end, problem] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
        const Where where{request_.path, number, word.column};
        if (word.text.empty())
            throw InputError({request_.path, number}, "found a point with fewer than three coordinates");
        if (problem == std::errc::invalid_argument || end != digits.data() + digits.size())
            throw InputError(where, "found " + in_quotes(word.text) + ", expected a coordinate such as 1.25");
        if (problem != std::errc{} || !std::isfinite(value) ||
            std::abs(value) * request_.metres_per_unit > farthest_coordinate)
            throw InputError(where, "found coordinate " + in_quotes(word.text) + ", expected a number within 1,000 km");
        p[i] = value;
    }
    if (points_.size() >= most_points)
        throw InputError({request_.path, number}, "found more than " + std::to_string(most_points) + " points");
    points_.push_back(placement_(p));
}

/// The OBJ reader takes any word for a number, and any number for a corner.
void Reader::check_face(std::string_view line, std::size_t at, int number) {
    const auto known = static_cast<long>(points_.size());
    corners_checked_ = 0;
    for (Word word = next_word(line, at); !word.text.empty(); word = next_word(line, at)) {
        if (word.text[0] == '#') break;
        const Where where{request_.path, number, word.column};
        const std::string_view index = word.text.substr(0, word.text.find('/'));
        long corner = 0;
        const auto [end, problem] = std::from_chars(index.data(), index.data() + index.size(), corner);
        if (index.empty() || end != index.data() + index.size() || problem == std::errc::invalid_argument ||
            !is_corner(word.text))
            throw InputError(
                where, "found corner " + in_quotes(word.text) + ", expected the number of a point, such as 3 or 3/1/2");
        if (problem != std::errc{} || corner == 0 || corner > known || corner < -known)
            throw InputError(where, "found corner " + in_quotes(word.text) + ", expected the number of one of the " +
                                        counted(points_.size(), "point", "points") + " above it");
        if (++corners_checked_ > most_corners)
            throw InputError(where, "found a face of more than " + std::to_string(most_corners) + " corners");
    }
}

/// Only from beside the model: a file name in somebody's model opens nothing else on this machine.
void Reader::read_material_file(const std::string& name) {
    const std::filesystem::path path =
        std::filesystem::path(request_.path).parent_path() / std::filesystem::path(name).filename();
    std::error_code ignored;
    if (name.empty() || !material_files_.insert(path.string()).second ||
        !std::filesystem::is_regular_file(path, ignored))
        return;
    std::filebuf file;
    if (file.open(path, std::ios::in | std::ios::binary) == nullptr) return;
    CheckedLines lines(file, path.string(), [](std::string_view line, int) {
        std::size_t at = 0;
        const std::string_view keyword = next_word(line, at).text;
        return keyword == "newmtl" || keyword == "Kd";
    });
    std::istream stream(&lines);
    stream.exceptions(std::ios::badbit);
    std::map<std::string, int> numbers;
    std::vector<tinyobj::material_t> found;
    std::string warnings, errors;
    tinyobj::LoadMtl(&numbers, &found, &stream, &warnings, &errors);
    for (const tinyobj::material_t& m : found) {
        std::array<float, 3> kd{};
        for (std::size_t i = 0; i < 3; ++i) {
            const auto share = static_cast<float>(m.diffuse[i]);
            kd[i] = std::isfinite(share) ? std::clamp(share, 0.0F, 1.0F) : 0.0F;
        }
        if (!trimmed(m.name).empty()) colour_of_.try_emplace(trimmed(m.name), kd);
    }
}

void Reader::use_material(const std::string& raw) {
    const std::string name = trimmed(raw);
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

void Reader::take_face(const tinyobj::index_t* corners, std::size_t count, int line) {
    ++faces_met_;
    polygon_.clear();
    polygon_points_.clear();
    for (std::size_t i = 0; i < std::min(count, corners_checked_); ++i) {  // a comment may follow
        const long index = corners[i].vertex_index;
        const long resolved = index > 0 ? index - 1 : static_cast<long>(points_.size()) + index;
        if (resolved < 0 || resolved >= static_cast<long>(points_.size()))
            throw InputError({request_.path, line}, "found a corner that is no point, expected numbers such as 3/1/2");
        const V3d& p = points_[static_cast<std::size_t>(resolved)];
        if (!polygon_points_.empty() && p == polygon_points_.back()) continue;
        polygon_.push_back(static_cast<std::uint32_t>(resolved));
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
    if (cut.crosses_itself) repairs_.crossing.add(line);
    if (cut.triangles.empty()) repairs_.thin.add(line);
    for (const auto& [a, b, c] : cut.triangles) take_triangle({polygon_[a], polygon_[b], polygon_[c]}, line);
}

void Reader::take_triangle(const std::array<std::uint32_t, 3>& corner, int line) {
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

RoughModel Reader::finished() {
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
    add(remarks_on_repairs(repairs_, triangles_));
    add(remarks_on_size(model.lower, model.upper, request_.metres_per_unit));
    add(remarks_on_names(request_, model.material_names));
    return model;
}

/// The person's word first, then the file's own colour, then the finish for the rest.
std::vector<std::uint32_t> Reader::choose_finishes(RoughModel& model) {
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
        remark(model, "the file names no materials, so all of it takes " + rest);
    else if (without_material)
        remark(model, "some faces come before any material and take " + rest);
    if (!unnamed.empty()) remark(model, "no finish is given for " + listed(unnamed) + ": taken as " + rest);
    if (!coloured.empty()) remark(model, "the colour in the material file is used for " + listed(coloured));
    return chosen;
}

}  // namespace

RoughModel read_rough_model(const RoughModelRequest& request) {
    return Reader(request).read();
}

}  // namespace rushlight
