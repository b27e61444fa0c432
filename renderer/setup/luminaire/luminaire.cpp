#include "setup/luminaire/luminaire.h"

#include "quantity/units.h"
#include "setup/luminaire/formats.h"
#include "setup/text/whole_file.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace rushlight {

namespace {

constexpr double largest_opening = 20;  // m

/// How far from the middle, in the plane of the aim and `side`, `share` of the peak is last met: degrees.
double reach(const IntensityTable& table, const Vec3& middle, const Vec3& side, double share) {
    const float least = static_cast<float>(share) * table.peak();
    const auto bright = [&](double degrees) {
        const double a = radians(Degree{degrees});
        return table.candela(middle * static_cast<float>(std::cos(a)) + side * static_cast<float>(std::sin(a))) >=
               least;
    };
    constexpr int steps = 3600;
    int last = steps;
    while (last >= 0 && !bright(180.0 * last / steps)) --last;
    if (last < 0) return 0;
    if (last == steps) return 180;
    double in = 180.0 * last / steps, out = 180.0 * (last + 1) / steps;
    for (int i = 0; i < 20; ++i) {
        const double half = (in + out) / 2;
        (bright(half) ? in : out) = half;
    }
    return in;
}

/// Full widths, about the aim or, where the peak is behind, about its opposite.
Luminaire::Width width_at(const IntensityTable& table, double share) {
    const Vec3 middle(0, 0, table.peak_direction().z < -1e-4F ? -1.0F : 1.0F);
    const auto full = [&](const Vec3& side) {
        return reach(table, middle, side, share) + reach(table, middle, -side, share);
    };
    return {full({1, 0, 0}), full({0, 1, 0})};
}

bool shines_behind(const IntensityTable& table) {
    const float least = table.peak() / 1000;
    for (const float around : table.around())
        for (const float polar : table.polar()) {
            const Vec3 d = table.direction(polar, around);
            if (d.z < -1e-3F && table.candela(d) > least) return true;
        }
    return false;
}

void check_opening(LuminousOpening& o, std::vector<std::string>& remarks) {
    const double largest = std::max({o.length, o.width, o.depth});
    const std::string measured = "the opening is " + plain(std::round(largest * 1000) / 1000) + " m long";
    if (largest > largest_opening) {
        remarks.push_back(measured + ", which cannot be; its size is left aside");
        o = LuminousOpening{};
    } else if (largest > 3) {
        remarks.push_back(measured + "; is its unit right?");
    }
}

}  // namespace

std::string at_line(std::size_t line, const std::string& sentence) {
    return "line " + std::to_string(line + 1) + ": " + sentence;
}

void settle_intensities(std::vector<double>& candela, const PhotometricText& text, std::size_t first_line,
                        std::vector<std::string>& remarks) {
    std::size_t negative = 0;
    for (double& c : candela)
        if (c < 0) {
            ++negative;
            c = 0;
        }
    if (negative > 0)
        remarks.push_back(at_line(first_line, std::to_string(negative) + " of the intensities that begin here " +
                                                  (negative == 1 ? "is" : "are") + " negative; taken as dark"));
    if (std::all_of(candela.begin(), candela.end(), [](double c) { return c == 0; }))
        text.refuse(first_line, "found no light: every intensity is zero");
}

void check_rising(const std::vector<double>& angles, const char* which, const PhotometricText& text, std::size_t line) {
    for (std::size_t i = 1; i < angles.size(); ++i)
        if (!(angles[i] > angles[i - 1] + 1e-3))
            text.refuse(line, std::string("found ") + which + " angle " + plain(angles[i]) + " after " +
                                  plain(angles[i - 1]) + ", expected angles that rise");
}

double Luminaire::tilt_share(double degrees) const {
    if (tilt.empty()) return 1;
    const auto after = std::upper_bound(tilt.begin(), tilt.end(), degrees,
                                        [](double d, const auto& entry) { return d < entry.first; });
    if (after == tilt.begin()) return tilt.front().second;
    if (after == tilt.end()) return tilt.back().second;
    const auto before = after - 1;
    const double t = (degrees - before->first) / (after->first - before->first);
    return before->second + t * (after->second - before->second);
}

Luminaire luminaire_from_text(const std::string& text, const std::string& path) {
    const PhotometricText lines(text, path);
    const bool called_ldt = in_capitals(std::filesystem::path(path).extension().string()) == ".LDT";
    const bool lm63 = tilt_line(lines).has_value();
    Luminaire l = lm63 || !called_ldt ? read_lm63(lines) : read_eulumdat(lines);
    if (lm63 && called_ldt) l.remarks.push_back("this is LM-63 under the name of a EULUMDAT file; read as LM-63");

    check_opening(l.opening, l.remarks);
    l.lumens = l.intensity.flux();
    if (!(l.lumens > 1e-6)) lines.refuse(lines.line_count() - 1, "found no light: the table adds to no lumen");
    l.beam = width_at(l.intensity, 0.5);
    l.field = width_at(l.intensity, 0.1);
    l.shines_back = shines_behind(l.intensity);
    return l;
}

Luminaire read_luminaire(const std::string& path) {
    return luminaire_from_text(whole_file(path, largest_luminaire_file, "a luminaire file"), path);
}

}  // namespace rushlight
