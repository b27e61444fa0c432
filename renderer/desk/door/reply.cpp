#include "desk/door/reply.h"

#include <algorithm>
#include <utility>

namespace rushlight::desk {

namespace {

const char* reason(int status) {
    static constexpr std::pair<int, const char*> reasons[] = {
        {200, "OK"},
        {303, "See Other"},
        {400, "Bad Request"},
        {401, "Unauthorized"},
        {403, "Forbidden"},
        {404, "Not Found"},
        {405, "Method Not Allowed"},
        {409, "Conflict"},
        {411, "Length Required"},
        {413, "Content Too Large"},
        {415, "Unsupported Media Type"},
        {422, "Unprocessable Content"},
        {431, "Request Header Fields Too Large"},
        {500, "Internal Server Error"},
        {503, "Service Unavailable"},
        {505, "HTTP Version Not Supported"},
        {507, "Insufficient Storage"},
    };
    const auto* found =
        std::find_if(std::begin(reasons), std::end(reasons), [&](const auto& r) { return r.first == status; });
    return found == std::end(reasons) ? "As It Says" : found->second;
}

constexpr const char* always =
    "Cache-Control: no-store\r\n"
    "Content-Security-Policy: default-src 'self'; img-src 'self' blob: data:; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'; object-src 'none'\r\n"
    "Cross-Origin-Resource-Policy: same-origin\r\n"
    "Referrer-Policy: no-referrer\r\n"
    "X-Content-Type-Options: nosniff\r\n";

}  // namespace

std::string reply_head(const Answer& answer, bool stays_open, const std::string& fields) {
    return "HTTP/1.1 " + std::to_string(answer.status) + " " + reason(answer.status) +
           "\r\nContent-Type: " + answer.type +
           "\r\nContent-Length: " + std::to_string(answer.body ? answer.body->size() : 0) +
           "\r\nConnection: " + (stays_open ? "keep-alive" : "close") + "\r\n" + always + fields + "\r\n";
}

std::string last_reply(const Answer& answer, const std::string& fields) {
    return reply_head(answer, false, fields) + (answer.body ? *answer.body : "");
}

std::string stream_head() {
    return std::string("HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nConnection: close\r\n") + always + "\r\n";
}

}  // namespace rushlight::desk
