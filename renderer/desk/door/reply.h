// An answer as it goes over the wire.
#pragma once

#include "desk/answer.h"

#include <string>

namespace rushlight::desk {

/// The head of it; the body follows as it is. Ranges are never served: an answer goes out whole (RFC 9110, 14.2).
/// `fields`: header lines besides, each with its end.
std::string reply_head(const Answer& answer, bool stays_open, const std::string& fields = {});
/// Head and body of an answer after which the connection ends.
std::string last_reply(const Answer& answer, const std::string& fields = {});
/// The head of a stream of events, which lasts until one side closes.
std::string stream_head();

}  // namespace rushlight::desk
