#include "desk/light/events.h"

#include <algorithm>

namespace rushlight::desk {

void Events::tell(const std::string& kind, std::string data) {
    {
        const std::lock_guard lock(mutex_);
        Waiting& w = waiting_[kind];
        if (w.turn == 0) w.turn = ++turn_;
        w.data = std::move(data);
    }
    came_.notify_one();
}

std::optional<std::string> Events::next(std::chrono::milliseconds longest) {
    std::unique_lock lock(mutex_);
    came_.wait_for(lock, longest, [&] { return ended_ || !waiting_.empty(); });
    if (ended_ || waiting_.empty()) return std::nullopt;
    const auto first = std::min_element(waiting_.begin(), waiting_.end(),
                                        [](const auto& a, const auto& b) { return a.second.turn < b.second.turn; });
    std::string text = "event: " + first->first + "\ndata: " + first->second.data + "\n\n";
    waiting_.erase(first);
    return text;
}

void Events::end() {
    {
        const std::lock_guard lock(mutex_);
        ended_ = true;
    }
    came_.notify_all();
}

bool Events::ended() const {
    const std::lock_guard lock(mutex_);
    return ended_;
}

}  // namespace rushlight::desk
