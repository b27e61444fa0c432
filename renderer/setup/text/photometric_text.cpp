#include "setup/text/photometric_text.h"

#include "setup/text/words.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

namespace rushlight {

namespace {

constexpr double largest_number = 1e9;

bool blank(char c) {
    // A byte 0x1A ends files that old systems wrote.
    return c == ' ' || c == '\t' || c == '\f' || c == '\v' || c == '\x1A';
}

bool digit(char c) {
    return c >= '0' && c <= '9';
}

}  // namespace

std::string_view without_outer_blanks(std::string_view s) {
    while (!s.empty() && blank(s.front())) s.remove_prefix(1);
    while (!s.empty() && blank(s.back())) s.remove_suffix(1);
    return s;
}

std::string in_capitals(std::string_view text) {
    std::string s(text);
    for (char& c : s)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return s;
}

std::optional<double> number_from(std::string_view word, Comma comma) {
    if (word.size() > 1 && word[0] == '+') word.remove_prefix(1);
    if (word.empty() || word.size() > 40) return std::nullopt;
    const char sign_or_first = word[0] == '-' && word.size() > 1 ? word[1] : word[0];
    if (!digit(sign_or_first) && sign_or_first != '.' && sign_or_first != ',') return std::nullopt;
    std::string text(word);
    if (comma == Comma::is_decimal) std::replace(text.begin(), text.end(), ',', '.');
    double value = 0;
    const char* end = text.data() + text.size();
    const auto [stopped, problem] = std::from_chars(text.data(), end, value);
    if (problem != std::errc{} || stopped != end || !(std::abs(value) <= largest_number)) return std::nullopt;
    return value;
}

PhotometricText::PhotometricText(std::string_view text, std::string path) : path_(std::move(path)) {
    if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
    if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF")
        refuse(0, "found UTF-16, expected plain text: save the file as UTF-8");
    std::size_t from = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\0') refuse(lines_.size(), "found a byte 0x00, expected the text of a photometric file");
        if (text[i] != '\n' && text[i] != '\r') continue;
        lines_.push_back(text.substr(from, i - from));
        if (text[i] == '\r' && i + 1 < text.size() && text[i + 1] == '\n') ++i;
        from = i + 1;
    }
    if (from < text.size()) lines_.push_back(text.substr(from));
    while (!lines_.empty() && without_outer_blanks(lines_.back()).empty()) lines_.pop_back();
    if (lines_.empty()) refuse(0, "the file is empty");
}

void PhotometricText::refuse(std::size_t line, const std::string& what, int column) const {
    throw InputError(Where{path_, static_cast<int>(line) + 1, column}, what);
}

NumberReader::NumberReader(const PhotometricText& text, std::size_t first_line, Comma comma)
    : text_(&text), comma_(comma) {
    const auto separates = [&](char c) { return blank(c) || c == ';' || (c == ',' && comma == Comma::separates); };
    for (std::size_t i = first_line; i < text.line_count(); ++i) {
        const std::string_view line = text.line(i);
        for (std::size_t at = 0; at < line.size();) {
            if (separates(line[at])) {
                ++at;
                continue;
            }
            const std::size_t from = at;
            while (at < line.size() && !separates(line[at])) ++at;
            std::string_view word = line.substr(from, at - from);
            // "0, 2,5, 5": a comma before a blank parts numbers even where a comma is decimal.
            if (comma == Comma::is_decimal && word.size() > 1 && word.back() == ',') word.remove_suffix(1);
            words_.push_back({word, i, static_cast<int>(from) + 1});
        }
    }
}

double NumberReader::next(const std::string& what) {
    if (at_end()) text_->refuse(line(), "the file ends here, expected " + what);
    const auto value = number_from(words_[at_].text, comma_);
    if (!value) refuse("expected " + what);
    ++at_;
    return *value;
}

double NumberReader::next(const std::string& what, double low, double high) {
    const double value = next(what);
    if (!(value >= low && value <= high)) {
        --at_;
        refuse("expected " + what + ", between " + plain(low) + " and " + plain(high));
    }
    return value;
}

std::size_t NumberReader::next_count(const std::string& what, std::size_t low, std::size_t high) {
    const double value = next(what, static_cast<double>(low), static_cast<double>(high));
    if (value != std::floor(value)) {
        --at_;
        refuse("expected " + what + ", a whole number");
    }
    return static_cast<std::size_t>(value);
}

std::vector<double> NumberReader::list(const std::string& what, std::size_t count) {
    std::vector<double> values;
    values.reserve(std::min(count, words_.size()));
    for (std::size_t i = 0; i < count; ++i) values.push_back(next(what));
    return values;
}

std::size_t NumberReader::numbers_left() const {
    std::size_t i = at_;
    while (i < words_.size() && number_from(words_[i].text, comma_)) ++i;
    return i - at_;
}

std::size_t NumberReader::line_before() const {
    return at_ == 0 || words_.empty() ? line() : words_[std::min(at_, words_.size()) - 1].line;
}

void NumberReader::refuse(const std::string& what) const {
    if (at_end()) text_->refuse(line(), what);
    text_->refuse(words_[at_].line, "found " + in_quotes(words_[at_].text) + ", " + what, words_[at_].column);
}

bool has_comma_between_digits(const PhotometricText& text, std::size_t first_line) {
    for (std::size_t i = first_line; i < text.line_count(); ++i) {
        const std::string_view line = text.line(i);
        for (std::size_t at = line.find(','); at != std::string_view::npos; at = line.find(',', at + 1))
            if (at > 0 && at + 1 < line.size() && digit(line[at - 1]) && digit(line[at + 1])) return true;
    }
    return false;
}

}  // namespace rushlight
