// Where work that takes long leaves what it has so far, so that the same command goes on from there after the program
// was ended in the middle.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace rushlight {

class Unfinished {
public:
    virtual ~Unfinished() = default;
    /// What was left under the fingerprint of all that the work hangs on.
    virtual std::optional<std::string> find(const std::string& key) = 0;
    /// Whether it is time to leave something.
    virtual bool due() const = 0;
    /// Less work than this is sooner done again than kept, in seconds.
    virtual double worth_keeping() const { return 0.25; }
    /// More bytes than this are not taken.
    virtual std::uint64_t largest() const = 0;
    /// Replaces what was left under this key.
    virtual void keep(const std::string& key, std::string_view bytes) = 0;
};

}  // namespace rushlight
