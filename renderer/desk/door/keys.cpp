#include "desk/door/keys.h"

#include <sys/random.h>

#include <algorithm>
#include <array>
#include <stdexcept>

namespace rushlight::desk {

namespace {

constexpr std::size_t most_links = 64, most_cookies = 256;

/// Takes as long for a near miss as for a far one.
bool same(const std::string& a, const std::string& b) {
    if (a.size() != b.size()) return false;
    unsigned char differs = 0;
    for (std::size_t i = 0; i < a.size(); ++i) differs |= static_cast<unsigned char>(a[i] ^ b[i]);
    return differs == 0;
}

void keep(std::vector<std::string>& all, const std::string& one, std::size_t most) {
    if (all.size() >= most) all.erase(all.begin());
    all.push_back(one);
}

}  // namespace

std::string random_key() {
    std::array<unsigned char, 16> bits{};
    if (::getrandom(bits.data(), bits.size(), 0) != static_cast<ssize_t>(bits.size()))
        throw std::runtime_error("the system gives no random numbers for a key");
    static constexpr char digits[] = "0123456789abcdef";
    std::string text;
    for (const unsigned char b : bits) {
        text += digits[b >> 4];
        text += digits[b & 15];
    }
    return text;
}

std::string Keys::link() {
    const std::lock_guard lock(mutex_);
    keep(links_, random_key(), most_links);
    return links_.back();
}

std::string Keys::cookie() {
    const std::lock_guard lock(mutex_);
    keep(cookies_, random_key(), most_cookies);
    return cookies_.back();
}

std::string Keys::come_in(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const auto found = std::find_if(links_.begin(), links_.end(), [&](const std::string& l) { return same(l, key); });
    if (found == links_.end()) return "";
    links_.erase(found);
    keep(cookies_, random_key(), most_cookies);
    return cookies_.back();
}

bool Keys::knows(const std::string& cookie) const {
    const std::lock_guard lock(mutex_);
    bool known = false;
    for (const std::string& c : cookies_) known |= same(c, cookie);
    return known;
}

}  // namespace rushlight::desk
