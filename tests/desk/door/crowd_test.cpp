// Many at the door, slow ones, and ones without end: whoever has the key still comes in, and the owner first.
#include "desk/desk_scratch.h"
#include "desk/door/visit.h"
#include "paths/work/effort.h"
#include "sanitized.h"

#include <malloc.h>

#include <atomic>
#include <fstream>
#include <thread>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;

double resident_megabytes() {
    ::malloc_trim(0);
    std::ifstream statm("/proc/self/statm");
    double pages = 0, resident = 0;
    statm >> pages >> resident;
    return resident * 4096 / (1 << 20);
}

std::string ask(const Visit& visit, const std::string& path) {
    return "GET " + path + " HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(visit.server.port()) +
           "\r\nCookie: " + visit.cookie + "\r\n\r\n";
}

/// The longest of some answers; s.
double slowest_answer(Visit& visit, int count = 20) {
    double slowest = 0;
    for (int i = 0; i < count; ++i) {
        const Clock clock;
        EXPECT_EQ(visit.get("/api/state"), 200);
        slowest = std::max(slowest, clock.seconds());
    }
    return slowest;
}

constexpr double slowdown = sanitized ? 10 : 1;
constexpr double soon = 1.5 * slowdown;  // s: a blink, on a machine that others use, too

TEST(Crowd, HeaderLinesWithoutEndTakeNoMemory) {
    const Scratch scratch;
    Desk desk(scratch.file());
    for (const bool shared : {false, true}) {
        Visit visit(desk, shared);
        visit.get("/api/state");
        const double before = resident_megabytes();
        for (const char* line : {"X-Again: and again, and never an end\r\n", "x", "a:b\r\n", "\r", "\n"}) {
            Wire wire(visit.server.port());
            wire.send("GET / HTTP/1.1\r\n");
            std::string piece;
            while (piece.size() < 65536) piece += line;
            std::size_t sent = 0;
            while (sent < (std::size_t{64} << 20) && wire.send(piece)) sent += piece.size();
            EXPECT_LT(sent, std::size_t{16} << 20) << line;  // what lies in the system's own buffers
        }
        EXPECT_LT(resident_megabytes() - before, 8 * slowdown);
        EXPECT_EQ(visit.get("/api/state"), 200);
    }
}

TEST(Crowd, SlowStrangersAreDroppedAndDoNotShutTheDoor) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit own(desk), guest(desk, true);
    std::vector<Wire> slow;
    for (int i = 0; i < 200; ++i)
        for (const Visit* at : {&own, &guest}) {
            slow.emplace_back(at->server.port());
            slow.back().send(i % 2 == 0 ? "GET / HTTP/1.1\r\nA" : "");
        }
    std::atomic<bool> over{false};
    std::thread drip([&] {
        while (!over) {
            for (Wire& wire : slow) wire.send("a");
            std::this_thread::sleep_for(std::chrono::milliseconds(100));
        }
    });
    for (Visit* at : {&own, &guest}) {
        EXPECT_LT(slowest_answer(*at), soon);
        // Somebody new comes in, too.
        const std::string link = at->server.link();
        httplib::Client fresh("127.0.0.1", at->server.port());
        EXPECT_EQ(fresh.Get(link.substr(link.find("/?")))->status, 303);
    }
    std::this_thread::sleep_for(Lobby::to_send_a_head);
    over = true;
    drip.join();
    for (Wire& wire : slow) EXPECT_TRUE(wire.closed(1));
}

TEST(Crowd, ABodyOfAStrangerIsNotWaitedFor) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    std::vector<Wire> slow;
    for (int i = 0; i < 100; ++i) {
        slow.emplace_back(visit.server.port());
        slow.back().send("POST /api/edit HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(visit.server.port()) +
                         "\r\nContent-Type: application/json\r\nContent-Length: 1000000\r\n\r\n{");
    }
    EXPECT_EQ(slow.back().hear(2).compare(0, 12, "HTTP/1.1 401"), 0);
    EXPECT_LT(slowest_answer(visit), soon);
}

TEST(Crowd, ManyIdleConnectionsOfAViewerLeaveRoomForAnother) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit greedy(desk, true);
    const std::string link = greedy.server.link();
    httplib::Client other("127.0.0.1", greedy.server.port());
    const std::string set = other.Get(link.substr(link.find("/?")))->get_header_value("Set-Cookie");
    std::vector<Wire> idle;
    for (int i = 0; i < 150; ++i) {
        idle.emplace_back(greedy.server.port());
        idle.back().send(ask(greedy, "/api/state"));
    }
    const Clock clock;
    for (int i = 0; i < 5; ++i)
        EXPECT_EQ(other.Get("/api/state", {{"Cookie", set.substr(0, set.find(';'))}})->status, 200);
    EXPECT_LT(clock.seconds(), soon);
}

TEST(Crowd, StreamsOfOneViewerDoNotLockTheOwnerOut) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit own(desk), guest(desk, true);
    std::vector<Wire> streams;
    for (int i = 0; i < 16; ++i) {
        streams.emplace_back(guest.server.port());
        streams.back().send(ask(guest, "/api/events?view=none"));
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(700));  // for a place that comes free
    std::size_t open = 0;
    for (Wire& stream : streams) open += stream.hear(0.1).compare(0, 12, "HTTP/1.1 200") == 0 ? 1 : 0;
    EXPECT_EQ(open, guest.server.most_streams_of_one());
    // Another guest, and the owner.
    const std::string link = guest.server.link();
    httplib::Client other("127.0.0.1", guest.server.port());
    const std::string set = other.Get(link.substr(link.find("/?")))->get_header_value("Set-Cookie");
    Wire of_other(guest.server.port());
    of_other.send("GET /api/events?view=none HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(guest.server.port()) +
                  "\r\nCookie: " + set.substr(0, set.find(';')) + "\r\n\r\n");
    EXPECT_EQ(of_other.hear(0.5).compare(0, 12, "HTTP/1.1 200"), 0);
    Wire of_owner(own.server.port());
    of_owner.send(ask(own, "/api/events?view=none"));
    EXPECT_EQ(of_owner.hear(0.5).compare(0, 12, "HTTP/1.1 200"), 0);
    EXPECT_LT(slowest_answer(own), soon);
    // A page that goes on to another view closes one and opens one.
    streams.clear();
    for (std::size_t i = 0; i < guest.server.most_streams_of_one(); ++i) {
        streams.emplace_back(guest.server.port());
        streams.back().send(ask(guest, "/api/events?view=none"));
    }
    for (Wire& stream : streams) EXPECT_EQ(stream.hear(0.5).compare(0, 12, "HTTP/1.1 200"), 0);
}

TEST(Crowd, AViewerWhoDoesNotReadIsDropped) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk, true);
    const std::string link = visit.server.link();
    httplib::Client other("127.0.0.1", visit.server.port());
    const std::string set = other.Get(link.substr(link.find("/?")))->get_header_value("Set-Cookie");
    const std::vector<PageFile> files = page_files();
    const PageFile& largest = *std::max_element(
        files.begin(), files.end(), [](const auto& a, const auto& b) { return a.bytes.size() < b.bytes.size(); });
    if (largest.bytes.size() < 10'000) GTEST_SKIP() << "this was built without the page";
    const std::size_t more_than_the_system_keeps = (std::size_t{16} << 20) / largest.bytes.size();
    std::vector<Wire> deaf;
    for (int i = 0; i < 4; ++i) {
        deaf.emplace_back(visit.server.port(), 4096);
        std::string many;
        for (std::size_t n = 0; n < more_than_the_system_keeps; ++n) many += ask(visit, largest.path);
        deaf.back().send(many);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(300));
    const Clock clock;
    for (int i = 0; i < 5; ++i)
        EXPECT_EQ(other.Get("/api/state", {{"Cookie", set.substr(0, set.find(';'))}})->status, 200);
    EXPECT_LT(clock.seconds(), soon);
    // Those that had a hand at work on them lose it within seconds; the others follow when it is their turn.
    std::this_thread::sleep_for(std::chrono::seconds(slowest_seconds));
    int dropped = 0;
    for (Wire& wire : deaf) dropped += wire.closed(0.3) ? 1 : 0;
    EXPECT_GE(dropped, 2);
}

}  // namespace
}  // namespace rushlight::desk
