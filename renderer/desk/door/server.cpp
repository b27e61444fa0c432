#include "desk/door/server.h"

#include "desk/door/own_addresses.h"
#include "desk/door/reply.h"
#include "setup/text/where.h"

#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <fstream>
#include <sstream>

namespace rushlight::desk {

namespace {

constexpr std::size_t largest_body = std::size_t{1} << 20;
constexpr std::size_t own_hands = 8, shared_hands = 4;  // threads beside those of streams
constexpr std::size_t own_at_once = 6, shared_at_once = 2, shared_streams_of_one = 4;
constexpr auto heartbeat = std::chrono::milliseconds(2000), look_up = std::chrono::milliseconds(200);
constexpr auto for_this_user = std::chrono::seconds(60);
constexpr const char* door_of_this_user = "/start";

constexpr const char* how_to_come_in =
    "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>rushlight desk</title>"
    "<p>This desk opens with a link that works once, and this one has been used or is not whole.</p>"
    "<p>Press Enter in the terminal where <b>rushlight desk</b> runs: it prints a fresh one.</p></html>";

std::string cookie_in(const std::string& header, const std::string& name) {
    std::istringstream all(header);
    for (std::string one; std::getline(all, one, ';');) {
        one.erase(0, one.find_first_not_of(' '));
        if (one.compare(0, name.size() + 1, name + "=") == 0) return one.substr(name.size() + 1);
    }
    return "";
}

Lobby::Said refused(int status, const std::string& line) {
    return {"", 0, last_reply(refusal(status, line))};
}

Lobby::Said not_signed_in(const std::string& path) {
    if (path.compare(0, 5, "/api/") == 0)
        return refused(401, "this page is not signed in; press Enter in the terminal for a fresh link");
    return {"", 0, last_reply({401, "text/html", std::make_shared<const std::string>(how_to_come_in)})};
}

/// Whether a body may come, and how long it is. What is sent away is sent away unread.
Lobby::Said with_body(const RequestHead& head, const std::string& viewer) {
    if (head.has("transfer-encoding") || head.has("content-encoding") || head.count("content-length") != 1)
        return refused(411, "expected a body of stated length, as it is");
    const std::string length = head.field("content-length");
    const bool number = !length.empty() && length.find_first_not_of("0123456789") == std::string::npos;
    if (!number || length.size() > 7 || std::stoul(length) > largest_body)
        return refused(413, "that is more than the desk reads at once: 1 MiB");
    return {viewer, std::stoul(length), ""};
}

/// For those who work on the page: from where it was built last.
Answer page_file_from(const std::string& folder, const std::string& name) {
    const std::string ending = name.substr(std::min(name.size(), name.rfind('.') + 1));
    const std::string type = ending == "js"    ? "text/javascript"
                             : ending == "css" ? "text/css"
                             : ending == "svg" ? "image/svg+xml"
                                               : "text/html";
    std::ifstream in(folder + name, std::ios::binary);
    if (!in || name.find("..") != std::string::npos) return refusal(404, "nothing is here");
    std::ostringstream bytes;
    bytes << in.rdbuf();
    return {200, type + "; charset=utf-8", std::make_shared<const std::string>(bytes.str())};
}

}  // namespace

Server::Server(Desk& desk, Options options)
    : desk_(desk), options_(std::move(options)), turns_(options_.shared ? shared_at_once : own_at_once) {}

Server::~Server() {
    stop();
}

std::size_t Server::most_streams_of_one() const {
    return options_.shared ? shared_streams_of_one : LiveLight::most_lookers;
}

/// Whether the request may be answered. Called before a byte of its body is read.
Lobby::Said Server::said_to(const RequestHead& head, const Socket& from) {
    const std::string host = head.field("host");
    if (head.count("host") != 1 || hosts_.count(host) == 0)
        return refused(403, "this desk does not go by that name; use the link that the terminal shows");
    if (head.has("origin") && head.field("origin") != "http://" + host)
        return refused(403, "only the desk's own page may ask");
    const std::string asked_from = head.field("sec-fetch-site");
    const bool look = head.method == "GET";
    if (!asked_from.empty() && asked_from != "same-origin" && asked_from != "none" && !(look && head.path == "/"))
        return refused(403, "only the desk's own page may ask");

    if (look && head.path == "/" && head.query.count("key") > 0)
        if (const std::string cookie = keys_.come_in(head.query.at("key")); !cookie.empty()) return let_in(cookie);
    if (look && head.path == door_of_this_user && comes_from_this_user(head, from)) return let_in(keys_.cookie());
    const std::string viewer = cookie_in(head.field("cookie"), cookie_name_);
    if (!keys_.knows(viewer)) return not_signed_in(head.path);
    if (look) {
        if (head.has("transfer-encoding") || (head.has("content-length") && head.field("content-length") != "0"))
            return refused(400, "a look comes without a body");
        return {viewer, 0, ""};
    }
    if (options_.shared) return refused(403, "this is shared to be looked at, not to be changed");
    if (head.method != "POST") return refused(405, "expected GET or POST");
    if (head.field("content-type").compare(0, 16, "application/json") != 0)
        return refused(415, "expected application/json");
    return with_body(head, viewer);
}

Lobby::Said Server::let_in(const std::string& cookie) const {
    return {"", 0,
            last_reply({303, "text/plain", nullptr}, "Location: /\r\nSet-Cookie: " + cookie_name_ + "=" + cookie +
                                                         "; HttpOnly; SameSite=Strict; Path=/\r\n")};
}

std::string Server::address_for_this_user() {
    const std::lock_guard lock(mutex_);
    this_user_until_ = std::chrono::steady_clock::now() + for_this_user;
    return "http://127.0.0.1:" + std::to_string(port_) + door_of_this_user;
}

bool Server::comes_from_this_user(const RequestHead& head, const Socket& from) {
    // Another page may send the browser here, too, but not in its own name.
    const std::string asked_from = head.field("sec-fetch-site");
    const std::lock_guard lock(mutex_);
    if (options_.shared || std::chrono::steady_clock::now() > this_user_until_ ||
        (!asked_from.empty() && asked_from != "none"))
        return false;
    if (user_at(from) != std::optional<unsigned>(::geteuid())) return false;
    this_user_until_ = {};
    return true;
}

void Server::serve_all() {
    while (std::optional<Call> call = turns_.next()) {
        const std::string viewer = call->from->viewer;
        if (call->head.method == "GET" && call->head.path == "/api/events") {
            turns_.done(viewer);  // it lasts, and is counted among the streams
            stream(std::move(*call));
        } else {
            serve(std::move(*call));
            turns_.done(viewer);
        }
    }
}

void Server::serve(Call call) {
    try {
        const Answer answer = answer_to(call);
        const bool stays = call.head.stays_open;
        if (!send_all(call.from->socket, reply_head(answer, stays))) return;
        if (answer.body && !send_all(call.from->socket, *answer.body)) return;
        if (stays) lobby_->wait_again(std::move(call.from));
    } catch (const std::exception&) {  // no memory even for a refusal: the line is cut
    }
}

Answer Server::answer_to(const Call& call) {
    const RequestHead& head = call.head;
    const bool look = head.method == "GET";
    if (look && head.path.compare(0, 5, "/api/") != 0) return page_file(head.path);
    if (!look && head.path == "/api/link") return answer({{"link", link()}});
    Request request{head.method, head.path, call.body, {}};
    if (look) request.query = head.query;
    return desk_.answer(request, options_.shared);
}

/// Counts a stream of this viewer, if there may be one more. A page that went on to another view has just closed its
/// last one, which is noticed within a moment.
bool Server::begin_stream(const std::string& viewer) {
    for (int tries = 0; tries < 3; ++tries) {
        if (tries > 0) std::this_thread::sleep_for(look_up);
        const std::lock_guard lock(mutex_);
        std::size_t& open = streams_[viewer];
        if (open >= most_streams_of_one()) continue;
        ++open;
        return true;
    }
    return false;
}

void Server::stream(Call call) {
    const std::string viewer = call.from->viewer;
    const Socket& to = call.from->socket;
    const auto too_many = [&] {
        send_all(to, last_reply(refusal(503, "no set-up file is open yet, or too many pages are open: close some")));
    };
    if (!begin_stream(viewer)) return too_many();
    std::shared_ptr<OpenPage> open_page;
    try {
        open_page = desk_.join({"GET", call.head.path, "", call.head.query}, options_.shared);
        if (!open_page) too_many();
        auto told = std::chrono::steady_clock::now();
        for (bool goes = open_page && send_all(to, stream_head()); goes && !ending_ && !open_page->events->ended();) {
            const auto event = open_page->events->next(look_up);
            const auto now = std::chrono::steady_clock::now();
            if (event)
                goes = send_all(to, *event), told = now;
            else if (now - told >= heartbeat)
                goes = send_all(to, ": still here\n\n"), told = now;
            goes = goes && !hung_up(to);
        }
    } catch (const std::exception&) {  // no memory for it: the page asks again
    }
    if (open_page) desk_.leave(open_page);
    const std::lock_guard lock(mutex_);
    if (--streams_[viewer] == 0) streams_.erase(viewer);
}

Answer Server::page_file(const std::string& path) const {
    const std::string name = path == "/" ? "/index.html" : path;
    if (!options_.page.empty()) return page_file_from(options_.page, name);
    for (const PageFile& file : page_files())
        if (file.path == name) return {200, file.type, std::make_shared<const std::string>(file.bytes)};
    return refusal(404, "nothing is here");
}

void Server::start() {
    port_ = options_.port;
    auto listening = listening_at(options_.shared ? "0.0.0.0" : "127.0.0.1", port_);
    if (!listening)
        throw InputError("port " + std::to_string(options_.port) +
                         " is taken by another program (another desk?); choose one with --port, or leave it out");
    cookie_name_ = "rushlight_desk_" + std::to_string(port_);
    std::vector<std::string> names{"127.0.0.1", "localhost"};
    if (options_.shared) {
        names = own_addresses();
        names.push_back(own_name());
        names.push_back(own_name() + ".local");
        names.emplace_back("127.0.0.1");
    }
    for (const std::string& name : names) hosts_.insert(name + ":" + std::to_string(port_));
    std::signal(SIGPIPE, SIG_IGN);  // a terminal that was closed is no reason to end
    lobby_ = std::make_unique<Lobby>(
        std::move(*listening), [this](const RequestHead& head, const Socket& from) { return said_to(head, from); },
        [](int status, const std::string& line) { return last_reply(refusal(status, line)); },
        [this](Call call) {
            if (!turns_.add(call))
                send_at_once(call.from->socket, last_reply(refusal(503, "too many requests are waiting; ask again")));
        });
    const std::size_t hands =
        options_.shared ? shared_hands + LiveLight::most_shared_lookers : own_hands + LiveLight::most_lookers;
    for (std::size_t i = 0; i < hands; ++i) hands_.emplace_back([this] { serve_all(); });
}

void Server::stop() {
    ending_ = true;
    if (lobby_) lobby_->end();
    turns_.end();
    for (std::thread& hand : hands_) hand.join();
    hands_.clear();
}

std::string Server::link() {
    const std::vector<std::string> others = options_.shared ? own_addresses() : std::vector<std::string>{};
    const std::string host = others.empty() ? "127.0.0.1" : others.front();
    return "http://" + host + ":" + std::to_string(port_) + "/?key=" + keys_.link();
}

}  // namespace rushlight::desk
