// Work in progress among the kept layers: under the same limits, and gone when the command is through.
#pragma once

#include "paths/work/effort.h"
#include "results/light/layer_cache.h"

#include <set>
#include <string>
#include <vector>

namespace rushlight {

class UnfinishedWork : public Unfinished {
public:
    static constexpr double usual_pause = 30;  // s, from one keeping to the next

    explicit UnfinishedWork(LayerCache cache, double pause = usual_pause) : cache_(std::move(cache)), pause_(pause) {}

    /// From now on nothing is gone on with; it is still kept.
    void begin_anew() { anew_ = true; }
    std::optional<std::string> find(const std::string& work) override;
    bool due() const override { return clock_.seconds() - last_ >= pause_; }
    std::uint64_t largest() const override { return cache_.keeps() ? cache_.largest() : 0; }
    void keep(const std::string& work, std::string_view bytes) override;

    /// The command is through: what it left or found is needed no more.
    void forget_all();
    /// A sentence for people where an earlier run was gone on with.
    std::vector<std::string> remarks() const;

private:
    LayerCache cache_;
    double pause_, last_ = 0;
    Clock clock_;
    bool anew_ = false, gone_on_ = false;
    std::set<std::string> keys_;
};

}  // namespace rushlight
