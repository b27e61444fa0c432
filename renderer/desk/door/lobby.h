// Where connections wait until a whole request has come over them. One thread listens to all, so that a slow one costs
// nothing but its place; and places are few: whoever takes most of them loses the one held longest.
#pragma once

#include "desk/door/request_head.h"
#include "desk/door/socket.h"

#include <atomic>
#include <chrono>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace rushlight::desk {

struct Connection {
    enum class Stage { head, body, leaving };

    Socket socket;
    std::string address;  // of the other side
    std::string viewer;   // who it is; empty for strangers
    std::string bytes;    // what has come and was not answered
    Stage stage = Stage::head;
    std::chrono::steady_clock::time_point until = {};  // it is dropped then
    RequestHead head = {};
    std::size_t body_length = 0;  // or how much more is heard of one who leaves
};

/// A whole request, and where the answer goes.
struct Call {
    std::unique_ptr<Connection> from;
    RequestHead head;
    std::string body;
};

class Lobby {
public:
    static constexpr std::size_t most_strangers = 64, most_known = 64;
    static constexpr std::chrono::seconds to_send_a_head{3}, to_send_a_body{5}, to_ask_again{10}, to_leave{1};

    /// What the door says to a head: who it is and how long the body may be, or the whole answer that turns it away.
    struct Said {
        std::string viewer;
        std::size_t body_length = 0;
        std::string refusal;
    };
    using Door = std::function<Said(const RequestHead&, const Socket&)>;
    using Ready = std::function<void(Call)>;
    /// Both are called from the lobby's own thread and must not wait. `refused`: the answer to what is no request.
    using Refused = std::function<std::string(int status, const std::string& line)>;

    Lobby(Socket listening, Door door, Refused refused, Ready ready);
    ~Lobby();
    Lobby(const Lobby&) = delete;
    Lobby& operator=(const Lobby&) = delete;

    /// It was answered and may ask again. From any thread.
    void wait_again(std::unique_ptr<Connection> connection);
    void end();

private:
    using Connections = std::vector<std::unique_ptr<Connection>>;

    void run();
    void take_back();
    void let_in();
    void hear(std::unique_ptr<Connection>& connection);
    void step(std::unique_ptr<Connection>& connection);
    void send_away(Connection& connection, const std::string& answer);
    void make_room();
    void drop_one_of(bool known, std::size_t most);

    Socket listening_, wake_;
    Door door_;
    Refused refused_;
    Ready ready_;
    Connections waiting_;  // the lobby's thread alone; longest first
    std::mutex mutex_;
    Connections back_;  // of mutex_
    std::atomic<bool> ending_{false};
    std::thread thread_;
};

}  // namespace rushlight::desk
