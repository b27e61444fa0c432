// A connection's end at this side, and what is sent over it: never without a bound in time.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace rushlight::desk {

/// Closed when it goes.
class Socket {
public:
    explicit Socket(int number = -1) : number_(number) {}
    Socket(Socket&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
    Socket& operator=(Socket&& other) noexcept {
        std::swap(number_, other.number_);
        return *this;
    }
    ~Socket();

    int number() const { return number_; }
    explicit operator bool() const { return number_ >= 0; }

private:
    int number_;
};

/// Listens at an address of this machine; `port` 0 takes any that is free and says which. Nothing where it is taken.
std::optional<Socket> listening_at(const std::string& address, int& port);
/// Sends as much as goes at once, and waits for nobody.
void send_at_once(const Socket& to, std::string_view bytes);
/// Sends all. False where the other side is gone, or takes less than slowest_kilobytes in slowest_seconds.
bool send_all(const Socket& to, std::string_view bytes);
inline constexpr int slowest_kilobytes = 256, slowest_seconds = 4;
/// Whether the other side has closed.
bool hung_up(const Socket& from);
/// Who is at the other end, as the system keeps account of connections within this machine: the number of the user.
/// Nothing where it does not say.
std::optional<unsigned> user_at(const Socket& other_end);

}  // namespace rushlight::desk
