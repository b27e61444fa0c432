#include "setup/model/remarks.h"

#include "setup/text/words.h"

#include <algorithm>

namespace rushlight {

namespace {

constexpr std::size_t many_triangles = 500'000;

std::string first_met(const Tally& t, bool has_lines) {
    return std::string(has_lines ? " (first on line " : " (the first is face ") + std::to_string(t.first_line) + ")";
}

/// Three figures are enough for a size that is doubted.
std::string about(double value) {
    const double step = std::pow(10.0, std::floor(std::log10(value)) - 2);
    return plain(std::round(value / step) * step);
}

/// The unit that would make a room or a piece of furniture of `units`.
std::string likely_unit(double units) {
    struct Unit {
        const char* name;
        double metres;
    };
    constexpr Unit known[] = {
        {"millimetres", 0.001}, {"centimetres", 0.01}, {"metres", 1}, {"inches", 0.0254}, {"feet", 0.3048}};
    for (const Unit& u : known)
        if (units * u.metres >= 2 && units * u.metres <= 60)
            return "; if it is drawn in " + std::string(u.name) + " (" + plain(u.metres) + " m a unit) it is " +
                   about(units * u.metres) + " m across";
    return "";
}

}  // namespace

std::string counted(std::size_t n, const std::string& one, const std::string& many) {
    std::string digits = std::to_string(n);
    for (auto at = static_cast<std::ptrdiff_t>(digits.size()) - 3; at > 0; at -= 3)
        digits.insert(static_cast<std::size_t>(at), ",");
    return digits + " " + (n == 1 ? one : many);
}

std::vector<std::string> remarks_on_repairs(const Repairs& repairs, std::size_t triangles, bool has_lines) {
    std::vector<std::string> remarks;
    const auto& [thin, two_corners, crossing] = repairs;
    if (thin.count > 0)
        remarks.push_back(counted(thin.count, "triangle", "triangles") + " without area left out" +
                          first_met(thin, has_lines));
    if (two_corners.count > 0)
        remarks.push_back(counted(two_corners.count, "face", "faces") +
                          " with fewer than three different corners left out" + first_met(two_corners, has_lines));
    if (crossing.count > 0)
        remarks.push_back(counted(crossing.count, "polygon crosses itself", "polygons cross themselves") +
                          " and may be filled wrongly" + first_met(crossing, has_lines));
    if (triangles > many_triangles)
        remarks.push_back(counted(triangles, "triangle", "triangles") +
                          ": a few thousand are enough for light, and much faster");
    return remarks;
}

std::vector<std::string> remarks_on_size(const Vec3& lower, const Vec3& upper, double metres_per_unit) {
    std::vector<std::string> remarks;
    const Vec3 size = upper - lower;
    const double across = std::max({size.x, size.y, size.z});
    if (across > 500 || across < 0.5)
        remarks.push_back("it is " + about(across) + " m across with " + plain(metres_per_unit) + " m a unit" +
                          likely_unit(across / metres_per_unit));
    const double away = static_cast<double>(((upper + lower) * 0.5F).length());
    if (away > 1000)  // a float has 24 bits: 0.06 mm at 1 km
        remarks.push_back("it stands " + about(away) + " m from the place's corner, where positions are good to " +
                          about(away * 6e-5) + " mm only: move it");
    return remarks;
}

std::vector<std::string> remarks_on_names(const RoughModelRequest& request, const std::vector<std::string>& in_file) {
    std::vector<std::string> remarks;
    const auto look_for = [&](const std::string& name) {
        if (std::find(in_file.begin(), in_file.end(), name) == in_file.end())
            remarks.push_back("no face has the material " + in_quotes(name) +
                              (in_file.empty() ? "" : hint(name, in_file)));
    };
    for (const auto& [name, finish] : request.finish_of) look_for(name);
    for (const auto& [name, patch] : request.opening_of) look_for(name);
    return remarks;
}

}  // namespace rushlight
