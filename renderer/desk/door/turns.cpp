#include "desk/door/turns.h"

#include <algorithm>

namespace rushlight::desk {

bool Turns::add(Call& call) {
    {
        const std::lock_guard lock(mutex_);
        const auto of_the_same = std::count_if(waiting_.begin(), waiting_.end(),
                                               [&](const Call& c) { return c.from->viewer == call.from->viewer; });
        if (ending_ || waiting_.size() >= most_waiting || static_cast<std::size_t>(of_the_same) >= most_of_one)
            return false;
        waiting_.push_back(std::move(call));
    }
    news_.notify_one();
    return true;
}

std::optional<Call> Turns::next() {
    std::unique_lock lock(mutex_);
    for (;;) {
        if (ending_) return std::nullopt;
        const auto first = std::find_if(waiting_.begin(), waiting_.end(), [&](const Call& c) {
            const auto hand = in_hand_.find(c.from->viewer);
            return hand == in_hand_.end() || hand->second < at_once_;
        });
        if (first != waiting_.end()) {
            Call call = std::move(*first);
            waiting_.erase(first);
            ++in_hand_[call.from->viewer];
            return call;
        }
        news_.wait(lock);
    }
}

void Turns::done(const std::string& viewer) {
    {
        const std::lock_guard lock(mutex_);
        const auto hand = in_hand_.find(viewer);
        if (hand != in_hand_.end() && --hand->second == 0) in_hand_.erase(hand);
    }
    news_.notify_one();
}

void Turns::end() {
    {
        const std::lock_guard lock(mutex_);
        ending_ = true;
    }
    news_.notify_all();
}

}  // namespace rushlight::desk
