// Events that a page is told as they happen. Of each kind of event only the newest waits, so that a slow page costs no
// memory.
#pragma once

#include <chrono>
#include <condition_variable>
#include <map>
#include <mutex>
#include <optional>
#include <string>

namespace rushlight::desk {

class Events {
public:
    /// `data` is one line.
    void tell(const std::string& kind, std::string data);
    /// The next event as it goes over the wire, the one that waits longest; nothing when none comes in time or after
    /// end().
    std::optional<std::string> next(std::chrono::milliseconds longest);
    void end();
    bool ended() const;

private:
    struct Waiting {
        unsigned long turn = 0;
        std::string data;
    };
    mutable std::mutex mutex_;
    std::condition_variable came_;
    std::map<std::string, Waiting> waiting_;
    unsigned long turn_ = 0;
    bool ended_ = false;
};

}  // namespace rushlight::desk
