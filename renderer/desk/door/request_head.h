// The head of an HTTP request (RFC 9112), read strictly: what is not plainly one request is none.
#pragma once

#include <map>
#include <stdexcept>
#include <string>
#include <string_view>

namespace rushlight::desk {

struct RequestHead {
    std::string method;
    std::string path;                                // decoded, without the query
    std::map<std::string, std::string> query;        // decoded; of a word that stands there twice, the last
    std::multimap<std::string, std::string> fields;  // names in lower case
    bool stays_open = true;                          // whether the other side would ask again over this connection

    std::size_t count(const std::string& name) const { return fields.count(name); }
    bool has(const std::string& name) const { return count(name) > 0; }
    /// The first of that name; empty where there is none.
    std::string field(const std::string& name) const {
        const auto found = fields.find(name);
        return found == fields.end() ? "" : found->second;
    }
};

/// What came is no request; `status` says why in HTTP, what() in one line.
struct NoRequest : std::runtime_error {
    NoRequest(int s, const char* line) : std::runtime_error(line), status(s) {}
    int status;
};

inline constexpr std::size_t most_head_bytes = 16 * 1024, most_fields = 100;

/// Bytes of the first head in `bytes`, with the empty line at its end; 0 while that has not come. Throws NoRequest for
/// a head that is longer than most_head_bytes, whether its end has come or not.
std::size_t head_length(std::string_view bytes);
/// Of a whole head; throws NoRequest.
RequestHead head_from(std::string_view bytes);

}  // namespace rushlight::desk
