// The desk over HTTP. The page on this machine may change the file; a shared one may only look.
#pragma once

#include "desk/desk.h"
#include "desk/door/keys.h"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight::desk {

/// A file of the page, as it is sent.
struct PageFile {
    std::string path, type;
    std::string_view bytes;
};
/// What was built into the program.
std::vector<PageFile> page_files();

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

private:
    struct Http;
    // The library's request and response, which no other file is to see.
    bool body_is_bounded(const void* request, void* response) const;
    bool admit(const void* request, void* response);
    void answer_look(const void* request, void* response);
    Answer page_file(const std::string& path) const;

    Desk& desk_;
    Options options_;
    Keys keys_;
    int port_ = 0;
    std::unique_ptr<Http> http_;
};

}  // namespace rushlight::desk
