// Checkpoints of work in progress, kept among the layers: under the same limits, and gone when the command is through.
#pragma once

#include "paths/work/effort.h"
#include "results/light/layer_cache.h"

#include <set>
#include <string>
#include <vector>

namespace rushlight {

class KeptCheckpoints : public CheckpointStore {
public:
    static constexpr double usual_pause = 30;  // s, from one checkpoint to the next

    explicit KeptCheckpoints(LayerCache cache, double pause = usual_pause) : cache_(std::move(cache)), pause_(pause) {}

    /// From now on no checkpoint is used; new ones are still saved.
    void begin_anew() { anew_ = true; }
    std::optional<std::string> find(const std::string& work) override;
    bool due() const override { return clock_.seconds() - last_ >= pause_; }
    std::uint64_t largest() const override { return cache_.keeps() ? cache_.largest() : 0; }
    void keep(const std::string& work, std::string_view bytes) override;

    /// The command is through: its checkpoints are needed no more.
    void forget_all();
    /// True if work went on from a checkpoint of an earlier run.
    bool went_on() const { return gone_on_; }

private:
    LayerCache cache_;
    double pause_, last_ = 0;
    Clock clock_;
    bool anew_ = false, gone_on_ = false;
    std::set<std::string> fingerprints_;
};

}  // namespace rushlight
