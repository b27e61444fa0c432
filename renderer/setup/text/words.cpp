#include "setup/text/words.h"

#include "setup/text/code_points.h"

#include <algorithm>
#include <cstdio>
#include <numeric>

namespace rushlight {

namespace {

constexpr std::size_t longest_quoted = 60;
constexpr std::size_t longest_list = 12;

bool blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

}  // namespace

std::string tidy(std::string_view text) {
    std::string out;
    for (char c : text) {
        if (blank(c)) {
            if (!out.empty() && out.back() != ' ') out += ' ';
        } else {
            out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        }
    }
    if (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
}

std::string in_quotes(std::string_view text) {
    const std::string letters = shown(text);
    std::size_t end = 0;
    while (end < letters.size() && end < longest_quoted) end += code_point_at(letters, end).used;
    return "'" + letters.substr(0, end) + (end < letters.size() ? "...'" : "'");
}

std::size_t word_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
    std::iota(last.begin(), last.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        now[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            now[j] = std::min({replaced, last[j] + 1, now[j - 1] + 1});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                now[j] = std::min(now[j], before[j - 2] + 1);
        }
        before = last;
        last = now;
    }
    return last[b.size()];
}

std::string hint(std::string_view found, const std::vector<std::string>& valid) {
    if (valid.empty()) return "; there are none here";
    const std::string word = tidy(found.substr(0, longest_quoted));
    const std::string* nearest = nullptr;
    std::size_t least = 0;
    for (const std::string& v : valid) {
        const std::size_t d = word_distance(word, tidy(std::string_view(v).substr(0, longest_quoted)));
        if (!nearest || d < least) {
            nearest = &v;
            least = d;
        }
    }
    // A third of the letters wrong is still a slip of the fingers; more is another word.
    if (least < word.size() && least <= std::max<std::size_t>(1, word.size() / 3))
        return "; did you mean " + in_quotes(*nearest) + "?";
    // A long list teaches nobody: the three nearest, and how many there are.
    std::vector<std::string> near = valid;
    if (valid.size() > longest_list) {
        const auto away = [&](const std::string& v) {
            const std::string name = tidy(std::string_view(v).substr(0, longest_quoted));
            // "lantern" is near to every name that has the word in it.
            const bool within = word.size() > 2 && name.find(word) != name.npos;
            return within ? std::size_t{0} : word_distance(word, name);
        };
        std::stable_sort(near.begin(), near.end(),
                         [&](const std::string& a, const std::string& b) { return away(a) < away(b); });
        near.resize(3);
    }
    std::string list =
        valid.size() > longest_list ? "; the nearest of " + std::to_string(valid.size()) + ": " : "; expected one of: ";
    for (std::size_t i = 0; i < near.size(); ++i) list += (i > 0 ? ", " : "") + shown(near[i]);
    return list;
}

std::vector<std::string> split(std::string_view text, char separator) {
    std::vector<std::string> parts;
    std::size_t from = 0;
    while (true) {
        const std::size_t to = text.find(separator, from);
        parts.emplace_back(text.substr(from, to - from));
        if (to == std::string_view::npos) return parts;
        from = to + 1;
    }
}

std::string plain(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.6g", value);
    return text;
}

std::string in_a_list(const std::vector<std::string>& names) {
    constexpr std::size_t most = 12;
    const std::size_t shown = std::min(names.size(), most);
    std::string s;
    for (std::size_t i = 0; i < shown; ++i)
        s += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + in_quotes(names[i]);
    return shown < names.size() ? s + " and " + std::to_string(names.size() - shown) + " more" : s;
}

std::string in_toml_quotes(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto u = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (c == '\n') {
            out += "\\n";
        } else if (c == '\t') {
            out += "\\t";
        } else if (u < 0x20 || u == 0x7F) {
            char code[8];
            std::snprintf(code, sizeof code, "\\u%04X", u);
            out += code;
        } else {
            out += c;
        }
    }
    return out + '"';
}

}  // namespace rushlight
