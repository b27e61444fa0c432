#include "results/light/unfinished_work.h"

#include "quantity/content.h"

#include <algorithm>

namespace rushlight {

namespace {

// Keeping takes at most one part in so many of the time.
constexpr double seldom = 30;

std::string key_of_work(const std::string& work) {
    return (Content() << "unfinished" << program_fingerprint() << work).key();
}

}  // namespace

std::optional<std::string> UnfinishedWork::find(const std::string& work) {
    if (anew_) return std::nullopt;
    auto found = cache_.find(key_of_work(work));
    if (found) keys_.insert(key_of_work(work));
    gone_on_ = gone_on_ || found;
    return found;
}

void UnfinishedWork::keep(const std::string& work, std::string_view bytes) {
    const double begun = clock_.seconds();
    cache_.keep(key_of_work(work), bytes);
    keys_.insert(key_of_work(work));
    const double took = clock_.seconds() - begun;
    last_ = clock_.seconds() + std::max(0.0, seldom * took - pause_);
}

void UnfinishedWork::forget_all() {
    for (const std::string& key : keys_) cache_.forget(key);
    keys_.clear();
}

std::vector<std::string> UnfinishedWork::remarks() const {
    if (!gone_on_) return {};
    return {
        "Went on from what an earlier run of this had traced before it was "
        "ended; --fresh begins anew."};
}

}  // namespace rushlight
