// EULUMDAT (Licht 1990): one value a line, the fields told by the number of their line. The field list is from memory
// of the format's description; docs/luminaire-files.md says what is made of each field.
#include "setup/luminaire/formats.h"
#include "setup/luminaire/photometric_grid.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr double metres_per_millimetre = 0.001;
constexpr std::size_t direct_ratios = 10;

/// Lines of the format, counted from 0.
enum Line : std::size_t {
    symmetry_line = 2,
    planes_line = 3,
    angles_line = 5,
    housing_length = 12,
    housing_width = 13,
    opening_length = 15,
    opening_width = 16,
    first_height = 17,  // of four
    output_ratio_line = 22,
    conversion_line = 23,
    tilt_line_number = 24,
    sets_line = 25,
    first_set = 26  // six lines each
};

class Reader {
public:
    explicit Reader(const PhotometricText& text) : text_(text) {}
    Luminaire read();

private:
    std::optional<double> number_at(std::size_t line) const;
    double needed_at(std::size_t line, const std::string& what, double low, double high) const;
    std::size_t count_at(std::size_t line, const std::string& what, std::size_t low, std::size_t high) const;
    void read_lamps();
    void read_grid();
    std::size_t rows() const;
    PhotometricGrid chosen_planes() const;
    LuminousOpening opening() const;
    void compare(double lumens);
    void remark(std::size_t line, const std::string& sentence) {
        luminaire_.remarks.push_back(at_line(line, sentence));
    }

    const PhotometricText& text_;
    Luminaire luminaire_;
    std::size_t symmetry_ = 0, planes_ = 0, angles_ = 0, sets_ = 1;
    double lumens_ = 0, conversion_ = 1;
    std::vector<double> all_planes_;  // the list of C angles
    PhotometricGrid grid_;
    std::size_t candela_line_ = 0, planes_list_line_ = 0;
};

/// The number on a line; words after it are let be.
std::optional<double> Reader::number_at(std::size_t line) const {
    const std::string_view text = without_outer_blanks(text_.line(line));
    return number_from(text.substr(0, text.find_first_of(" \t;")), Comma::is_decimal);
}

double Reader::needed_at(std::size_t line, const std::string& what, double low, double high) const {
    if (line >= text_.line_count())
        text_.refuse(text_.line_count() - 1,
                     "the file ends here, expected " + what + " on line " + std::to_string(line + 1));
    const auto value = number_at(line);
    if (!value || *value < low || *value > high)
        text_.refuse(line, "found " + in_quotes(without_outer_blanks(text_.line(line))) + ", expected " + what +
                               ", between " + plain(low) + " and " + plain(high));
    return *value;
}

std::size_t Reader::count_at(std::size_t line, const std::string& what, std::size_t low, std::size_t high) const {
    const double value = needed_at(line, what, static_cast<double>(low), static_cast<double>(high));
    if (value != std::floor(value))
        text_.refuse(line, "found " + in_quotes(without_outer_blanks(text_.line(line))) + ", expected " + what +
                               ", a whole number");
    return static_cast<std::size_t>(value);
}

Luminaire Reader::read() {
    symmetry_ = count_at(symmetry_line, "the symmetry (Isym)", 0, 4);
    planes_ = count_at(planes_line, "the number of C planes (Mc)", 1, most_angles);
    angles_ = count_at(angles_line, "the number of angles in a plane (Ng)", 2, most_angles);
    if (planes_ * angles_ > most_intensities)
        text_.refuse(planes_line, "found " + std::to_string(planes_) + " planes of " + std::to_string(angles_) +
                                      " angles, expected no more than " + std::to_string(most_intensities) +
                                      " intensities in all");
    const std::size_t parts = symmetry_ == 4 ? 4 : symmetry_ >= 2 ? 2 : 1;
    if (planes_ % parts != 0)
        text_.refuse(planes_line, "found " + std::to_string(planes_) + " C planes, expected a multiple of " +
                                      std::to_string(parts) + " for symmetry " + std::to_string(symmetry_));
    read_lamps();
    read_grid();
    settle_intensities(grid_.candela, text_, candela_line_, luminaire_.remarks);
    for (double& c : grid_.candela) c *= lumens_ / 1000 * conversion_;

    std::vector<std::string> found;
    settle_vertical_ends(grid_, found);
    constexpr PlaneSymmetry known[] = {PlaneSymmetry::none, PlaneSymmetry::rotation, PlaneSymmetry::about_0_180,
                                       PlaneSymmetry::about_90_270, PlaneSymmetry::quadrants};
    // The length of the opening runs along C90, and across in our frame.
    luminaire_.intensity = unfolded_planes(grid_, known[symmetry_], found).turned(-90);
    for (const std::string& sentence : found) remark(planes_list_line_, sentence);
    luminaire_.format = "EULUMDAT, symmetry " + std::to_string(symmetry_);
    luminaire_.opening = opening();
    compare(luminaire_.intensity.flux());
    return std::move(luminaire_);
}

void Reader::read_lamps() {
    sets_ = count_at(sets_line, "the number of lamp sets", 1, 100);
    if (sets_ > 1) remark(sets_line, std::to_string(sets_) + " sets of lamps; the first is taken");
    if (const auto tilt = number_at(tilt_line_number); tilt && std::abs(*tilt) > 0.01)
        remark(tilt_line_number,
               "it was measured tilted by " + plain(*tilt) + " degrees; the table is used as it stands");
    const auto conversion = number_at(conversion_line);
    if (conversion && *conversion > 0)
        conversion_ = *conversion;
    else
        remark(conversion_line, "no conversion factor; 1 is taken");
    lumens_ = number_at(first_set + 2).value_or(0);
    if (!(lumens_ > 0)) {
        remark(first_set + 2, "no lumens of the lamps; 1000 lm are taken, give output to say better");
        lumens_ = 1000;
    }
    luminaire_.lamp_lumens = lumens_ * conversion_;
    luminaire_.colour = std::string(without_outer_blanks(text_.line(first_set + 3)).substr(0, 40));
    luminaire_.watts = std::max(0.0, number_at(first_set + 5).value_or(0));
}

/// Planes that the symmetry asks to be written.
std::size_t Reader::rows() const {
    switch (symmetry_) {
        case 1:
            return 1;
        case 2:
        case 3:
            return planes_ / 2 + 1;
        case 4:
            return planes_ / 4 + 1;
        default:
            return planes_;
    }
}

void Reader::read_grid() {
    const std::size_t first = first_set + 6 * sets_ + direct_ratios;
    if (first >= text_.line_count())
        text_.refuse(text_.line_count() - 1,
                     "the file ends here, expected the C angles on line " + std::to_string(first + 1));
    NumberReader numbers(text_, first, Comma::is_decimal);
    const std::size_t found = numbers.numbers_left(), asked = rows();
    const auto count = [&](std::size_t listed, std::size_t written) { return listed + angles_ + written * angles_; };
    // Some writers list, or write, all planes or only those needed.
    std::size_t listed = planes_, written = asked;
    if (found != count(listed, written)) {
        if (found == count(planes_, planes_)) {
            written = planes_;
            remark(first, "all planes are written although the symmetry needs fewer; the needed ones are taken");
        } else if (found == count(asked, asked)) {
            listed = asked;
            remark(first, "only the planes that are written are listed");
        } else {
            NumberReader end = numbers;
            end.skip(std::min(found, count(listed, written)));
            const std::string want = "expected " + std::to_string(count(listed, written)) + " numbers from line " +
                                     std::to_string(first + 1) + " on for " + std::to_string(planes_) +
                                     " C planes of " + std::to_string(angles_) + " angles and symmetry " +
                                     std::to_string(symmetry_) + ", and " + std::to_string(found) + " stand here";
            if (!end.at_end()) end.refuse(want);
            text_.refuse(end.line_before(), "the file ends too early: " + want);
        }
    }
    planes_list_line_ = numbers.line();
    all_planes_ = numbers.list("a C angle", listed);
    const std::size_t vertical_line = numbers.line();
    grid_.vertical = numbers.list("a gamma angle", angles_);
    candela_line_ = numbers.line();
    grid_.horizontal.resize(written);
    grid_.candela = numbers.list("candela for 1000 lm", written * angles_);
    if (!numbers.at_end()) remark(numbers.line(), "text after the last number; passed over");
    check_rising(grid_.vertical, "gamma", text_, vertical_line);
    if (grid_.vertical.front() < -same_angle || grid_.vertical.back() > 180 + same_angle)
        text_.refuse(vertical_line, "found gamma angles from " + plain(grid_.vertical.front()) + " to " +
                                        plain(grid_.vertical.back()) + ", expected between 0 and 180");
    if (symmetry_ != 1) check_rising(all_planes_, "C", text_, planes_list_line_);
    grid_ = chosen_planes();
}

/// Planes by their angle, as many as the symmetry needs.
PhotometricGrid Reader::chosen_planes() const {
    PhotometricGrid grid;
    grid.vertical = grid_.vertical;
    const std::size_t n = angles_, written = grid_.horizontal.size(), asked = rows();
    const auto take = [&](std::size_t row, double angle) {
        grid.horizontal.push_back(angle);
        grid.candela.insert(grid.candela.end(), grid_.candela.begin() + static_cast<std::ptrdiff_t>(row * n),
                            grid_.candela.begin() + static_cast<std::ptrdiff_t>((row + 1) * n));
    };
    if (symmetry_ == 1) {
        take(0, 0);
        return grid;
    }
    const std::vector<double>& c = all_planes_;
    const double span = c.back() - c.front();
    if (symmetry_ == 0) {
        if (planes_ < 2 || span > 360 + same_angle || span <= 180)
            text_.refuse(planes_list_line_, "found C planes from " + plain(c.front()) + " to " + plain(c.back()) +
                                                ", expected a whole turn for symmetry 0");
        for (std::size_t i = 0; i < c.size(); ++i) take(i, c[i]);
        return grid;
    }
    // Where the written planes lie. Symmetry 3 is written from C270 over C0 to C90 unless the list says otherwise.
    double from = symmetry_ == 3 ? 270 : 0;
    const double wide = symmetry_ == 4 ? 90 : 180;
    const bool all_written = written == planes_ && written != asked;
    if (symmetry_ == 3 && c.size() == asked && std::abs(span - 180) <= same_angle) from = c.front();
    if (c.size() == asked) {
        if (std::abs(span - wide) > same_angle)
            text_.refuse(planes_list_line_, "found C planes from " + plain(c.front()) + " to " + plain(c.back()) +
                                                ", expected them to span " + plain(wide) + " degrees");
        for (std::size_t i = 0; i < asked; ++i) take(i, from + c[i] - c.front());
        return grid;
    }
    const auto listed_at = [&](double angle) {
        for (std::size_t i = 0; i < c.size(); ++i) {
            const double apart = std::abs(c[i] - angle);
            if (apart <= same_angle || std::abs(apart - 360) <= same_angle) return i;
        }
        text_.refuse(planes_list_line_, "found no C plane at " + plain(angle) + ", expected one for symmetry " +
                                            std::to_string(symmetry_));
    };
    const std::size_t begin = listed_at(from);
    listed_at(from == 270 ? 90 : wide);
    for (std::size_t i = 0; i < asked; ++i) {
        const std::size_t at = (begin + i) % c.size();
        const double angle = c[at] + (begin + i >= c.size() ? 360 : 0);
        if (angle > from + wide + same_angle) break;
        take(all_written ? at : i, angle);
    }
    if (std::abs(grid.horizontal.back() - from - wide) > same_angle)
        text_.refuse(planes_list_line_, "found C planes that do not lie even about the symmetry, expected " +
                                            std::to_string(asked) + " within " + plain(wide) + " degrees");
    return grid;
}

LuminousOpening Reader::opening() const {
    const auto size = [&](std::size_t line) {
        return std::max(0.0, number_at(line).value_or(0)) * metres_per_millimetre;
    };
    LuminousOpening o;
    o.length = size(opening_length);
    o.width = size(opening_width);
    if (!o.given()) {
        o.length = size(housing_length);
        o.width = size(housing_width);
    }
    for (std::size_t i = 0; i < 4; ++i) o.depth = std::max(o.depth, size(first_height + i));
    if (o.length > 0 && o.width <= 0) {
        o.round = true;
        o.width = o.length;
    }
    return o;
}

void Reader::compare(double lumens) {
    const double share = 100 * lumens / luminaire_.lamp_lumens;
    const auto told = number_at(output_ratio_line);
    if (share > 105)
        remark(candela_line_, "the table adds to " + plain(std::round(share)) +
                                  " % of what its lamps give; a luminaire cannot give more than its lamps");
    else if (told && *told > 0 && std::abs(share - *told) > 5)
        remark(output_ratio_line, "the table adds to " + plain(std::round(share)) +
                                      " % of what its lamps give, but the file says " + plain(*told) + " %");
}

}  // namespace

Luminaire read_eulumdat(const PhotometricText& text) {
    return Reader(text).read();
}

}  // namespace rushlight
