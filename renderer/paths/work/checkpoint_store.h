// Long work saves checkpoints here, so that the same command goes on from the last one after the program was ended.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace rushlight {

class CheckpointStore {
public:
    virtual ~CheckpointStore() = default;
    /// The checkpoint saved under the fingerprint of everything that the work depends on.
    virtual std::optional<std::string> find(const std::string& fingerprint) = 0;
    /// True when it is time to save one.
    virtual bool due() const = 0;
    /// Seconds of work: less than this is sooner done again than kept.
    virtual double worth_keeping() const { return 0.25; }
    /// The most bytes that a checkpoint may have.
    virtual std::uint64_t largest() const = 0;
    /// Replaces the checkpoint under this fingerprint.
    virtual void keep(const std::string& fingerprint, std::string_view bytes) = 0;
};

}  // namespace rushlight
