#include "pictures/words/numbers.h"

#include "pictures/words/printable.h"
#include "pictures/words/utf8.h"

#include <array>
#include <charconv>
#include <cmath>

namespace rushlight {
namespace {

std::string with_thousands_apart(std::string whole) {
    if (whole.size() < 5) return whole;
    for (int at = static_cast<int>(whole.size()) - 3; at > 0; at -= 3) whole.insert(static_cast<std::size_t>(at), " ");
    return whole;
}

int decimals_of_lux(double lux) {
    return lux >= 9.95 ? 0 : lux >= 0.995 ? 1 : 2;
}

}  // namespace

std::string fixed(double value, int decimals) {
    if (!std::isfinite(value)) return "-";
    std::array<char, 400> room;  // the largest double has 309 digits before the point
    const auto end = std::to_chars(room.data(), room.data() + room.size(), value, std::chars_format::fixed, decimals);
    std::string text(room.data(), end.ptr);
    if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);  // -0.0
    return text;
}

std::string lux_text(double lux) {
    if (!std::isfinite(lux) || lux <= 0) return no_light;
    if (lux < 0.005) return "<0.01";
    const std::string text = fixed(lux, decimals_of_lux(lux));
    return lux >= 9.95 ? with_thousands_apart(text) : text;
}

std::string short_lux_text(double lux) {
    if (!std::isfinite(lux) || lux < 1000) return lux_text(lux);
    const double step = std::pow(10.0, std::floor(std::log10(lux)) - 2);
    return lux_text(std::round(lux / step) * step);
}

std::string lux_error_text(double lux, double error) {
    if (!std::isfinite(error)) return "-";
    return lux >= 9.95 ? with_thousands_apart(fixed(error, error < 0.95 ? 1 : 0)) : fixed(error, 2);
}

std::string stops_text(double stops) {
    if (!std::isfinite(stops)) return "-";
    const std::string amount = fixed(std::abs(stops), 1);
    if (amount == "0.0") return amount;
    return (stops < 0 ? "−" : "+") + amount;
}

std::string t_stop_text(double t_stop) {
    if (!std::isfinite(t_stop) || t_stop <= 0) return "-";
    return t_stop < 0.05 ? "T<0.1" : "T" + fixed(t_stop, 1);
}

std::string ratio_text(double ratio) {
    if (!std::isfinite(ratio) || ratio <= 0) return "-";
    return with_thousands_apart(fixed(ratio, ratio < 9.95 ? 1 : 0)) + ":1";
}

std::string percent_text(double share) {
    if (!std::isfinite(share) || share <= 0) return "-";
    return share < 0.005 ? "<1 %" : fixed(100 * share, 0) + " %";
}

namespace {
/// A spreadsheet takes what begins so for a formula, and would reckon it.
bool reads_as_formula(const std::string& cell) {
    const std::size_t first = cell.find_first_not_of(' ');
    if (first == std::string::npos || std::string_view("=+-@").find(cell[first]) == std::string_view::npos)
        return false;
    double number = 0;
    const char *from = cell.data() + first + (cell[first] == '+' ? 1 : 0), *end = cell.data() + cell.size();
    const auto [stopped, problem] = std::from_chars(from, end, number);
    return problem != std::errc{} || stopped != end;
}
}  // namespace

std::string csv_cell(const std::string& words) {
    std::string cell = printable(utf8(code_points(words)));
    if (reads_as_formula(cell)) cell.insert(0, "'");
    if (cell.find_first_of(",\"") == std::string::npos) return cell;
    std::string out = "\"";
    for (char c : cell) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string csv_number(double value, int decimals) {
    return std::isfinite(value) ? fixed(value, decimals) : "";
}

std::string point_text(const Vec3& p) {
    const auto one = [](float v) { return fixed(static_cast<double>(v), 2); };
    return "[" + one(p.x) + ", " + one(p.y) + ", " + one(p.z) + "]";
}

std::string with_error(const std::string& number, double error) {
    return std::isfinite(error) ? number + " ± " + fixed(error, 2) : number;
}

std::string with_error(const Measured& stops) {
    return std::isfinite(stops.value) ? with_error(stops_text(stops.value), stops.error) : no_light;
}

}  // namespace rushlight
