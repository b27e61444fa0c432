// The lines of a model file, looked at before the OBJ reader gets them: plain text only, of bounded length,
// with their numbers, so that whatever is wrong can be said with file, line and column.
#pragma once

#include <functional>
#include <istream>
#include <streambuf>
#include <string>
#include <string_view>

namespace rushlight {

/// One word of a line and the column it starts at (from 1).
struct Word {
    std::string_view text;
    int column = 0;
};
/// The next word from `at` on, which moves past it; an empty text at the end of the line.
Word next_word(std::string_view line, std::size_t& at);
/// Without the blanks at both ends.
std::string trimmed(std::string_view text);

/// A stream of those lines of another stream that `wanted` passes on. Lines that end in a backslash are
/// joined with the next; a byte-order mark of UTF-8 is dropped. Throws InputError for what is not text.
class CheckedLines : public std::streambuf {
public:
    using Wanted = std::function<bool(std::string_view line, int number)>;
    static constexpr std::size_t longest_line = 256 * 1024;

    CheckedLines(std::streambuf& from, std::string file, Wanted wanted);

    /// Reads on to the end of the file.
    void finish() {
        while (sgetc() != traits_type::eof()) setg(nullptr, nullptr, nullptr);
    }

    /// Number of the line that was passed on last.
    int line_number() const { return number_; }

protected:
    int_type underflow() override;

private:
    bool read_line();
    void refuse_other_encodings();

    std::streambuf& from_;
    std::string file_;
    Wanted wanted_;
    std::string line_;
    int number_ = 0;      // of the line in hand
    int lines_read_ = 0;  // differs from number_ where lines were joined
};

}  // namespace rushlight
