#include "results/light/kept_checkpoints.h"

#include "quantity/content.h"

#include <algorithm>

namespace rushlight {

namespace {

// Saving takes at most one part in this many of the time.
constexpr double work_per_save = 30;

std::string key_of_work(const std::string& work) {
    return (Content() << "unfinished" << program_fingerprint() << work).fingerprint();
}

}  // namespace

std::optional<std::string> KeptCheckpoints::find(const std::string& work) {
    if (anew_) return std::nullopt;
    auto found = cache_.find(key_of_work(work));
    if (found) fingerprints_.insert(key_of_work(work));
    gone_on_ = gone_on_ || found;
    return found;
}

void KeptCheckpoints::keep(const std::string& work, std::string_view bytes) {
    const double begun = clock_.seconds();
    cache_.keep(key_of_work(work), bytes);
    fingerprints_.insert(key_of_work(work));
    const double took = clock_.seconds() - begun;
    last_ = clock_.seconds() + std::max(0.0, work_per_save * took - pause_);
}

void KeptCheckpoints::forget_all() {
    for (const std::string& fingerprint : fingerprints_) cache_.forget(fingerprint);
    fingerprints_.clear();
}

}  // namespace rushlight
