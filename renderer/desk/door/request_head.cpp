#include "desk/door/request_head.h"

#include <algorithm>

namespace rushlight::desk {

namespace {

constexpr std::string_view line_end = "\r\n", head_end = "\r\n\r\n";

/// RFC 9110, 5.6.2.
bool is_token(std::string_view word) {
    constexpr std::string_view marks = "!#$%&'*+-.^_`|~";
    return !word.empty() && std::all_of(word.begin(), word.end(), [&](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
               marks.find(c) != std::string_view::npos;
    });
}

std::string in_lower_case(std::string_view word) {
    std::string lower(word);
    for (char& c : lower)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return lower;
}

std::string_view without_blanks(std::string_view text) {
    const auto blank = [](char c) { return c == ' ' || c == '\t'; };
    while (!text.empty() && blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && blank(text.back())) text.remove_suffix(1);
    return text;
}

int digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

std::string decoded(std::string_view text, bool plus_is_a_blank) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '%') {
            const int high = i + 2 < text.size() ? digit(text[i + 1]) : -1;
            const int low = i + 2 < text.size() ? digit(text[i + 2]) : -1;
            if (high < 0 || low < 0) throw NoRequest(400, "an address with a % that stands for nothing");
            out += static_cast<char>(high * 16 + low);
            i += 2;
        } else {
            out += plus_is_a_blank && text[i] == '+' ? ' ' : text[i];
        }
    }
    return out;
}

/// The part before `mark`, which goes away with it; all of it where there is no mark.
std::string_view taken_to(char mark, std::string_view& text) {
    const std::size_t at = std::min(text.find(mark), text.size());
    const std::string_view part = text.substr(0, at);
    text.remove_prefix(std::min(at + 1, text.size()));
    return part;
}

void read_target(std::string_view target, RequestHead& head) {
    const auto visible = [](char c) { return c > ' ' && c < 0x7F; };
    if (target.empty() || target.front() != '/' || !std::all_of(target.begin(), target.end(), visible))
        throw NoRequest(400, "expected an address that begins with /");
    head.path = decoded(taken_to('?', target), false);
    while (!target.empty()) {
        std::string_view value = taken_to('&', target);
        const std::string_view name = taken_to('=', value);
        head.query[decoded(name, true)] = decoded(value, true);
    }
}

void read_field(std::string_view line, RequestHead& head) {
    const std::size_t colon = line.find(':');
    if (colon == std::string_view::npos || !is_token(line.substr(0, colon)))
        throw NoRequest(400, "expected a header line of a name, a colon and a value");
    const std::string_view value = without_blanks(line.substr(colon + 1));
    const auto control = [](char c) { return (c >= 0 && c < ' ' && c != '\t') || c == 0x7F; };
    if (std::any_of(value.begin(), value.end(), control))
        throw NoRequest(400, "a header line with a control character");
    if (head.fields.size() == most_fields) throw NoRequest(431, "more than 100 header lines");
    head.fields.emplace(in_lower_case(line.substr(0, colon)), value);
}

}  // namespace

std::size_t head_length(std::string_view bytes) {
    const std::size_t end = bytes.substr(0, most_head_bytes).find(head_end);
    if (end != std::string_view::npos) return end + head_end.size();
    if (bytes.size() >= most_head_bytes) throw NoRequest(431, "more than 16 KiB of header lines");
    return 0;
}

RequestHead head_from(std::string_view bytes) {
    RequestHead head;
    const auto next_line = [&] {
        const std::size_t end = bytes.find(line_end);
        if (end == std::string_view::npos) throw NoRequest(400, "a header line without an end");
        const std::string_view line = bytes.substr(0, end);
        bytes.remove_prefix(end + line_end.size());
        return line;
    };
    std::string_view line = next_line();
    const std::string_view method = taken_to(' ', line), target = taken_to(' ', line);
    if (!is_token(method)) throw NoRequest(400, "expected a request of HTTP");
    if (line != "HTTP/1.1" && line != "HTTP/1.0") throw NoRequest(505, "expected HTTP/1.1");
    head.method = method;
    head.stays_open = line == "HTTP/1.1";
    read_target(target, head);
    for (line = next_line(); !line.empty(); line = next_line()) read_field(line, head);
    for (auto [one, end] = head.fields.equal_range("connection"); one != end; ++one)
        if (in_lower_case(one->second).find("close") != std::string::npos) head.stays_open = false;
    return head;
}

}  // namespace rushlight::desk
