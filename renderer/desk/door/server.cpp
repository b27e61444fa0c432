// The only file that sees the HTTP library.
#include "desk/door/server.h"

#include "desk/door/own_addresses.h"
#include "setup/text/where.h"

#include <httplib.h>

#include <algorithm>
#include <csignal>
#include <fstream>
#include <set>
#include <sstream>
#include <thread>

namespace rushlight::desk {

namespace {

constexpr std::size_t largest_body = std::size_t{1} << 20;
constexpr std::size_t threads = 2 * LiveLight::most_lookers + 8;  // streams wait on one each; so many are left
constexpr auto heartbeat = std::chrono::milliseconds(2000);

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

void refuse(httplib::Response& response, int status, const std::string& line) {
    response.status = status;
    response.set_content(JsonValue{{"message", line}}.dump(), "application/json");
}

void send(httplib::Response& response, const Answer& answer) {
    response.status = answer.status;
    if (!answer.body) return;
    // Pictures are large: they are sent from where they are.
    response.set_content_provider(answer.body->size(), answer.type,
                                  [body = answer.body](std::size_t at, std::size_t length, httplib::DataSink& sink) {
                                      return sink.write(body->data() + at, std::min<std::size_t>(length, 1 << 18));
                                  });
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

void use_address_alone(int socket) {
    // Not shared with another program, as the library would have it; but taken over from one that has just ended.
    const int yes = 1;
    ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
}

}  // namespace

struct Server::Http {
    httplib::Server server;
    std::thread thread;
    std::set<std::string> hosts;  // as the Host header may name us
};

Server::Server(Desk& desk, Options options)
    : desk_(desk), options_(std::move(options)), http_(std::make_unique<Http>()) {
    httplib::Server& s = http_->server;
    s.new_task_queue = [] { return new httplib::ThreadPool(threads); };
    s.set_payload_max_length(largest_body);
    s.set_tcp_nodelay(true);
    s.set_keep_alive_max_count(1000);
    s.set_keep_alive_timeout(2);
    s.set_read_timeout(5);
    s.set_write_timeout(5);
    s.set_socket_options(use_address_alone);
    s.set_default_headers({{"Cache-Control", "no-store"},
                           {"Content-Security-Policy",
                            "default-src 'self'; img-src 'self' blob: data:; base-uri 'none'; form-action 'self'; "
                            "frame-ancestors 'none'; object-src 'none'"},
                           {"Cross-Origin-Resource-Policy", "same-origin"},
                           {"Referrer-Policy", "no-referrer"},
                           {"X-Content-Type-Options", "nosniff"}});
    using Response = httplib::Server::HandlerResponse;
    s.set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
        if (request.method != "POST") {
            if (admit(&request, &response)) answer_look(&request, &response);
            return Response::Handled;
        }
        // A body of a bounded length is read even where it will be refused: the next request begins after it.
        return body_is_bounded(&request, &response) ? Response::Unhandled : Response::Handled;
    });
    s.Post("/api/[a-z]+", [this](const httplib::Request& request, httplib::Response& response) {
        if (!admit(&request, &response)) return;
        if (request.path == "/api/link") return send(response, answer({{"link", link()}}));
        send(response, desk_.answer({request.method, request.path, request.body, {}}, options_.shared));
    });
}

Server::~Server() {
    stop();
}

bool Server::body_is_bounded(const void* in, void* out) const {
    const auto& request = *static_cast<const httplib::Request*>(in);
    auto& response = *static_cast<httplib::Response*>(out);
    if (request.has_header("Transfer-Encoding") || request.has_header("Content-Encoding") ||
        request.get_header_value_count("Content-Length") != 1) {
        refuse(response, 411, "expected a body of stated length, as it is");
        return false;
    }
    const std::string length = request.get_header_value("Content-Length");
    const bool number = !length.empty() && length.find_first_not_of("0123456789") == std::string::npos;
    if (number && length.size() <= 7 && std::stoul(length) <= largest_body) return true;
    refuse(response, 413, "that is more than the desk reads at once: 1 MiB");
    return false;
}

/// Whether the request may be answered. Else it has been, with a refusal or by letting somebody in.
bool Server::admit(const void* in, void* out) {
    const auto& request = *static_cast<const httplib::Request*>(in);
    auto& response = *static_cast<httplib::Response*>(out);
    const auto refused = [&](int status, const std::string& line) {
        refuse(response, status, line);
        return false;
    };
    const std::string host = request.get_header_value("Host");
    if (request.get_header_value_count("Host") != 1 || http_->hosts.count(host) == 0)
        return refused(403, "this desk does not go by that name; use the link that the terminal shows");
    if (request.has_header("Origin") && request.get_header_value("Origin") != "http://" + host)
        return refused(403, "only the desk's own page may ask");
    const std::string from = request.get_header_value("Sec-Fetch-Site");
    const bool look = request.method == "GET";
    if (!from.empty() && from != "same-origin" && from != "none" && !(look && request.path == "/"))
        return refused(403, "only the desk's own page may ask");

    const std::string cookie_name = "rushlight_desk_" + std::to_string(port_);
    if (look && request.path == "/" && request.has_param("key")) {
        const std::string cookie = keys_.come_in(request.get_param_value("key"));
        if (!cookie.empty()) {
            response.set_header("Set-Cookie", cookie_name + "=" + cookie + "; HttpOnly; SameSite=Strict; Path=/");
            response.set_redirect("/", 303);
            return false;
        }
    }
    if (!keys_.knows(cookie_in(request.get_header_value("Cookie"), cookie_name))) {
        if (request.path.compare(0, 5, "/api/") == 0)
            return refused(401, "this page is not signed in; press Enter in the terminal for a fresh link");
        response.status = 401;
        response.set_content(how_to_come_in, "text/html");
        return false;
    }
    if (look) return true;
    if (options_.shared) return refused(403, "this is shared to be looked at, not to be changed");
    if (request.method != "POST") return refused(405, "expected GET or POST");
    if (request.get_header_value("Content-Type").compare(0, 16, "application/json") != 0)
        return refused(415, "expected application/json");
    return true;
}

void Server::answer_look(const void* in, void* out) {
    const auto& request = *static_cast<const httplib::Request*>(in);
    auto& response = *static_cast<httplib::Response*>(out);
    Request r{"GET", request.path, "", {}};
    for (const auto& [name, value] : request.params) r.query[name] = value;
    if (r.path.compare(0, 5, "/api/") != 0) return send(response, page_file(r.path));
    if (r.path != "/api/events") return send(response, desk_.answer(r, options_.shared));

    const auto open_page = desk_.join(r, options_.shared);
    if (!open_page) return refuse(response, 503, "no set-up file is open yet, or too many pages are open: close some");
    response.set_chunked_content_provider(
        "text/event-stream",
        [open_page](std::size_t, httplib::DataSink& sink) {
            const auto event = open_page->events->next(heartbeat);
            const std::string text = event ? *event : ": still here\n\n";
            if (!sink.write(text.data(), text.size())) return false;
            if (open_page->events->ended()) sink.done();
            return true;
        },
        [this, open_page](bool) { desk_.leave(open_page); });
}

Answer Server::page_file(const std::string& path) const {
    const std::string name = path == "/" ? "/index.html" : path;
    if (!options_.page.empty()) return page_file_from(options_.page, name);
    for (const PageFile& file : page_files())
        if (file.path == name) return {200, file.type, std::make_shared<const std::string>(file.bytes)};
    return refusal(404, "nothing is here");
}

void Server::start() {
    httplib::Server& s = http_->server;
    const std::string address = options_.shared ? "0.0.0.0" : "127.0.0.1";
    const bool bound =
        options_.port == 0 ? (port_ = s.bind_to_any_port(address)) > 0 : s.bind_to_port(address, port_ = options_.port);
    if (!bound)
        throw InputError("port " + std::to_string(options_.port) +
                         " is taken by another program (another desk?); choose one with --port, or leave it out");
    std::vector<std::string> names{"127.0.0.1", "localhost"};
    if (options_.shared) {
        names = own_addresses();
        names.push_back(own_name());
        names.push_back(own_name() + ".local");
        names.emplace_back("127.0.0.1");
    }
    for (const std::string& name : names) http_->hosts.insert(name + ":" + std::to_string(port_));
    std::signal(SIGPIPE, SIG_IGN);  // a page that was closed is no reason to end
    http_->thread = std::thread([&s] { s.listen_after_bind(); });
    while (!s.is_running()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
}

void Server::stop() {
    if (!http_->thread.joinable()) return;
    http_->server.stop();
    http_->thread.join();
}

std::string Server::link() {
    const std::vector<std::string> others = options_.shared ? own_addresses() : std::vector<std::string>{};
    const std::string host = others.empty() ? "127.0.0.1" : others.front();
    return "http://" + host + ":" + std::to_string(port_) + "/?key=" + keys_.link();
}

}  // namespace rushlight::desk
