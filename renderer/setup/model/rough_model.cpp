// The only file that sees tinyobjloader. Its callback reader splits the lines and hands over whole material
// names; what the numbers mean is decided here, because a wrong index or an endless coordinate passes it.
#include "setup/model/rough_model.h"

#include "setup/model/builder.h"
#include "setup/model/gltf.h"
#include "setup/model/lines.h"
#include "setup/text/inputs.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <tiny_obj_loader.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <utility>

namespace rushlight {

namespace {

using V3d = Imath::V3d;

constexpr std::size_t most_corners = 1000;  // of one polygon

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
    explicit Reader(const RoughModelRequest& request) : request_(request), builder_(request) {}

    RoughModel read();

private:
    bool wanted(std::string_view line, int number);
    void take_point(std::string_view line, std::size_t at, int number);
    void check_face(std::string_view line, std::size_t at, int number);
    void read_material_file(const std::string& name);
    void take_face(const tinyobj::index_t* corners, std::size_t count, int line);

    const RoughModelRequest& request_;
    RoughModelBuilder builder_;
    std::size_t corners_checked_ = 0;  // of the face in hand
    std::set<std::string> material_files_;
    std::vector<std::uint32_t> polygon_;  // scratch
};

RoughModel Reader::read() {
    remember_input(request_.path);
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(request_.path, ignored))
        throw InputError({request_.path}, "there is no such file; expected a rough model (OBJ or glTF)");
    std::filebuf file;
    if (file.open(request_.path, std::ios::in | std::ios::binary) == nullptr)
        throw InputError({request_.path}, "the file cannot be opened");

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
    callback.usemtl_cb = [](void* user, const char* name, int) {
        static_cast<Both*>(user)->reader.builder_.use_material(trimmed(name));
    };
    std::string warnings, errors;
    if (!tinyobj::LoadObjWithCallback(stream, callback, &both, nullptr, &warnings, &errors))
        throw InputError({request_.path}, "not an OBJ file that can be read: " + trimmed(errors).substr(0, 200));
    return builder_.finished(true);
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
            std::abs(value) * request_.metres_per_unit > farthest_model_coordinate)
            throw InputError(where, "found coordinate " + in_quotes(word.text) + ", expected a number within 1,000 km");
        p[i] = value;
    }
    builder_.add_point(p, number);
}

/// The OBJ reader takes any word for a number, and any number for a corner.
void Reader::check_face(std::string_view line, std::size_t at, int number) {
    const auto known = static_cast<long>(builder_.points());
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
                                        counted(builder_.points(), "point", "points") + " above it");
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
    remember_input(path);
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
        if (!trimmed(m.name).empty()) builder_.give_colour(trimmed(m.name), kd);
    }
}

void Reader::take_face(const tinyobj::index_t* corners, std::size_t count, int line) {
    polygon_.clear();
    for (std::size_t i = 0; i < std::min(count, corners_checked_); ++i) {  // a comment may follow
        const long index = corners[i].vertex_index;
        const long resolved = index > 0 ? index - 1 : static_cast<long>(builder_.points()) + index;
        if (resolved < 0 || resolved >= static_cast<long>(builder_.points()))
            throw InputError({request_.path, line}, "found a corner that is no point, expected numbers such as 3/1/2");
        polygon_.push_back(static_cast<std::uint32_t>(resolved));
    }
    builder_.add_polygon(polygon_, line);
}

}  // namespace

RoughModel read_rough_model(const RoughModelRequest& request) {
    return is_gltf(request.path) ? read_gltf(request) : Reader(request).read();
}

}  // namespace rushlight
