#include "desk/door/lobby.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <sys/eventfd.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <map>

namespace rushlight::desk {

namespace {

using Time = std::chrono::steady_clock;

constexpr std::size_t heard_of_the_leaving = std::size_t{2} << 20;  // and thrown away

std::unique_ptr<Connection> accepted_at(const Socket& listening) {
    sockaddr_in other{};
    socklen_t length = sizeof other;
    Socket socket(
        ::accept4(listening.number(), reinterpret_cast<sockaddr*>(&other), &length, SOCK_NONBLOCK | SOCK_CLOEXEC));
    if (!socket) return nullptr;
    const int yes = 1;
    ::setsockopt(socket.number(), IPPROTO_TCP, TCP_NODELAY, &yes, sizeof yes);
    std::array<char, INET_ADDRSTRLEN> text{};
    ::inet_ntop(AF_INET, &other.sin_addr, text.data(), text.size());
    auto one = std::make_unique<Connection>();
    one->socket = std::move(socket);
    one->address = text.data();
    return one;
}

}  // namespace

Lobby::Lobby(Socket listening, Door door, Refused refused, Ready ready)
    : listening_(std::move(listening)),
      wake_(::eventfd(0, EFD_NONBLOCK | EFD_CLOEXEC)),
      door_(std::move(door)),
      refused_(std::move(refused)),
      ready_(std::move(ready)),
      thread_([this] { run(); }) {}

Lobby::~Lobby() {
    end();
}

void Lobby::end() {
    ending_ = true;
    wait_again(nullptr);
    if (thread_.joinable()) thread_.join();
    const std::lock_guard lock(mutex_);
    waiting_.clear();
    back_.clear();
}

void Lobby::wait_again(std::unique_ptr<Connection> connection) {
    {
        const std::lock_guard lock(mutex_);
        if (connection && !ending_) back_.push_back(std::move(connection));
    }
    const std::uint64_t one = 1;
    static_cast<void>(::write(wake_.number(), &one, sizeof one) == sizeof one);
}

void Lobby::run() {
    std::vector<pollfd> ears;
    while (!ending_) {
        ears.assign({{listening_.number(), POLLIN, 0}, {wake_.number(), POLLIN, 0}});
        auto until = Time::now() + std::chrono::seconds(1);
        for (const auto& c : waiting_) {
            ears.push_back({c->socket.number(), POLLIN, 0});
            until = std::min(until, c->until);
        }
        const auto pause = std::chrono::duration_cast<std::chrono::milliseconds>(until - Time::now()).count() + 1;
        if (::poll(ears.data(), ears.size(), static_cast<int>(std::max<long>(pause, 0))) < 0) continue;
        for (std::size_t i = 0; i < waiting_.size(); ++i)
            if (ears[i + 2].revents != 0) hear(waiting_[i]);
        const auto now = Time::now();
        std::erase_if(waiting_, [&](const auto& c) { return !c || c->until <= now; });
        if (ears[1].revents != 0) take_back();
        if (ears[0].revents != 0) let_in();
    }
}

void Lobby::take_back() {
    std::uint64_t count = 0;
    static_cast<void>(::read(wake_.number(), &count, sizeof count) == sizeof count);
    Connections back;
    {
        const std::lock_guard lock(mutex_);
        back.swap(back_);
    }
    for (auto& c : back) {
        c->stage = Connection::Stage::head;
        c->until = Time::now() + (c->bytes.empty() ? to_ask_again : to_send_a_head);
        waiting_.push_back(std::move(c));
        step(waiting_.back());  // the next request may have come with the last
        if (!waiting_.back()) waiting_.pop_back();
    }
    make_room();
}

void Lobby::let_in() {
    constexpr int at_once = 64;
    for (int i = 0; i < at_once; ++i) {
        auto one = accepted_at(listening_);
        if (!one) {
            // No descriptor left for it: it goes on waiting outside, and nobody turns in circles for it.
            if (errno == EMFILE || errno == ENFILE) std::this_thread::sleep_for(std::chrono::milliseconds(20));
            break;
        }
        one->until = Time::now() + to_send_a_head;
        waiting_.push_back(std::move(one));
        hear(waiting_.back());  // most have asked already, and then hold no place
        if (!waiting_.back()) waiting_.pop_back();
        make_room();
    }
}

void Lobby::hear(std::unique_ptr<Connection>& connection) {
    Connection& c = *connection;
    std::array<char, most_head_bytes> piece{};
    std::size_t room = piece.size();
    if (c.stage == Connection::Stage::body) room = std::min(room, c.body_length - c.bytes.size());
    const ssize_t n = ::recv(c.socket.number(), piece.data(), room, 0);
    if (n < 0 && (errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR)) return;
    if (n <= 0) return connection.reset();
    if (c.stage == Connection::Stage::leaving) {
        const auto heard = static_cast<std::size_t>(n);
        if (heard >= c.body_length) return connection.reset();
        c.body_length -= heard;
        return;
    }
    // Whoever has begun to ask is not given the time of whoever thinks.
    if (c.stage == Connection::Stage::head && c.bytes.empty())
        c.until = std::min(c.until, Time::now() + to_send_a_head);
    c.bytes.append(piece.data(), static_cast<std::size_t>(n));
    step(connection);
}

void Lobby::step(std::unique_ptr<Connection>& connection) {
    Connection& c = *connection;
    if (c.stage == Connection::Stage::head) {
        try {
            const std::size_t length = head_length(c.bytes);
            if (length == 0) return;
            c.head = head_from(std::string_view(c.bytes).substr(0, length));
            const Said said = door_(c.head, c.socket);
            if (!said.refusal.empty()) return send_away(c, said.refusal);
            c.viewer = said.viewer;
            c.body_length = said.body_length;
            c.bytes.erase(0, length);
        } catch (const NoRequest& no) {
            return send_away(c, refused_(no.status, no.what()));
        } catch (const std::exception&) {  // no memory for it
            return connection.reset();
        }
        c.stage = Connection::Stage::body;
        c.until = Time::now() + to_send_a_body;
        if (c.bytes.size() < c.body_length && c.head.has("expect"))
            send_at_once(c.socket, "HTTP/1.1 100 Continue\r\n\r\n");
    }
    if (c.stage != Connection::Stage::body || c.bytes.size() < c.body_length) return;
    Call call{nullptr, std::move(c.head), c.bytes.substr(0, c.body_length)};
    c.bytes.erase(0, c.body_length);
    call.from = std::move(connection);
    ready_(std::move(call));
}

/// Answered, and heard to the end for a moment: closed at once, an answer is lost with what was still on its way here.
void Lobby::send_away(Connection& c, const std::string& answer) {
    send_at_once(c.socket, answer);
    ::shutdown(c.socket.number(), SHUT_WR);
    c.stage = Connection::Stage::leaving;
    c.viewer.clear();
    std::string().swap(c.bytes);
    c.body_length = heard_of_the_leaving;
    c.until = Time::now() + to_leave;
}

void Lobby::make_room() {
    drop_one_of(false, most_strangers);
    drop_one_of(true, most_known);
}

/// Strangers are told apart by their address, others by who they are.
void Lobby::drop_one_of(bool known, std::size_t most) {
    const auto counts = [&](const auto& c) { return c->viewer.empty() != known; };
    while (static_cast<std::size_t>(std::count_if(waiting_.begin(), waiting_.end(), counts)) > most) {
        std::map<std::string, std::size_t> places;
        const std::string* greediest = nullptr;
        for (const auto& c : waiting_) {
            if (!counts(c)) continue;
            const std::string& who = known ? c->viewer : c->address;
            if (++places[who]; !greediest || places[who] > places[*greediest]) greediest = &who;
        }
        const auto gone = std::find_if(waiting_.begin(), waiting_.end(), [&](const auto& c) {
            return counts(c) && (known ? c->viewer : c->address) == *greediest;
        });
        waiting_.erase(gone);
    }
}

}  // namespace rushlight::desk
