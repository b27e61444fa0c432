// ANSI/IES LM-63, editions 1986, 1991, 1995, 2002 and 2019: labels, a line TILT=..., then nothing but numbers.
// The field list is from memory of the standard; docs/luminaire-files.md says what is made of each field.
#include "setup/luminaire/formats.h"

#include "quantity/units.h"
#include "setup/luminaire/photometric_grid.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace rushlight {

namespace {

enum class Edition { y1986, y1991, y1995, y2002, y2019 };

constexpr std::size_t most_tilt_angles = 1000;
constexpr std::size_t largest_tilt_file = 100'000;  // bytes

const char* written(Edition e) {
    switch (e) {
        case Edition::y1991:
            return "LM-63-1991";
        case Edition::y1995:
            return "LM-63-1995";
        case Edition::y2002:
            return "LM-63-2002";
        case Edition::y2019:
            return "LM-63-2019";
        case Edition::y1986:
            break;
    }
    return "LM-63-1986";
}

std::string without_blanks(std::string_view text) {
    std::string s;
    for (char c : text)
        if (c != ' ' && c != '\t') s += c;
    return s;
}

Edition edition_in(const PhotometricText& text, std::size_t tilt, std::vector<std::string>& remarks) {
    std::size_t i = 0;
    while (i < tilt && without_outer_blanks(text.line(i)).empty()) ++i;
    const std::string line = in_capitals(without_blanks(text.line(i)));
    if (line == "IESNA91") return Edition::y1991;
    if (line == "IESNA:LM-63-1995") return Edition::y1995;
    if (line == "IESNA:LM-63-2002") return Edition::y2002;
    if (line == "IES:LM-63-2019") return Edition::y2019;
    const bool named = line.substr(0, 3) == "IES";
    if (!named) {
        if (line.substr(0, 1) != "[") return Edition::y1986;  // plain labels: nothing is amiss
        remarks.push_back(at_line(i, "the first line does not name the edition; read as LM-63-1991"));
        return Edition::y1991;
    }
    Edition guess = Edition::y2002;
    if (line.find("91") != std::string::npos) guess = Edition::y1991;
    if (line.find("95") != std::string::npos) guess = Edition::y1995;
    if (line.find("2019") != std::string::npos) guess = Edition::y2019;
    remarks.push_back(at_line(i, "the edition " + in_quotes(without_outer_blanks(text.line(i))) +
                                     " is not written as the standard has it; read as " + written(guess)));
    return guess;
}

/// The words behind TILT=, or nothing.
std::optional<std::string_view> tilt_word(std::string_view line) {
    line = without_outer_blanks(line);
    if (in_capitals(line.substr(0, 4)) != "TILT") return std::nullopt;
    line = without_outer_blanks(line.substr(4));
    if (line.empty() || line[0] != '=') return std::nullopt;
    return without_outer_blanks(line.substr(1));
}

bool begins_with_number(std::string_view line) {
    line = without_outer_blanks(line);
    const std::string_view word = line.substr(0, line.find_first_of(" \t;"));
    return number_from(word, Comma::is_decimal) || number_from(word.substr(0, word.find(',')), Comma::separates);
}

/// The first line of numbers after line `tilt`: some writers put labels there too.
std::size_t first_number_line(const PhotometricText& text, std::size_t tilt) {
    std::size_t i = tilt + 1;
    while (i < text.line_count() && !begins_with_number(text.line(i))) ++i;
    return i;
}

struct Header {
    double lamps = 0, lumens = 0, multiplier = 1;
    int type = 1, units = 2;
    double width = 0, length = 0, height = 0;  // as written
    double ballast = 1, ballast_lamp = 1, watts = 0;
    std::size_t line = 0;  // of the ten numbers
};

class Reader {
public:
    Reader(const PhotometricText& text, std::size_t tilt) : text_(text), tilt_(tilt) {}

    Luminaire read(Comma comma);

private:
    void read_tilt(NumberReader& numbers);
    void tilt_from_file(std::string_view name);
    void tilt_table(NumberReader& numbers);
    void read_header(NumberReader& numbers);
    void read_grid(NumberReader& numbers);
    double factor();
    void settle_type();
    void check_angles() const;
    IntensityTable unfolded_c();
    LuminousOpening opening();
    void compare_with_lamps(double lumens);
    void remark(std::size_t line, const std::string& sentence) {
        luminaire_.remarks.push_back(at_line(line, sentence));
    }

    const PhotometricText& text_;
    std::size_t tilt_;
    Edition edition_ = Edition::y2002;
    Luminaire luminaire_;
    Header header_;
    PhotometricGrid grid_;
    std::size_t vertical_line_ = 0, horizontal_line_ = 0, candela_line_ = 0;
};

Luminaire Reader::read(Comma comma) {
    edition_ = edition_in(text_, tilt_, luminaire_.remarks);
    if (comma == Comma::is_decimal) luminaire_.remarks.emplace_back("commas stand for decimal points in its numbers");
    int tilts = 0;
    for (std::size_t i = 0; i < text_.line_count(); ++i) tilts += tilt_word(text_.line(i)).has_value() ? 1 : 0;
    if (tilts > 1) remark(tilt_, "TILT= stands on " + std::to_string(tilts) + " lines; this one counts");
    const std::size_t first = first_number_line(text_, tilt_);
    for (std::size_t i = tilt_ + 1; i < first; ++i)
        if (!without_outer_blanks(text_.line(i)).empty()) {
            remark(i, "labels after TILT=; passed over");
            break;
        }
    NumberReader numbers(text_, first, comma);
    read_tilt(numbers);
    read_header(numbers);
    read_grid(numbers);
    if (!numbers.at_end()) remark(numbers.line(), "text after the last number; passed over");

    const double share = factor();
    for (double& c : grid_.candela) c *= share;
    settle_intensities(grid_.candela, text_, candela_line_, luminaire_.remarks);
    settle_type();
    check_angles();
    const char* letter = "CBA";
    luminaire_.format = std::string(written(edition_)) + ", type " + letter[header_.type - 1];
    luminaire_.intensity =
        header_.type == 1 ? unfolded_c()
                          : unfolded_floodlight(grid_, header_.type == 2 ? PhotometricType::b : PhotometricType::a);
    luminaire_.opening = opening();
    luminaire_.watts = std::max(0.0, header_.watts);
    compare_with_lamps(luminaire_.intensity.flux());
    return std::move(luminaire_);
}

void Reader::read_tilt(NumberReader& numbers) {
    const std::string_view word = *tilt_word(text_.line(tilt_));
    const std::string capitals = in_capitals(word);
    if (capitals == "NONE") return;
    if (capitals == "INCLUDE") return tilt_table(numbers);
    if (word.empty()) return remark(tilt_, "TILT= says nothing; read as NONE");
    tilt_from_file(word);
}

void Reader::tilt_table(NumberReader& numbers) {
    numbers.next("the lamp's position in the luminaire, 1 to 3", 1, 3);
    const std::size_t count = numbers.next_count("the number of tilt angles", 1, most_tilt_angles);
    const std::size_t line = numbers.line();
    const std::vector<double> angles = numbers.list("a tilt angle", count);
    std::vector<std::pair<double, double>> table;
    for (const double a : angles) table.emplace_back(a, numbers.next("a tilt multiplier", 0, 100));
    check_rising(angles, "tilt", text_, line);
    luminaire_.tilt = std::move(table);
}

/// Only from beside the file: a name in somebody's file opens nothing else on this machine.
void Reader::tilt_from_file(std::string_view name) {
    namespace fs = std::filesystem;
    const auto not_there = [&] {
        remark(tilt_, "there is no tilt file " + in_quotes(name) +
                          " beside it; its light is taken to be the same however it is tilted");
    };
    const std::size_t slash = name.find_last_of("/\\");
    const std::string bare(name.substr(slash == std::string_view::npos ? 0 : slash + 1));
    if (bare.empty() || bare.find('\0') != std::string::npos) return not_there();
    const fs::path path = fs::path(text_.path()).parent_path() / bare;
    std::string bytes;
    try {
        bytes = whole_file(path.string(), largest_tilt_file, "a tilt file");
    } catch (const InputError&) {
        return not_there();
    }
    const PhotometricText text(bytes, path.string());
    NumberReader numbers(text, 0, Comma::separates);
    tilt_table(numbers);
}

void Reader::read_header(NumberReader& numbers) {
    Header& h = header_;
    h.line = numbers.line();
    h.lamps = numbers.next("the number of lamps");
    h.lumens = numbers.next("the lumens of a lamp, or -1");
    h.multiplier = numbers.next("the candela multiplier");
    const std::size_t vertical = numbers.next_count("the number of vertical angles", 2, most_angles);
    const std::size_t horizontal = numbers.next_count("the number of horizontal angles", 1, most_angles);
    if (vertical * horizontal > most_intensities)
        text_.refuse(h.line, "found " + std::to_string(vertical) + " by " + std::to_string(horizontal) +
                                 " angles, expected no more than " + std::to_string(most_intensities) +
                                 " intensities in all");
    h.type = static_cast<int>(numbers.next_count("the photometric type, 1 (C), 2 (B) or 3 (A)", 0, 9));
    h.units = static_cast<int>(numbers.next_count("the unit of length, 1 (feet) or 2 (metres)", 0, 9));
    h.width = numbers.next("the width of the opening");
    h.length = numbers.next("the length of the opening");
    h.height = numbers.next("the height of the opening");
    h.ballast = numbers.next("the ballast factor");
    h.ballast_lamp = numbers.next("the ballast-lamp photometric factor");
    h.watts = numbers.next("the input watts");
    grid_.vertical.resize(vertical);
    grid_.horizontal.resize(horizontal);
}

void Reader::read_grid(NumberReader& numbers) {
    const std::size_t v = grid_.vertical.size(), h = grid_.horizontal.size();
    const std::size_t needed = v + h + v * h, found = numbers.numbers_left();
    if (found > needed) {
        NumberReader end = numbers;
        end.skip(needed);
        end.refuse("expected an end: " + std::to_string(v) + " vertical and " + std::to_string(h) +
                   " horizontal angles make " + std::to_string(needed) + " numbers with their candela, and " +
                   std::to_string(found) + " stand here");
    }
    if (found < needed) {
        NumberReader end = numbers;
        end.skip(found);
        const std::string want = "expected " + std::to_string(needed) + " numbers for " + std::to_string(v) +
                                 " vertical and " + std::to_string(h) + " horizontal angles with their candela, and " +
                                 std::to_string(found) + " stand here";
        if (!end.at_end()) end.refuse(want);
        text_.refuse(end.line_before(), "the file ends too early: " + want);
    }
    vertical_line_ = numbers.line();
    grid_.vertical = numbers.list("a vertical angle", v);
    horizontal_line_ = numbers.line();
    grid_.horizontal = numbers.list("a horizontal angle", h);
    candela_line_ = numbers.line();
    grid_.candela = numbers.list("candela", v * h);
    check_rising(grid_.vertical, "vertical", text_, vertical_line_);
    check_rising(grid_.horizontal, "horizontal", text_, horizontal_line_);
}

/// Candela as written times this is candela of the luminaire.
double Reader::factor() {
    const auto settled = [&](double value, const char* name) {
        if (value > 0) return value;
        if (value < 0)
            text_.refuse(header_.line,
                         std::string("found a ") + name + " of " + plain(value) + ", expected one above zero");
        remark(header_.line, std::string("the ") + name + " is 0; 1 is taken");
        return 1.0;
    };
    double share = settled(header_.multiplier, "candela multiplier") * settled(header_.ballast, "ballast factor");
    // In 2019 the second factor became a code of how the file was made.
    if (edition_ != Edition::y2019) share *= settled(header_.ballast_lamp, "ballast-lamp photometric factor");
    return share;
}

/// A type flagged by mistake shows in its angles: only type C goes past 90 degrees.
void Reader::settle_type() {
    const double low = grid_.vertical.front(), high = grid_.vertical.back();
    const double last = grid_.horizontal.back();
    const bool must_be_c =
        high > 90 + same_angle || last > 180 + same_angle || (low >= -same_angle && last > 90 + same_angle);
    const bool known = header_.type >= 1 && header_.type <= 3;
    if (known && (header_.type == 1 || !must_be_c)) return;
    if (!known && low < -same_angle)
        text_.refuse(header_.line,
                     "found photometric type " + std::to_string(header_.type) + ", expected 1 (C), 2 (B) or 3 (A)");
    remark(header_.line, "the photometric type is " + std::to_string(header_.type) +
                             ", but the angles are those of type C; read as type C");
    header_.type = 1;
}

void Reader::check_angles() const {
    const auto within = [&](const std::vector<double>& angles, double low, double high, const char* which,
                            std::size_t line) {
        for (const double a : {angles.front(), angles.back()})
            if (a < low - same_angle || a > high + same_angle)
                text_.refuse(line, std::string("found ") + which + " angle " + plain(a) + ", expected between " +
                                       plain(low) + " and " + plain(high) + " in photometric type " +
                                       "CBA"[header_.type - 1]);
    };
    const bool c = header_.type == 1, b = header_.type == 2;
    within(grid_.vertical, c ? 0 : b ? -180 : -90, c || b ? 180 : 90, "vertical", vertical_line_);
    within(grid_.horizontal, c ? -360 : b ? -90 : -180, c ? 720 : b ? 90 : 180, "horizontal", horizontal_line_);
    if (!c && grid_.horizontal.size() < 2)
        text_.refuse(horizontal_line_, "found one horizontal angle, expected two or more in photometric type B or A");
}

IntensityTable Reader::unfolded_c() {
    std::vector<std::string> found;
    settle_vertical_ends(grid_, found);
    for (const std::string& sentence : found) remark(vertical_line_, sentence);
    found.clear();

    const double first = grid_.horizontal.front(), last = grid_.horizontal.back();
    const auto spans = [&](double from, double to) {
        return std::abs(first - from) <= same_angle && std::abs(last - to) <= same_angle;
    };
    PlaneSymmetry symmetry = PlaneSymmetry::none;
    if (grid_.horizontal.size() == 1) {
        symmetry = PlaneSymmetry::rotation;
        if (std::abs(first) > same_angle)
            found.push_back("the only horizontal angle is " + plain(first) + "; taken to hold all round");
    } else if (spans(0, 90)) {
        symmetry = PlaneSymmetry::quadrants;
    } else if (spans(0, 180)) {
        symmetry = PlaneSymmetry::about_0_180;
    } else if (spans(90, 270) || spans(-90, 90)) {
        symmetry = PlaneSymmetry::about_90_270;
        if (first < 0) found.push_back("the planes run from -90 to 90; mirrored about these two");
    } else if (last - first > 360 + same_angle || last - first <= 180 + same_angle) {
        text_.refuse(horizontal_line_, "found horizontal angles from " + plain(first) + " to " + plain(last) +
                                           ", expected 0 to 90, 180 or 360, or 90 to 270");
    } else if (last - first < 360 - same_angle) {
        found.push_back("the horizontal angles end at " + plain(last) + "; the plane at " + plain(first) +
                        " closes the turn");
    }
    IntensityTable table = unfolded_planes(grid_, symmetry, found);
    for (const std::string& sentence : found) remark(horizontal_line_, sentence);
    return table;
}

/// Negative: round, and its size is the diameter. The length runs along plane 0.
LuminousOpening Reader::opening() {
    double unit = 1;
    if (header_.units == 1)
        unit = from_feet(1).value;
    else if (header_.units != 2)
        remark(header_.line, "the unit of length is " + std::to_string(header_.units) + "; taken as metres");
    LuminousOpening o;
    o.round = header_.width < 0 || header_.length < 0;
    o.width = std::abs(header_.width) * unit;
    o.length = std::abs(header_.length) * unit;
    o.depth = std::abs(header_.height) * unit;
    if (o.round) o.width = o.length = std::max(o.width, o.length);
    return o;
}

void Reader::compare_with_lamps(double lumens) {
    const double bare = header_.lamps * header_.lumens;
    if (header_.lumens > 0 && bare > 0) {
        luminaire_.lamp_lumens = bare;
        const double share = 100 * lumens / bare;
        if (share > 105 || share < 3)
            remark(header_.line, "the table adds to " + plain(std::round(lumens)) + " lm, " +
                                     plain(std::round(share * 10) / 10) + " % of what its lamps give; " +
                                     (share > 105 ? "a luminaire cannot give more than its lamps" : "is that right?"));
    } else if (header_.lumens < 0 && std::abs(lumens - 1000) < 20) {
        remark(header_.line,
               "the file is of absolute photometry, but its table adds to 1000 lm as relative files do; "
               "give output if that is not the lamp's light");
    }
}

}  // namespace

std::optional<std::size_t> tilt_line(const PhotometricText& text) {
    std::optional<std::size_t> last;
    for (std::size_t i = text.line_count(); i-- > 0;) {
        if (!tilt_word(text.line(i))) continue;
        if (first_number_line(text, i) < text.line_count()) return i;
        if (!last) last = i;
    }
    return last;
}

Luminaire read_lm63(const PhotometricText& text) {
    const auto tilt = tilt_line(text);
    if (!tilt)
        text.refuse(text.line_count() - 1, "the file ends without a line TILT=, expected a photometric file (LM-63)");
    try {
        return Reader(text, *tilt).read(Comma::separates);
    } catch (const InputError&) {
        if (!has_comma_between_digits(text, *tilt + 1)) throw;
        try {
            return Reader(text, *tilt).read(Comma::is_decimal);
        } catch (const InputError&) {
        }
        throw;  // what the usual reading found
    }
}

}  // namespace rushlight
