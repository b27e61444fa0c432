#include "desk/door/socket.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <sstream>

namespace rushlight::desk {

namespace {

/// As /proc/net/tcp writes an address of this machine: "0100007F:1F90".
std::string as_the_system_writes(const sockaddr_in& at) {
    char text[16];
    std::snprintf(text, sizeof text, "%08X:%04X", at.sin_addr.s_addr, static_cast<unsigned>(ntohs(at.sin_port)));
    return text;
}

/// The user whose connection goes from `from` to `to`. `before`: what stands before an IPv4 address in that table.
std::optional<unsigned> user_in(const char* table, const std::string& before, const std::string& from,
                                const std::string& to) {
    std::ifstream lines(table);
    for (std::string line; std::getline(lines, line);) {
        std::istringstream words(line);
        std::string number, near_end, far_end, skipped;
        words >> number >> near_end >> far_end;
        if (near_end != before + from || far_end != before + to) continue;
        for (int i = 0; i < 4; ++i) words >> skipped;  // state, queues, timers, retries
        unsigned user = 0;
        if (words >> user) return user;
    }
    return std::nullopt;
}

}  // namespace

Socket::~Socket() {
    if (number_ >= 0) ::close(number_);
}

std::optional<Socket> listening_at(const std::string& address, int& port) {
    Socket s(::socket(AF_INET, SOCK_STREAM | SOCK_NONBLOCK | SOCK_CLOEXEC, 0));
    if (!s) return std::nullopt;
    // Not shared with another program, but taken over from one that has just ended.
    const int yes = 1;
    ::setsockopt(s.number(), SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    sockaddr_in at{};
    at.sin_family = AF_INET;
    at.sin_port = htons(static_cast<in_port_t>(port));
    ::inet_pton(AF_INET, address.c_str(), &at.sin_addr);
    constexpr int backlog = 1024;  // those who come all at once are not sent to wait a second
    socklen_t length = sizeof at;
    if (::bind(s.number(), reinterpret_cast<const sockaddr*>(&at), sizeof at) != 0 ||
        ::listen(s.number(), backlog) != 0 || ::getsockname(s.number(), reinterpret_cast<sockaddr*>(&at), &length) != 0)
        return std::nullopt;
    port = ntohs(at.sin_port);
    return s;
}

void send_at_once(const Socket& to, std::string_view bytes) {
    static_cast<void>(::send(to.number(), bytes.data(), bytes.size(), MSG_DONTWAIT | MSG_NOSIGNAL));
}

bool send_all(const Socket& to, std::string_view bytes) {
    using Time = std::chrono::steady_clock;
    while (!bytes.empty()) {
        const Time::time_point late = Time::now() + std::chrono::seconds(slowest_seconds);
        std::size_t left = std::min(bytes.size(), std::size_t{slowest_kilobytes} * 1024);
        while (left > 0) {
            const ssize_t n = ::send(to.number(), bytes.data(), left, MSG_DONTWAIT | MSG_NOSIGNAL);
            if (n > 0) {
                bytes.remove_prefix(static_cast<std::size_t>(n));
                left -= static_cast<std::size_t>(n);
                continue;
            }
            if (n < 0 && errno == EINTR) continue;
            if (n == 0 || (errno != EAGAIN && errno != EWOULDBLOCK)) return false;
            const auto wait = std::chrono::duration_cast<std::chrono::milliseconds>(late - Time::now()).count();
            pollfd room{to.number(), POLLOUT, 0};
            if (wait <= 0 || ::poll(&room, 1, static_cast<int>(wait)) == 0) return false;
        }
    }
    return true;
}

bool hung_up(const Socket& from) {
    pollfd end{from.number(), POLLRDHUP, 0};
    return ::poll(&end, 1, 0) > 0 && (end.revents & (POLLRDHUP | POLLHUP | POLLERR)) != 0;
}

std::optional<unsigned> user_at(const Socket& other_end) {
    sockaddr_in here{}, there{};
    socklen_t length = sizeof here;
    if (::getsockname(other_end.number(), reinterpret_cast<sockaddr*>(&here), &length) != 0) return std::nullopt;
    length = sizeof there;
    if (::getpeername(other_end.number(), reinterpret_cast<sockaddr*>(&there), &length) != 0) return std::nullopt;
    const std::string to = as_the_system_writes(here), from = as_the_system_writes(there);
    if (const auto user = user_in("/proc/net/tcp", "", from, to)) return user;
    return user_in("/proc/net/tcp6", "0000000000000000FFFF0000", from, to);  // RFC 4291: an IPv4 address mapped
}

}  // namespace rushlight::desk
