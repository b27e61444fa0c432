#include "setup/model/lines.h"

#include "setup/text/where.h"

#include <cstdio>
#include <utility>

namespace rushlight {

namespace {

constexpr bool blank(char c) {
    return c == ' ' || c == '\t';
}

}  // namespace

Word next_word(std::string_view line, std::size_t& at) {
    while (at < line.size() && blank(line[at])) ++at;
    const std::size_t from = at;
    while (at < line.size() && !blank(line[at])) ++at;
    return {line.substr(from, at - from), static_cast<int>(from) + 1};
}

std::string trimmed(std::string_view s) {
    const auto from = s.find_first_not_of(" \t\r\n");
    if (from == std::string_view::npos) return {};
    return std::string(s.substr(from, s.find_last_not_of(" \t\r\n") - from + 1));
}

CheckedLines::CheckedLines(std::streambuf& from, std::string file, Wanted wanted)
    : from_(from), file_(std::move(file)), wanted_(std::move(wanted)) {}

CheckedLines::int_type CheckedLines::underflow() {
    if (lines_read_ == 0) refuse_other_encodings();
    while (read_line()) {
        if (!wanted_(line_, number_)) continue;
        line_ += '\n';
        setg(line_.data(), line_.data(), line_.data() + line_.size());
        return traits_type::to_int_type(line_.front());
    }
    return traits_type::eof();
}

bool CheckedLines::read_line() {
    line_.clear();
    bool joined = false;
    for (;;) {
        const int_type next = from_.sbumpc();
        const bool ended = next == traits_type::eof();
        if (ended && line_.empty() && !joined) return false;
        const char c = ended ? '\n' : traits_type::to_char_type(next);
        if (c == '\n' || c == '\r') {
            if (c == '\r' && from_.sgetc() == '\n') from_.sbumpc();
            ++lines_read_;
            if (!joined) number_ = lines_read_;
            if (ended || line_.empty() || line_.back() != '\\') return true;
            line_.back() = ' ';  // the line goes on below
            joined = true;
            continue;
        }
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20 && c != '\t' && c != '\f' && c != '\v') {
            char code[8];
            std::snprintf(code, sizeof code, "0x%02X", byte);
            throw InputError({file_, lines_read_ + 1, 0},
                             std::string("found a byte ") + code + ", expected plain text (OBJ, saved as UTF-8)");
        }
        line_ += c;
        if (line_.size() > longest_line)
            throw InputError({file_, lines_read_ + 1, 0}, "found a line of more than " + std::to_string(longest_line) +
                                                              " characters, expected lines of an OBJ file");
    }
}

void CheckedLines::refuse_other_encodings() {
    const int_type first = from_.sgetc();
    if (first == 0xEF) {
        from_.sbumpc();
        if (from_.sbumpc() != 0xBB || from_.sbumpc() != 0xBF)
            throw InputError({file_, 1, 1}, "found bytes that are not text, expected an OBJ file");
    } else if (first == 0xFF || first == 0xFE) {
        throw InputError({file_, 1, 1}, "found UTF-16 or binary data, expected plain text (OBJ, saved as UTF-8)");
    }
}

}  // namespace rushlight
