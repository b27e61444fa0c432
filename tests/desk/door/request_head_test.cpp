// Heads of requests: what RFC 9112 and RFC 9110 allow is read, and what is not plainly one request is none.
#include "desk/door/request_head.h"

#include <gtest/gtest.h>

namespace rushlight::desk {
namespace {

int status_of(const std::string& bytes) {
    try {
        if (head_length(bytes) == 0) return 0;
        head_from(bytes);
        return 200;
    } catch (const NoRequest& no) {
        EXPECT_EQ(std::string(no.what()).find('\n'), std::string::npos);
        return no.status;
    }
}

TEST(RequestHead, SaysWhatIsAsked) {
    const std::string bytes =
        "GET /api/plan?setup=1%20wide&option=a+b&empty=&flag HTTP/1.1\r\nHost: 127.0.0.1:1\r\nACCEPT:\t*/*  \r\n"
        "Cookie: a=b\r\nCookie: c=d\r\n\r\nrest";
    EXPECT_EQ(head_length(bytes), bytes.size() - 4);
    const RequestHead head = head_from(bytes);
    EXPECT_EQ(head.method, "GET");
    EXPECT_EQ(head.path, "/api/plan");
    EXPECT_EQ(head.query.at("setup"), "1 wide");
    EXPECT_EQ(head.query.at("option"), "a b");
    EXPECT_EQ(head.query.at("empty"), "");
    EXPECT_EQ(head.query.at("flag"), "");
    EXPECT_EQ(head.field("accept"), "*/*");
    EXPECT_EQ(head.count("cookie"), 2U);
    EXPECT_TRUE(head.stays_open);
    EXPECT_FALSE(head_from("GET / HTTP/1.0\r\n\r\n").stays_open);
    EXPECT_FALSE(head_from("GET / HTTP/1.1\r\nConnection: Close\r\n\r\n").stays_open);
}

TEST(RequestHead, WhatIsNoRequestIsRefused) {
    const std::pair<const char*, int> all[] = {
        {"GET / HTTP/1.1\r\n", 0},
        {"GET / HTTP/1.1\n\n", 0},
        {"GET / HTTP/1.1\r\n\r\n", 200},
        {"\r\n\r\n", 400},
        {"GET  / HTTP/1.1\r\n\r\n", 505},
        {"GET /\r\n\r\n", 505},
        {"GET / HTTP/2.0\r\n\r\n", 505},
        {"GET / HTTP/1.1 \r\n\r\n", 505},
        {"G\x01T / HTTP/1.1\r\n\r\n", 400},
        {"GET http://127.0.0.1/ HTTP/1.1\r\n\r\n", 400},
        {"GET /%4 HTTP/1.1\r\n\r\n", 400},
        {"GET /%zz HTTP/1.1\r\n\r\n", 400},
        {"GET /\xff HTTP/1.1\r\n\r\n", 400},
        {"GET / HTTP/1.1\r\nHost\r\n\r\n", 400},
        {"GET / HTTP/1.1\r\nHost : a\r\n\r\n", 400},
        {"GET / HTTP/1.1\r\n: a\r\n\r\n", 400},
        {"GET / HTTP/1.1\r\nA: b\r\n folded\r\n\r\n", 400},  // RFC 9112, 5.2
        {"GET / HTTP/1.1\r\nA: b\nC: d\r\n\r\n", 400},
        {"GET / HTTP/1.1\r\nA: b\rC: d\r\n\r\n", 400},
    };
    for (const auto& [bytes, status] : all) EXPECT_EQ(status_of(bytes), status) << bytes;
    EXPECT_EQ(status_of(std::string("GET / HTTP/1.1\r\nA: b\0c\r\n\r\n", 26)), 400);
}

TEST(RequestHead, IsBounded) {
    std::string many = "GET / HTTP/1.1\r\n";
    for (std::size_t i = 0; i < most_fields; ++i) many += "a:b\r\n";
    EXPECT_EQ(status_of(many + "\r\n"), 200);
    EXPECT_EQ(status_of(many + "a:b\r\n\r\n"), 431);
    const std::string start = "GET / HTTP/1.1\r\nA: ", end = "\r\n\r\n";
    const std::string fill(most_head_bytes - start.size() - end.size(), 'x');
    EXPECT_EQ(status_of(start + fill + end), 200);
    EXPECT_EQ(status_of(start + fill + "x" + end), 431);
    EXPECT_EQ(status_of(start + std::string(most_head_bytes, 'x')), 431);  // without waiting for the end
}

}  // namespace
}  // namespace rushlight::desk
