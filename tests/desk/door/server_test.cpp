// The door of the desk: who may come in, what is turned away, and that nobody can block it.
#include "desk/door/server.h"

#include "desk/desk_scratch.h"
#include "desk/door/visit.h"
#include "setup/text/where.h"

#include <httplib.h>

#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <thread>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;
using testing_desk::small_place;

std::string edit_of_level(std::uint64_t base, const std::string& level) {
    return JsonValue{{"base", base},
                     {"setup", "as found"},
                     {"option", "as found"},
                     {"coalesce", nullptr},
                     {"edits", {{{"kind", "lamp"}, {"name", "key"}, {"key", "level"}, {"value", level}}}}}
        .dump();
}

TEST(Server, ALinkWorksOnce) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    const std::string link = visit.server.link();
    const std::string path = link.substr(link.find("/?"));
    EXPECT_EQ(visit.client.Get(path)->status, 303);
    EXPECT_EQ(visit.client.Get(path)->status, 401);
    EXPECT_EQ(visit.client.Get("/?key=0123456789abcdef0123456789abcdef")->status, 401);
    EXPECT_EQ(visit.client.Get("/")->status, 401);
    EXPECT_EQ(visit.client.Get("/api/state")->status, 401);
    EXPECT_EQ(visit.client.Get("/api/state", {{"Cookie", visit.cookie + "0"}})->status, 401);
    EXPECT_EQ(visit.get("/api/state"), 200);
    EXPECT_EQ(visit.get("/"), 200);
}

/// The address that a browser is started with holds no secret: who asks is known by the system's own account.
TEST(Server, OnlyThisUserComesInWithoutAKeyAndOnce) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    const auto start = [&](const httplib::Headers& more = {}) { return visit.client.Get("/start", more)->status; };
    EXPECT_EQ(start(), 401);  // nobody was asked to come
    const std::string address = visit.server.address_for_this_user();
    EXPECT_EQ(address.substr(address.rfind('/')), "/start");
    EXPECT_EQ(start({{"Sec-Fetch-Site", "cross-site"}}), 403);  // sent by another page
    if (::geteuid() == 0) {
        const pid_t other = ::fork();
        if (other == 0) {
            constexpr uid_t nobody = 65534;
            httplib::Client client("127.0.0.1", visit.server.port());
            ::_exit(::setuid(nobody) == 0 && client.Get("/start")->status == 401 ? 0 : 1);
        }
        int status = -1;
        ::waitpid(other, &status, 0);
        EXPECT_EQ(status, 0);
    }
    EXPECT_EQ(start({{"Sec-Fetch-Site", "none"}}), 303);
    EXPECT_EQ(start(), 401);
    Visit guest(desk, true);
    guest.server.address_for_this_user();
    EXPECT_EQ(guest.client.Get("/start")->status, 401);
}

TEST(Server, OtherNamesAndOtherPagesAreTurnedAway) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    const std::string port = ":" + std::to_string(visit.server.port());
    EXPECT_EQ(visit.get("/api/state", {{"Host", "localhost" + port}}), 200);
    for (const std::string& host :
         {"example.org" + port, std::string("127.0.0.1"), "127.0.0.1:1" + port, std::string()})
        EXPECT_EQ(visit.get("/api/state", {{"Host", host}}), 403) << host;
    EXPECT_EQ(visit.get("/api/state", {{"Origin", "http://127.0.0.1" + port}}), 200);
    for (const std::string& origin : {std::string("http://example.org"), std::string("null"),
                                      "https://127.0.0.1" + port, "http://localhost" + port})
        EXPECT_EQ(visit.get("/api/state", {{"Origin", origin}}), 403) << origin;
    EXPECT_EQ(visit.get("/api/state", {{"Sec-Fetch-Site", "cross-site"}}), 403);
    EXPECT_EQ(visit.get("/api/state", {{"Sec-Fetch-Site", "same-origin"}}), 200);
    // Nor may they change anything.
    EXPECT_EQ(visit.post("/api/edit", edit_of_level(1, "10%"), {{"Origin", "http://example.org"}})->status, 403);
    EXPECT_EQ(visit.post("/api/edit", edit_of_level(1, "10%"), {}, "text/plain")->status, 415);
    EXPECT_EQ(scratch.text(), small_place);
    const auto page = visit.client.Get("/", visit.headers());
    EXPECT_NE(page->get_header_value("Content-Security-Policy").find("default-src 'self'"), std::string::npos);
    EXPECT_EQ(page->get_header_value("X-Content-Type-Options"), "nosniff");
}

TEST(Server, BodiesAreBoundedAndSound) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    // Turned away unread: the answer comes while the client still writes, or the line is cut.
    const auto large = visit.post("/api/edit", std::string((1 << 20) + 1, ' '));
    EXPECT_TRUE(!large || large->status == 413);
    EXPECT_EQ(visit.post("/api/edit", "{", {{"Content-Encoding", "gzip"}})->status, 411);
    const auto chunked = visit.client.Post(
        "/api/edit", visit.headers(),
        [](std::size_t, httplib::DataSink& sink) {
            sink.write("{}", 2);
            sink.done();
            return true;
        },
        "application/json");
    EXPECT_TRUE(!chunked || chunked->status == 411);
    for (const char* body :
         {"", "{", "[]", "7", "{\"base\":1}", "{\"base\":\"x\",\"edits\":[{}]}",
          "{\"base\":1,\"edits\":[{\"kind\":\"lamp\",\"name\":\"key\",\"key\":\"level\",\"value\":7}]}"}) {
        const auto r = visit.post("/api/edit", body);
        ASSERT_TRUE(r) << body;
        EXPECT_TRUE(r->status == 422 || r->status == 409) << body << r->status << r->body;
        const JsonValue said = JsonValue::parse(r->body);
        EXPECT_EQ(said["message"].get<std::string>().find('\n'), std::string::npos);
    }
    // Many are told as many.
    JsonValue many{{"base", 1}, {"edits", JsonValue::array()}};
    for (int i = 0; i < 1001; ++i)
        many["edits"].push_back({{"kind", "lamp"}, {"name", "key"}, {"key", "level"}, {"value", "9%"}});
    const auto told = visit.post("/api/edit", many.dump());
    EXPECT_EQ(told->status, 422);
    EXPECT_NE(told->body.find("1001 edits at once; expected no more than 1000"), std::string::npos) << told->body;
    // However deep: no more than a refusal.
    EXPECT_EQ(visit.post("/api/edit", "{\"edits\":" + std::string(500000, '['))->status, 422);
    EXPECT_EQ(scratch.text(), small_place);
    EXPECT_EQ(visit.get("/api/nothing"), 404);
    EXPECT_EQ(visit.get("/../etc/passwd"), 404);
    EXPECT_EQ(visit.client.Delete("/api/edit", visit.headers())->status, 405);
}

TEST(Server, AnEditIsInTheFileWhenItIsAnswered) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    const auto r = visit.post("/api/edit", edit_of_level(1, "25%"));
    ASSERT_EQ(r->status, 200) << r->body;
    EXPECT_EQ(JsonValue::parse(r->body)["wrote"], "file");
    EXPECT_NE(scratch.text().find("level = \"25%\"  # half"), std::string::npos);
    EXPECT_EQ(visit.post("/api/edit", edit_of_level(1, "30%"))->status, 409);  // seen before that
    EXPECT_EQ(visit.post("/api/edit", edit_of_level(2, "300%"))->status, 422);
    EXPECT_EQ(visit.post("/api/undo", "{\"base\":2}")->status, 200);
    EXPECT_EQ(scratch.text(), small_place);
    const JsonValue plan = JsonValue::parse(visit.client.Get("/api/plan?setup=as%20found", visit.headers())->body);
    EXPECT_EQ(plan["things"].size(), 5U);
    const JsonValue reading =
        JsonValue::parse(visit.client.Get("/api/reading?setup=as%20found&x=2&y=1&height=0.8", visit.headers())->body);
    EXPECT_GT(reading["lux"].get<double>(), 0);
}

TEST(Server, WhatIsSharedIsOnlyLookedAt) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk, true);
    EXPECT_EQ(visit.get("/api/state"), 200);
    EXPECT_TRUE(JsonValue::parse(visit.client.Get("/api/state", visit.headers())->body)["read_only"].get<bool>());
    for (const char* path : {"/api/edit", "/api/undo", "/api/redo", "/api/new", "/api/link", "/api/reading"})
        EXPECT_EQ(visit.post(path, edit_of_level(1, "10%"))->status, 403) << path;
    EXPECT_EQ(visit.get("/api/reading?setup=as%20found&x=2&y=1&height=0.8"), 200);
    EXPECT_EQ(scratch.text(), small_place);
}

TEST(Server, APortIsNotSharedWithAnotherDesk) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    Server second(desk, {false, visit.server.port(), ""});
    EXPECT_THROW(second.start(), InputError);
}

TEST(Server, StreamsDoNotBlockTheDoor) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    std::atomic<int> told{0};
    std::atomic<bool> over{false};
    std::vector<std::thread> pages;
    for (std::size_t i = 0; i < LiveLight::most_lookers; ++i)
        pages.emplace_back([&] {
            httplib::Client page("127.0.0.1", visit.server.port());
            page.set_read_timeout(20);
            bool first = true;
            page.Get("/api/events?setup=as%20found&view=none", visit.headers(), [&](const char*, std::size_t) {
                if (first) ++told;
                first = false;
                return !over;
            });
        });
    for (int i = 0; i < 1000 && told < static_cast<int>(LiveLight::most_lookers); ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    EXPECT_EQ(told, static_cast<int>(LiveLight::most_lookers));
    EXPECT_EQ(visit.get("/api/state"), 200);
    EXPECT_EQ(visit.get("/api/events?setup=as%20found&view=none"), 503);
    over = true;
    desk.end();
    for (std::thread& p : pages) p.join();
}

TEST(Server, WithoutAFileANewPlaceIsMade) {
    const Scratch scratch;
    const auto before = std::filesystem::current_path();
    std::filesystem::current_path(scratch.folder);
    {
        Desk desk(std::nullopt);
        Visit visit(desk);
        EXPECT_EQ(JsonValue::parse(visit.client.Get("/api/state", visit.headers())->body)["file"], "");
        EXPECT_EQ(visit.get("/api/plan"), 409);
        const auto refused = visit.post("/api/new", "{\"room\":{\"width\":-3}}");
        EXPECT_EQ(refused->status, 422) << refused->body;
        EXPECT_EQ(scratch.files(), 1U);
        const auto made = visit.post(
            "/api/new",
            R"({"room":{"width":5.2,"depth":4,"height":2.6},"windows":[{"wall":"near","from":1,"to":2.5,"sill":0.9,"head":2.1}],
                "marks":[{"name":"A","at":[2,2],"facing":"B"},{"name":"B","at":[3.2,2],"facing":"A"}],
                "lamp":{"shape":"box","at":[1,3,2],"aim":"A","output":"2000 lm"}})");
        ASSERT_EQ(made->status, 200) << made->body;
        const std::string name = JsonValue::parse(made->body)["file"];
        const rushlight::Setup setup = SetupFile::read(name).setup();
        EXPECT_EQ(setup.rig.marks.size(), 2U);
        EXPECT_EQ(setup.rig.lamps.size(), 1U);
        EXPECT_EQ(setup.place.room.openings.size(), 1U);
        EXPECT_EQ(visit.get("/api/plan?setup=as%20found"), 200);
        EXPECT_EQ(visit.post("/api/new", "{}")->status, 409);
    }
    std::filesystem::current_path(before);
}

}  // namespace
}  // namespace rushlight::desk
