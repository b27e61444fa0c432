// Lengths that come from outside never reach into memory: a Range header is answered with the whole answer.
#include "desk/desk_scratch.h"
#include "desk/door/visit.h"

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;

/// Every form that a Range header may take (RFC 9110, 14.1.2), sound or not.
std::vector<std::string> every_range() {
    std::vector<std::string> all{
        "bytes=0-0", "bytes=0-",     "bytes=-1",      "bytes=-0",          "bytes=5-1",     "bytes=",    "bytes=-",
        "bytes",     "lines=0-5",    "bytes=0-1,3-4", "bytes=0-,0-",       "bytes=-5,0-99", "bytes=a-b", "bytes=1-b",
        "bytes=--5", "bytes=0x0-ff", "bytes= 0 - 9",  "bytes=0-99999,-1,", "bytes=1e9-2e9"};
    for (const char* far : {"99999", "1000000", "4294967296", "35184372088832", "9223372036854775807",
                            "9223372036854775808", "18446744073709551615", "18446744073709551616"})
        for (const std::string& form : {"bytes=0-" + std::string(far), "bytes=" + std::string(far) + "-",
                                        "bytes=-" + std::string(far), "bytes=" + std::string(far) + "-" + far,
                                        "bytes=0-1," + std::string(far) + "-" + far, "bytes=1-0,-" + std::string(far)})
            all.push_back(form);
    std::string many = "bytes=0-1";
    for (int i = 0; i < 500; ++i) many += "," + std::to_string(i) + "-" + std::to_string(i * 1000);
    all.push_back(many);
    return all;
}

TEST(Ranges, PastTheEndOfAnAnswerGiveNoMemoryAway) {
    const Scratch scratch;
    Desk desk(scratch.file());
    for (const bool shared : {false, true}) {
        Visit visit(desk, shared);
        visit.client.set_keep_alive(true);
        for (const std::string path : {"/", "/index.html", "/api/state", "/api/plan?setup=as%20found",
                                       "/api/plan?setup=none", "/api/colour?setup=as%20found", "/api/picture/1",
                                       "/api/picture/18446744073709551616", "/api/nothing", "/nothing"}) {
            const auto plain = visit.client.Get(path, visit.headers());
            ASSERT_TRUE(plain) << path;
            EXPECT_FALSE(plain->body.empty()) << path;
            for (const std::string& range : every_range()) {
                const auto r = visit.client.Get(path, visit.headers({{"Range", range}}));
                ASSERT_TRUE(r) << path << " " << range;
                EXPECT_EQ(r->status, plain->status) << path << " " << range;
                EXPECT_EQ(r->body, plain->body) << path << " " << range;
                EXPECT_FALSE(r->has_header("Content-Range")) << path << " " << range;
            }
        }
        for (const char* path : {"/api/undo", "/api/edit", "/api/nothing"}) {
            const auto plain = visit.post(path, "{\"base\":99,\"edits\":[]}");
            for (const std::string& range : every_range()) {
                const auto r = visit.post(path, "{\"base\":99,\"edits\":[]}", {{"Range", range}});
                EXPECT_EQ(r->status, plain->status) << path << " " << range;
                EXPECT_EQ(r->body, plain->body) << path << " " << range;
            }
        }
        // A picture of a meter's sphere takes a second each, and a stream does not end by itself.
        const auto sphere =
            visit.client.Get("/api/sphere?setup=as%20found&mark=middle", visit.headers({{"Range", "bytes=0-9999999"}}));
        EXPECT_EQ(sphere->status, 200);
        EXPECT_EQ(sphere->body.substr(1, 3), "PNG");
        EXPECT_EQ(sphere->body.substr(sphere->body.size() - 8, 4), "IEND");
        Wire stream(visit.server.port());
        stream.send("GET /api/events?view=none HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(visit.server.port()) +
                    "\r\nCookie: " + visit.cookie + "\r\nRange: bytes=0-9999999\r\n\r\n");
        const std::string heard = stream.hear(0.3);
        EXPECT_EQ(heard.compare(0, 15, "HTTP/1.1 200 OK"), 0) << heard;
        EXPECT_NE(heard.find("event: state"), std::string::npos) << heard;
    }
}

/// Numbers of an address and of a message are brought within bounds, or refused in a line.
TEST(Ranges, NumbersFromOutsideAreBounded) {
    const Scratch scratch;
    Desk desk(scratch.file());
    Visit visit(desk);
    for (const std::string number :
         {"-1", "1e300", "-1e300", "nan", "inf", "1e-320", "99999999999999999999", "0x10", "", "x"}) {
        for (const std::string& path :
             {"/api/reading?u=" + number + "&v=0.5", "/api/reading?u=0.5&v=" + number,
              "/api/reading?x=" + number + "&y=1&height=1", "/api/reading?x=1&y=1&height=" + number}) {
            const int status = visit.get(path);
            EXPECT_TRUE(status == 200 || status == 422) << path << " " << status;
        }
        EXPECT_EQ(visit.get("/api/picture/" + number), 404);
        Wire stream(visit.server.port());
        stream.send("GET /api/events?view=map&width=" + number + "&height=" + number + " HTTP/1.1\r\nHost: 127.0.0.1:" +
                    std::to_string(visit.server.port()) + "\r\nCookie: " + visit.cookie + "\r\n\r\n");
        EXPECT_EQ(stream.hear(0.05).compare(0, 12, "HTTP/1.1 200"), 0) << number;
    }
    for (const char* base :
         {"-1", "1.5", "1e300", "18446744073709551615", "18446744073709551616", "\"1\"", "null", "[1]"}) {
        const auto r = visit.post("/api/undo", std::string("{\"base\":") + base + "}");
        EXPECT_TRUE(r->status == 409 || r->status == 422) << base << " " << r->status;
    }
    EXPECT_EQ(scratch.text(), testing_desk::small_place);
}

}  // namespace
}  // namespace rushlight::desk
