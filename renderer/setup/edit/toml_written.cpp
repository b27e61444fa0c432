// Values and keys as they are written in TOML.
#include "setup/edit/toml_text.h"

#include "setup/text/words.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdio>

namespace rushlight {

namespace {

/// No more figures than it has, and none that nobody could measure.
std::string number(double v, int decimals, const toml::node* like) {
    if (!std::isfinite(v)) return v > 0 ? "inf" : v < 0 ? "-inf" : "nan";
    constexpr double most_digits = 1e15;  // longer ones have an exponent: whole numbers of TOML end at 64 bits
    char text[64];
    if (std::abs(v) >= most_digits) {
        std::snprintf(text, sizeof text, "%.6e", v);
        return text;
    }
    if (decimals >= 0) {
        std::snprintf(text, sizeof text, "%.*f", std::min(decimals, 20), v);
    } else {
        std::snprintf(text, sizeof text, "%.6g", v);
        if (std::string(text).find('e') != std::string::npos) std::snprintf(text, sizeof text, "%.6f", v);
    }
    std::string s = text;
    if (s.find('.') != std::string::npos) {
        s.erase(s.find_last_not_of('0') + 1);
        if (s.back() == '.') s.pop_back();
    }
    if (s == "-0") s = "0";
    if (like && like->is_floating_point() && s.find('.') == std::string::npos) s += ".0";
    return s;
}

bool looks_like_a_date(const std::string& s) {
    if (s.size() != 10 || s[4] != '-' || s[7] != '-') return false;
    return std::all_of(s.begin(), s.end(),
                       [](char c) { return c == '-' || std::isdigit(static_cast<unsigned char>(c)); });
}

}  // namespace

void NewValue::round_to(int to) {
    decimals = to;
    if (auto* list = std::get_if<List>(&value))
        for (NewValue& v : *list) v.round_to(to);
}

std::string written_key(const std::string& key) {
    const bool bare = !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
        return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-';
    });
    return bare ? key : in_toml_quotes(key);
}

std::string written(const NewValue& v, const toml::node* like) {
    if (const auto* yes = std::get_if<bool>(&v.value)) return *yes ? "true" : "false";
    if (const auto* n = std::get_if<double>(&v.value)) return number(*n, v.decimals, like);
    if (const auto* s = std::get_if<std::string>(&v.value))
        return like && like->is_date() && looks_like_a_date(*s) ? *s : in_toml_quotes(*s);
    if (const auto* list = std::get_if<NewValue::List>(&v.value)) {
        std::string text;
        for (const NewValue& item : *list) text += (text.empty() ? "" : ", ") + written(item);
        return "[" + text + "]";
    }
    std::string text;
    for (const auto& [key, value] : std::get<NewValue::Table>(v.value))
        text += (text.empty() ? "" : ", ") + written_key(key) + " = " + written(value);
    return text.empty() ? "{}" : "{ " + text + " }";
}

}  // namespace rushlight
