// Who may come in: links that work once, and the cookie that a used link turns into.
#pragma once

#include <mutex>
#include <string>
#include <vector>

namespace rushlight::desk {

/// 128 random bits from the system as 32 hexadecimal digits.
std::string random_key();

class Keys {
public:
    /// A fresh key for a link. The oldest of too many unused ones is forgotten.
    std::string link();
    /// The cookie that a link's key is good for, once; empty for a used or wrong key.
    std::string come_in(const std::string& key);
    /// A fresh cookie, for somebody who is known by other means.
    std::string cookie();
    bool knows(const std::string& cookie) const;

private:
    mutable std::mutex mutex_;
    std::vector<std::string> links_, cookies_;  // oldest first
};

}  // namespace rushlight::desk
