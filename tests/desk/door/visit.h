// Somebody who has come in by a link, and a wire without any HTTP on it.
#pragma once

#include "desk/door/server.h"

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <httplib.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <chrono>
#include <string>
#include <utility>

namespace rushlight::desk {

inline int started(Server& server) {
    server.start();
    return server.port();
}

struct Visit {
    Desk& desk;
    Server server;
    httplib::Client client;
    std::string cookie;

    explicit Visit(Desk& d, bool shared = false)
        : desk(d), server(d, {shared, 0, ""}), client("127.0.0.1", started(server)) {
        client.set_read_timeout(20);
        const std::string link = server.link();
        const auto come = client.Get(link.substr(link.find("/?")));
        EXPECT_EQ(come->status, 303);
        const std::string set = come->get_header_value("Set-Cookie");
        EXPECT_NE(set.find("HttpOnly"), std::string::npos);
        EXPECT_NE(set.find("SameSite=Strict"), std::string::npos);
        cookie = set.substr(0, set.find(';'));
    }
    httplib::Headers headers(const httplib::Headers& more = {}) const {
        httplib::Headers all{{"Cookie", cookie}};
        all.insert(more.begin(), more.end());
        return all;
    }
    int get(const std::string& path, const httplib::Headers& more = {}) {
        const auto r = client.Get(path, headers(more));
        return r ? r->status : -1;
    }
    httplib::Result post(const std::string& path, const std::string& body, const httplib::Headers& more = {},
                         const char* type = "application/json") {
        return client.Post(path, headers(more), body, type);
    }
};

/// A connection to this machine, over which bytes go as they are.
class Wire {
public:
    explicit Wire(int port, int receive_buffer = 0) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
        if (receive_buffer > 0) ::setsockopt(socket_, SOL_SOCKET, SO_RCVBUF, &receive_buffer, sizeof receive_buffer);
        sockaddr_in at{};
        at.sin_family = AF_INET;
        at.sin_port = htons(static_cast<in_port_t>(port));
        ::inet_pton(AF_INET, "127.0.0.1", &at.sin_addr);
        EXPECT_EQ(::connect(socket_, reinterpret_cast<const sockaddr*>(&at), sizeof at), 0);
    }
    Wire(Wire&& other) noexcept : socket_(std::exchange(other.socket_, -1)) {}
    Wire& operator=(Wire&& other) noexcept {
        std::swap(socket_, other.socket_);
        return *this;
    }
    ~Wire() {
        if (socket_ >= 0) ::close(socket_);
    }
    /// False when the other side has gone.
    bool send(const std::string& bytes) {
        std::size_t at = 0;
        while (at < bytes.size()) {
            pollfd room{socket_, POLLOUT, 0};
            if (::poll(&room, 1, 200) <= 0) return false;
            const ssize_t n = ::send(socket_, bytes.data() + at, bytes.size() - at, MSG_NOSIGNAL | MSG_DONTWAIT);
            if (n <= 0) return false;
            at += static_cast<std::size_t>(n);
        }
        return true;
    }
    /// What comes until the other side closes, or for so long.
    std::string hear(double seconds) {
        using Time = std::chrono::steady_clock;
        const auto end = Time::now() + std::chrono::duration<double>(seconds);
        std::string heard;
        for (;;) {
            const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(end - Time::now()).count();
            pollfd ear{socket_, POLLIN, 0};
            if (left <= 0 || ::poll(&ear, 1, static_cast<int>(left)) <= 0) return heard;
            char piece[65536];
            const ssize_t n = ::recv(socket_, piece, sizeof piece, 0);
            if (n <= 0) {
                closed_ = true;
                return heard;
            }
            heard.append(piece, static_cast<std::size_t>(n));
        }
    }
    bool closed(double within) {
        hear(within);
        return closed_;
    }

private:
    int socket_;
    bool closed_ = false;
};

}  // namespace rushlight::desk
