#include "setup/text/typed_values.h"

#include "quantity/units.h"
#include "setup/text/words.h"

#include <charconv>
#include <cmath>
#include <string>

namespace rushlight {

namespace {

/// A walk along typed text that takes one piece after the other.
class Typed {
public:
    explicit Typed(std::string_view text) : text_(tidy(text)) {}

    bool finished() {
        skip_blanks();
        return at_ == text_.size();
    }
    std::optional<double> number() {
        skip_blanks();
        std::size_t from = at_;
        if (from < text_.size() && text_[from] == '+') ++from;
        double value = 0;
        const char* begin = text_.data() + from;
        const auto [end, error] = std::from_chars(begin, text_.data() + text_.size(), value, std::chars_format::fixed);
        if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
        at_ = static_cast<std::size_t>(end - text_.data());
        return value;
    }
    bool take(std::string_view word) {
        skip_blanks();
        if (std::string_view(text_).substr(at_, word.size()) != word) return false;
        at_ += word.size();
        return true;
    }
    /// Digits only, exactly `count` or up to `count`.
    std::optional<int> digits(std::size_t least, std::size_t most) {
        std::size_t n = 0;
        int value = 0;
        while (at_ + n < text_.size() && n < most && text_[at_ + n] >= '0' && text_[at_ + n] <= '9')
            value = value * 10 + (text_[at_ + n++] - '0');
        if (n < least) return std::nullopt;
        at_ += n;
        return value;
    }

    std::optional<int> spaced_digits(std::size_t count) {
        skip_blanks();
        return digits(count, count);
    }

private:
    void skip_blanks() {
        while (at_ < text_.size() && text_[at_] == ' ') ++at_;
    }
    std::string text_;
    std::size_t at_ = 0;
};

std::optional<double> length_unit(Typed& t) {
    // Longer words first, so that "m" does not eat the head of "mm".
    if (t.take("mm")) return 0.001;
    if (t.take("cm")) return 0.01;
    if (t.take("m")) return 1.0;
    if (t.take("ft") || t.take("'")) return from_feet(1).value;
    if (t.take("in") || t.take("\"")) return from_feet(1).value / 12;
    return std::nullopt;
}

/// "March", "mar" or "mar.": the month's number.
std::optional<int> month_of(Typed& t) {
    constexpr std::array<std::string_view, 12> months{"january",   "february", "march",    "april",
                                                      "may",       "june",     "july",     "august",
                                                      "september", "october",  "november", "december"};
    for (std::size_t i = 0; i < months.size(); ++i)
        if (t.take(months[i]) || t.take(months[i].substr(0, 3))) {
            t.take(".");
            return static_cast<int>(i) + 1;
        }
    return std::nullopt;
}

std::optional<double> length_of(Typed& t) {
    const bool negative = t.take("-");
    double sum = 0;
    int parts = 0;
    while (!t.finished() && parts < 2) {
        const auto value = t.number();
        if (!value || *value < 0) return std::nullopt;
        const auto unit = length_unit(t);
        if (!unit) return std::nullopt;
        sum += *value * *unit;
        ++parts;
    }
    if (parts == 0) return std::nullopt;
    return negative ? -sum : sum;
}

}  // namespace

std::optional<double> length_from(std::string_view text) {
    Typed t(text);
    const auto length = length_of(t);
    return length && t.finished() ? length : std::nullopt;
}

std::optional<double> level_from(std::string_view text) {
    Typed t(text);
    const auto value = t.number();
    if (!value) return std::nullopt;
    if (t.take("%")) return t.finished() ? std::optional(*value / 100) : std::nullopt;
    if (!t.take("stops") && !t.take("stop")) return std::nullopt;
    return t.finished() ? std::optional(factor(Stop{*value})) : std::nullopt;
}

std::optional<TypedOutput> output_from(std::string_view text) {
    Typed t(text);
    TypedOutput out;
    const auto amount = t.number();
    if (!amount) return std::nullopt;
    out.amount = *amount;
    if (t.take("lm")) {
        out.unit = TypedOutput::Unit::lumen;
    } else if (t.take("cd")) {
        const bool each_area = t.take("/m2") || t.take("/m²");
        out.unit = each_area ? TypedOutput::Unit::luminance : TypedOutput::Unit::candela;
    } else {
        const bool feet = t.take("fc");
        if (!feet && !t.take("lx")) return std::nullopt;
        if (feet) out.amount = from_footcandles(out.amount).value;
        out.unit = TypedOutput::Unit::lux;
        if (!t.take("at")) return std::nullopt;
        const auto distance = length_of(t);
        if (!distance) return std::nullopt;
        out.distance = *distance;
    }
    return t.finished() ? std::optional(out) : std::nullopt;
}

std::optional<std::array<int, 3>> date_from(std::string_view text) {
    std::optional<int> year, month, day;
    Typed t(text), other(text);
    if ((year = t.digits(4, 4)) && t.take("-") && (month = t.digits(1, 2)) && t.take("-")) {
        day = t.digits(1, 2);
    } else {
        t = other;
        if (!(day = t.digits(1, 2)) || !(month = month_of(t)) || !(year = t.spaced_digits(4))) return std::nullopt;
    }
    if (!day || !t.finished() || *month < 1 || *month > 12 || *day < 1) return std::nullopt;
    const bool leap = (*year % 4 == 0 && *year % 100 != 0) || *year % 400 == 0;
    constexpr std::array<int, 12> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const int last = days[static_cast<std::size_t>(*month - 1)] + (*month == 2 && leap ? 1 : 0);
    if (*day > last) return std::nullopt;
    return std::array{*year, *month, *day};
}

std::optional<double> clock_from(std::string_view text) {
    Typed t(text);
    const auto hours = t.digits(1, 2);
    if (!hours || !(t.take(":") || t.take(".") || t.take("h"))) return std::nullopt;
    const auto minutes = t.digits(2, 2);
    if (!minutes) return std::nullopt;
    int seconds = 0;
    if (t.take(":")) {
        const auto s = t.digits(2, 2);
        if (!s) return std::nullopt;
        seconds = *s;
    }
    if (!t.finished() || *hours > 23 || *minutes > 59 || seconds > 59) return std::nullopt;
    return *hours + *minutes / 60.0 + seconds / 3600.0;
}

std::optional<double> utc_offset_from(std::string_view text) {
    Typed t(text);
    if (!t.take("utc")) return std::nullopt;
    if (t.finished()) return 0.0;
    const bool west = t.take("-");
    if (!west && !t.take("+")) return std::nullopt;
    const auto hours = t.digits(1, 2);
    if (!hours) return std::nullopt;
    int minutes = 0;
    if (t.take(":")) {
        const auto m = t.digits(2, 2);
        if (!m) return std::nullopt;
        minutes = *m;
    }
    const double offset = *hours + minutes / 60.0;
    if (!t.finished() || offset > 14 || minutes > 59) return std::nullopt;
    return west ? -offset : offset;
}

}  // namespace rushlight
