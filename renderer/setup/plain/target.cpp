#include "setup/plain/target.h"

#include "quantity/units.h"
#include "setup/text/words.h"

#include <charconv>
#include <cmath>

namespace rushlight {

namespace {

/// The rest of a sentence, while words are taken from either end.
class Sentence {
public:
    explicit Sentence(std::string_view text) : left_(tidy(text)) {}

    const std::string& left() const { return left_; }
    bool take(const std::string& words) {
        if (left_.rfind(words, 0) != 0) return false;
        const bool whole_word =
            left_.size() == words.size() || left_[words.size()] == ' ' || !std::isalpha(words.back());
        if (!whole_word) return false;
        left_ = tidy(left_.substr(words.size()));
        return true;
    }
    /// A number or a fraction such as 1/3.
    std::optional<double> number() {
        const auto n = plain_number();
        if (!n || left_.empty() || left_.front() != '/') return n;
        left_.erase(0, 1);
        const auto under = plain_number();
        return under && *under > 0 ? std::optional(*n / *under) : std::nullopt;
    }
    /// The part after the last " within ", taken off; nothing where there is none.
    std::optional<std::string> take_within() {
        const std::string word = " within ";
        const std::size_t at = left_.rfind(word);
        if (at == std::string::npos) return std::nullopt;
        std::string rest = left_.substr(at + word.size());
        left_.erase(at);
        return rest;
    }

private:
    std::optional<double> plain_number() {
        double value = 0;
        const auto [end, error] =
            std::from_chars(left_.data(), left_.data() + left_.size(), value, std::chars_format::fixed);
        if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
        left_ = tidy(left_.substr(static_cast<std::size_t>(end - left_.data())));
        return value;
    }
    std::string left_;
};

/// Numbers as people say them in figures: "half a stop over" is "0.5 stop over", "4 to 1" is "4:1", "f/2.8" is "T2.8".
std::string in_figures(std::string_view typed) {
    constexpr std::pair<std::string_view, std::string_view> said[] = {
        {"half a stop", "1/2 stop"},
        {"a half stop", "1/2 stop"},
        {"half stop", "1/2 stop"},
        {"a third of a stop", "1/3 stop"},
        {"two thirds of a stop", "2/3 stop"},
        {"a quarter of a stop", "1/4 stop"},
        {"a stop and a half", "1.5 stops"},
        {"a stop", "1 stop"},
        {"one stop", "1 stop"},
        {"two stops", "2 stops"},
        {"three stops", "3 stops"},
        {"four stops", "4 stops"},
        {" to 1", ":1"},
        {" to one", ":1"},
        {"f/", "t"},
    };
    std::string text = tidy(typed);
    for (const auto& [words, figures] : said)
        if (const std::size_t at = text.find(words); at != std::string::npos) {
            const bool begins = words.front() == ' ' || at == 0 || text[at - 1] == ' ';
            const std::size_t end = at + words.size();
            const bool ends = words.back() == '/' || end == text.size() || text[end] == ' ';
            if (begins && ends) text.replace(at, words.size(), figures);
        }
    if (text.size() > 1 && text[0] == 'f' && std::isdigit(static_cast<unsigned char>(text[1])) != 0) text[0] = 't';
    return text;
}

/// Kind and value from the sentence without "within", "at least" and "at most".
std::optional<Want> main_clause(Sentence& s) {
    Want w;
    if (s.take("match")) {
        s.take("set-up");
        w.kind = Want::Kind::match;
        const std::size_t colon = s.left().find(": ");
        w.other = s.left().substr(0, colon);
        if (colon != std::string::npos) w.other_reading = tidy(s.left().substr(colon + 1));
        return w.other.empty() ? std::nullopt : std::optional(w);
    }
    if (s.left().size() > 1 && s.left()[0] == 't' && (std::isdigit(static_cast<unsigned char>(s.left()[1])) != 0)) {
        Sentence number(s.left().substr(1));
        const auto t = number.number();
        if (!t || !number.left().empty() || !(*t >= 0.3 && *t <= 128)) return std::nullopt;
        w.value = *t;
        return w;
    }
    const auto n = s.number();
    if (!n) return std::nullopt;
    w.value = *n;
    if (s.left().rfind(':', 0) == 0) {
        Sentence under(s.left().substr(1));
        const auto d = under.number();
        if (!d || !under.left().empty() || !(*n >= 1) || !(*d > 0) || !(*n / *d < 1e4)) return std::nullopt;
        w.kind = Want::Kind::ratio;
        w.value = std::log2(*n / *d);
        return w;
    }
    if (s.take("lx") || s.take("lux")) {
        w.kind = Want::Kind::lux;
        return s.left().empty() && *n > 0 && *n < 1e6 ? std::optional(w) : std::nullopt;
    }
    if (s.take("fc")) {
        w.kind = Want::Kind::lux;
        w.value = from_footcandles(*n).value;
        return s.left().empty() && *n > 0 && *n < 1e5 ? std::optional(w) : std::nullopt;
    }
    if (s.take("k")) {
        w.kind = Want::Kind::kelvin;
        return s.left().empty() && *n >= 1000 && *n <= 25000 ? std::optional(w) : std::nullopt;
    }
    const bool stops = s.take("stops") || s.take("stop");
    if (!(std::abs(*n) <= 20)) return std::nullopt;
    if (s.left().empty() && stops) {
        w.kind = Want::Kind::ratio;
        return w;
    }
    w.kind = Want::Kind::over;
    if (s.take("under"))
        w.value = -w.value;
    else if (!s.take("over"))
        return std::nullopt;
    w.other = s.left();
    return w;
}

}  // namespace

std::optional<Want> want_from(std::string_view text) {
    Sentence s(in_figures(text));
    // "hair 1 over", "window 3 over": the reading says whose.
    for (const char* part : {"hair", "window", "cheeks"})
        if (s.take(part)) break;
    Want::Side side = Want::Side::exact;
    if (s.take("at least"))
        side = Want::Side::at_least;
    else if (s.take("at most"))
        side = Want::Side::at_most;
    const auto within = s.take_within();
    auto w = main_clause(s);
    if (!w) return std::nullopt;
    // "At least 2 under" is 2 or more under.
    const bool under = w->kind == Want::Kind::over && w->value < 0;
    if (under && side != Want::Side::exact)
        side = side == Want::Side::at_least ? Want::Side::at_most : Want::Side::at_least;
    w->side = side;
    const bool colour = w->kind == Want::Kind::kelvin;
    w->within = colour ? usual_within_mired : usual_within_stops;
    if (!within) return w;
    Sentence rest(*within);
    const auto n = rest.number();
    const bool unit =
        rest.left().empty() || rest.take(colour ? "mired" : "stops") || rest.take(colour ? "mired" : "stop");
    if (!n || !unit || !rest.left().empty() || !(*n > 0 && *n <= (colour ? 500 : 10))) return std::nullopt;
    w->within = *n;
    return w;
}

}  // namespace rushlight
