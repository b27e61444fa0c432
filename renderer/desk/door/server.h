// The desk over HTTP. The page on this machine may change the file; a shared one may only look.
#pragma once

#include "desk/desk.h"
#include "desk/door/keys.h"
#include "desk/door/lobby.h"
#include "desk/door/turns.h"

#include <atomic>
#include <chrono>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

namespace rushlight::desk {

/// A file of the page, as it is sent.
struct PageFile {
    std::string path, type;
    std::string_view bytes;
};
/// What was built into the program.
std::vector<PageFile> page_files();

/// A door has its own threads and its own places: what happens at one does not hold up the other.
class Server {
public:
    struct Options {
        bool shared = false;    // on the network, to be looked at only
        int port = 0;           // 0: any that is free
        std::string page = {};  // a folder to take the page from instead: for developers
    };
    Server(Desk& desk, Options options);
    ~Server();
    Server(const Server&) = delete;
    Server& operator=(const Server&) = delete;

    /// Throws InputError where the port is taken.
    void start();
    void stop();
    int port() const { return port_; }
    /// A fresh link that works once.
    std::string link();
    /// An address without a secret in it that lets in, once and within a minute, a program of the user who runs this
    /// desk, and nobody else of this machine.
    std::string address_for_this_user();

    /// Streams of one viewer: a page has one, and a second while options are compared.
    std::size_t most_streams_of_one() const;

private:
    Lobby::Said said_to(const RequestHead& head, const Socket& from);
    Lobby::Said let_in(const std::string& cookie) const;
    bool comes_from_this_user(const RequestHead& head, const Socket& from);
    void serve_all();
    void serve(Call call);
    Answer answer_to(const Call& call);
    void stream(Call call);
    bool begin_stream(const std::string& viewer);
    Answer page_file(const std::string& path) const;

    Desk& desk_;
    Options options_;
    Keys keys_;
    int port_ = 0;
    std::string cookie_name_;
    std::set<std::string> hosts_;  // as the Host header may name us
    Turns turns_;
    std::mutex mutex_;  // of the two below
    std::map<std::string, std::size_t> streams_;
    std::chrono::steady_clock::time_point this_user_until_ = {};
    std::atomic<bool> ending_{false};
    std::vector<std::thread> hands_;
    std::unique_ptr<Lobby> lobby_;
};

}  // namespace rushlight::desk
