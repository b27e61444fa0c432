// The text of a photometric file, cut into lines and numbers with their places, however it was saved.
#pragma once

#include "setup/text/where.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// The meaning of a comma between two digits.
enum class Comma { separates, is_decimal };

/// Blanks at both ends dropped.
std::string_view without_outer_blanks(std::string_view text);
/// ASCII letters made large.
std::string in_capitals(std::string_view text);
/// A finite number within a billion either way, and nothing else.
std::optional<double> number_from(std::string_view word, Comma comma);

class PhotometricText {
public:
    /// Throws InputError for what is not text. Lines end with LF, CR LF or CR; a byte-order mark of UTF-8 is dropped;
    /// `text` must outlive this.
    PhotometricText(std::string_view text, std::string path);

    const std::string& path() const { return path_; }
    std::size_t line_count() const { return lines_.size(); }
    /// `i` counts from 0; empty past the end.
    std::string_view line(std::size_t i) const { return i < lines_.size() ? lines_[i] : std::string_view(); }
    [[noreturn]] void refuse(std::size_t line, const std::string& what, int column = 0) const;

private:
    std::vector<std::string_view> lines_;
    std::string path_;
};

/// Numbers from a line on, one after the other, wherever lines end.
class NumberReader {
public:
    NumberReader(const PhotometricText& text, std::size_t first_line, Comma comma);

    /// `what` names the number in messages: "the number of vertical angles".
    double next(const std::string& what);
    double next(const std::string& what, double low, double high);
    std::size_t next_count(const std::string& what, std::size_t low, std::size_t high);
    std::vector<double> list(const std::string& what, std::size_t count);
    void skip(std::size_t count) { at_ += count; }

    /// Numbers from here to the first word that is none.
    std::size_t numbers_left() const;
    /// True while words are left; and the line of the next one.
    bool at_end() const { return at_ >= words_.size(); }
    std::size_t line() const { return at_end() ? text_->line_count() - 1 : words_[at_].line; }
    std::size_t line_before() const;
    std::string_view word() const { return at_end() ? std::string_view() : words_[at_].text; }
    [[noreturn]] void refuse(const std::string& what) const;

private:
    struct NumberWord {
        std::string_view text;
        std::size_t line;
        int column;
    };
    const PhotometricText* text_;
    Comma comma_;
    std::vector<NumberWord> words_;
    std::size_t at_ = 0;
};

/// True if a comma stands between two digits anywhere from a line on.
bool has_comma_between_digits(const PhotometricText& text, std::size_t first_line);

}  // namespace rushlight
