#include "setup/text/typed_number.h"

#include "quantity/units.h"
#include "setup/text/words.h"

#include <array>
#include <charconv>
#include <cmath>
#include <span>

namespace rushlight {

namespace {

/// What may stand before and after the figure, and what one of that unit is in the key's own.
struct Form {
    std::string_view unit, before, after;
    double worth = 1;
};
constexpr double lux_a_footcandle = 10.763910416709722;  // 1 / 0.3048^2, exactly a lumen on a square foot
constexpr double density_a_stop = 0.3;                   // as ND is sold; log10(2) is .30103
constexpr Form forms[] = {
    {"share", "", "%", 0.01},
    {"K", "", "k"},
    {"K", "", "kelvin"},
    {"mm", "", "mm"},
    {"T", "t", ""},
    {"T", "t/", ""},
    {"T", "f", ""},
    {"T", "f/", ""},
    {"degrees", "", "degrees"},
    {"degrees", "", "deg"},
    {"degrees", "", "°"},
    {"density", "nd", ""},
    {"density", "", "stop", density_a_stop},
    {"density", "", "stops", density_a_stop},
    {"stops", "", "stop"},
    {"stops", "", "stops"},
    {"1/s", "", "fps"},
    {"lx", "", "lx"},
    {"lx", "", "lux"},
    {"lx", "", "fc", lux_a_footcandle},
    {"cd/m2", "", "cd/m2"},
    {"cd/m2", "", "nits"},
    {"W", "", "w"},
    {"W", "", "kw", 1000},
    {"V", "", "v"},
    {"A", "", "a"},
    {"A", "", "amp"},
    {"A", "", "amps"},
    {"kg", "", "kg"},
    {"min", "", "min"},
    {"min", "", "minutes"},
    {"min", "", "h", 60},
    {"mired", "", "mired"},
};
constexpr Form of_iso[] = {{"", "iso", ""}, {"", "ei", ""}, {"", "asa", ""}, {"", "", "asa"}, {"", "", "iso"}};

/// Skin by word, as luminous reflectance: pale 35 %, middle about 20 %, very dark 5 % (common practice, no source).
struct Tone {
    std::string_view word;
    double reflectance;
};
constexpr Tone tones[] = {{"pale", 0.35}, {"fair", 0.35},   {"light", 0.28}, {"medium", 0.2}, {"mid", 0.2},
                          {"olive", 0.2}, {"tanned", 0.16}, {"brown", 0.12}, {"dark", 0.08},  {"very dark", 0.05}};

constexpr std::array<std::string_view, 16> compass{"n", "nne", "ne", "ene", "e", "ese", "se", "sse",
                                                   "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw"};

/// "south-south-east", "south east" and "SSE" alike.
std::optional<double> bearing(std::string text) {
    std::string letters;
    for (const auto& [word, letter] :
         {std::pair{"north", 'n'}, std::pair{"south", 's'}, std::pair{"east", 'e'}, std::pair{"west", 'w'}})
        for (std::size_t at; (at = text.find(word)) != std::string::npos;)
            text.replace(at, std::string_view(word).size(), 1, letter);
    for (const char c : text)
        if (c != '-' && c != ' ') letters += c;
    for (std::size_t i = 0; i < compass.size(); ++i)
        if (compass[i] == letters) return 360.0 / compass.size() * static_cast<double>(i);
    return std::nullopt;
}

/// A figure or a fraction such as 1/3, and nothing else.
std::optional<double> figure(std::string_view text) {
    const auto plain_figure = [](std::string_view t) -> std::optional<double> {
        double value = 0;
        const auto [end, error] = std::from_chars(t.data(), t.data() + t.size(), value, std::chars_format::fixed);
        if (error != std::errc{} || end != t.data() + t.size() || !std::isfinite(value)) return std::nullopt;
        return value;
    };
    if (!text.empty() && text.front() == '+') text.remove_prefix(1);
    const std::size_t bar = text.find('/');
    if (bar == std::string_view::npos) return plain_figure(text);
    const auto over = plain_figure(text.substr(0, bar)), under = plain_figure(text.substr(bar + 1));
    if (!over || !under || !(*under > 0)) return std::nullopt;
    return *over / *under;
}

std::optional<double> in_form(std::string_view text, const Form& form) {
    if (text.size() <= form.before.size() + form.after.size()) return std::nullopt;
    if (!text.starts_with(form.before) || !text.ends_with(form.after)) return std::nullopt;
    text.remove_prefix(form.before.size());
    text.remove_suffix(form.after.size());
    const auto n = figure(tidy(text));
    return n ? std::optional(*n * form.worth) : std::nullopt;
}

}  // namespace

std::optional<double> typed_number(std::string_view typed, std::string_view key, std::string_view unit) {
    const std::string text = tidy(typed);
    if (key == "near_wall_faces")
        if (const auto degrees = bearing(text)) return degrees;
    if (key == "skin")
        for (const Tone& t : tones)
            if (t.word == text) return t.reflectance;
    if (key == "iso")
        for (const Form& form : of_iso)
            if (const auto n = in_form(text, form)) return n;
    for (const Form& form : forms)
        if (form.unit == unit)
            if (const auto n = in_form(text, form)) return n;
    return figure(text);
}

double typed_aspect(std::string_view text) {
    const char* last = text.data() + text.size();
    double value = 0, under = 1;
    auto [end, problem] = std::from_chars(text.data(), last, value, std::chars_format::fixed);
    if (problem == std::errc{} && end != last && *end == ':') {
        const auto r = std::from_chars(end + 1, last, under, std::chars_format::fixed);
        end = r.ptr, problem = r.ec;
    }
    return problem == std::errc{} && end == last && under > 0 && std::isfinite(value / under) ? value / under : 0;
}

std::string number_forms(std::string_view key, std::string_view unit) {
    if (key == "near_wall_faces") return "a number such as 158 or a bearing such as \"SSE\"";
    if (key == "skin")
        return "a number such as 0.2, \"20%\", or one of: pale, fair, light, medium, olive, tanned, brown, dark, very "
               "dark";
    if (key == "iso") return "a number such as 800 or \"EI 800\"";
    if (unit == "T") return "a number such as 2.8 or \"T2.8\"";
    if (unit == "mm") return "a number such as 24 or \"24mm\"";
    if (unit == "K") return "a number such as 4300 or \"4300K\"";
    if (unit == "share") return "a number such as 0.3 or \"30%\"";
    if (unit == "density") return "a number such as 0.6 or \"2 stops\"";
    return "a number";
}

}  // namespace rushlight
