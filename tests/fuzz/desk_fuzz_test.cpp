// What pages send to the desk, made by its form: edits as JSON and requests as HTTP, with hard values in every place.
// Seeds are fixed. An answer that takes ten seconds or a gigabyte is a fault, too.
#include "desk/desk_scratch.h"
#include "desk/door/visit.h"
#include "fuzz/entry_points.h"
#include "paths/work/effort.h"
#include "pictures/words/json_value.h"

#include <gtest/gtest.h>

#include <fstream>
#include <random>
#include <string>
#include <vector>

namespace rushlight {
namespace {

constexpr double longest = 10, largest = 1 << 20;  // s, kB

double peak_kilobytes() {
    std::ifstream status("/proc/self/status");
    for (std::string word; status >> word;)
        if (double kilobytes = 0; word == "VmHWM:" && status >> kilobytes) return kilobytes;
    return 0;
}

class Dice {
public:
    explicit Dice(std::uint64_t seed) : random_(seed) {}
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }
    bool one_in(std::size_t n) { return below(n) == 0; }
    template <class T>
    const T& of(const std::vector<T>& all) {
        return all[below(all.size())];
    }

private:
    std::mt19937_64 random_;
};

/// Words that stand in the file, words that may, and words that nobody would type.
std::string a_word(Dice& dice) {
    static const std::vector<std::string> words{"key",
                                                "A",
                                                "close",
                                                "black",
                                                "one",
                                                "low",
                                                "",
                                                " key",
                                                "KEY",
                                                "a.b",
                                                "\"",
                                                "'",
                                                "]]",
                                                "\n",
                                                "\r\n",
                                                "\x1b[2J",
                                                "\xc2\x9b",
                                                "\xe2\x80\xae",
                                                "\xff",
                                                "= 1",
                                                "#",
                                                "[[lamp]]",
                                                std::string(1, '\0'),
                                                std::string(101, 'x'),
                                                std::string(5000, '.'),
                                                "900 lm",
                                                "-1 stop",
                                                "50%",
                                                "4ft",
                                                "6ft 2in",
                                                "1e999",
                                                "auto",
                                                "off",
                                                "full"};
    return dice.of(words);
}

JsonValue a_value(Dice& dice, int depth = 0) {
    static const std::vector<double> numbers{
        0, -0.0, 1, -1, 0.5, 1e-320, 1e9, 1e300, -1e300, 2147483648.0, 9007199254740993.0};
    switch (dice.below(depth > 7 ? 4 : 7)) {
        case 0:
            return dice.of(numbers);
        case 1:
            return dice.one_in(2);
        case 2:
            return json_text(a_word(dice));
        case 3:
            return nullptr;
        case 4: {
            JsonValue list = JsonValue::array();
            for (std::size_t n = dice.below(dice.one_in(20) ? 300 : 5); n > 0; --n)
                list.push_back(a_value(dice, depth + 1));
            return list;
        }
        case 5: {
            JsonValue table = JsonValue::object();
            for (std::size_t n = dice.below(4); n > 0; --n)
                table[json_text(a_word(dice)).get<std::string>()] = a_value(dice, depth + 1);
            return table;
        }
        default:
            return JsonValue::array({dice.of(numbers), dice.of(numbers), dice.of(numbers)});
    }
}

JsonValue an_edit(Dice& dice) {
    static const std::vector<std::string> acts{"set", "add", "remove", "", "move"};
    static const std::vector<std::string> kinds{"lamp",  "mark",   "camera", "meter",     "flag",
                                                "board", "cloth",  "net",    "furniture", "day",
                                                "setup", "option", "place",  "",          "target"};
    static const std::vector<std::string> keys{"at",   "level", "gel",    "name",    "aim",  "facing",
                                               "size", "on",    "person", "look_at", "date", "time",
                                               "sky",  "",      "output", "a.b",     "at.x"};
    static const std::vector<std::string> parts{"file", "set-up", "option", "setup", ""};
    JsonValue e{{"do", dice.of(acts)}, {"kind", dice.of(kinds)}, {"name", json_text(a_word(dice))}};
    if (!dice.one_in(4)) e["key"] = dice.of(keys);
    if (!dice.one_in(4)) e["value"] = a_value(dice);
    if (dice.one_in(2))
        for (std::size_t n = dice.below(5); n > 0; --n) e["values"][dice.of(keys)] = a_value(dice);
    if (dice.one_in(4)) e["where"] = dice.of(parts);
    if (dice.one_in(20)) e[dice.of(keys)] = a_value(dice);
    return dice.one_in(50) ? a_value(dice) : e;
}

TEST(DeskFuzz, EditsByTheirForm) {
    Dice dice(21);
    static const std::vector<std::string> setups{"one", "as found", "", "none"};
    for (int i = 0; i < 4000; ++i) {
        JsonValue body{{"base", a_value(dice)}, {"setup", dice.of(setups)}, {"option", dice.of(setups)}};
        body["coalesce"] = a_value(dice);
        body["edits"] = JsonValue::array();
        for (std::size_t n = dice.one_in(200) ? 1001 : 1 + dice.below(3); n > 0; --n)
            body["edits"].push_back(an_edit(dice));
        const Clock clock;
        fuzz::feed_edits(body.dump());
        ASSERT_LT(clock.seconds(), longest) << body.dump();
    }
    // As deep and as many as a body holds.
    for (const std::string& many : {std::string(500'000, '['), "{\"edits\":" + std::string(500'000, '['),
                                    "{\"edits\":[" + std::string(300'000, '{')}) {
        const Clock clock;
        fuzz::feed_edits(many);
        fuzz::feed_new_place(many);
        EXPECT_LT(clock.seconds(), longest);
    }
    EXPECT_LT(peak_kilobytes(), largest);
}

std::string a_request(Dice& dice, const std::string& host, const std::string& cookie) {
    static const std::vector<std::string> methods{"GET",  "GET", "GET", "POST", "POST",   "PUT",
                                                  "HEAD", "get", "",    "G\rT", "OPTIONS"};
    static const std::vector<std::string> paths{"/",
                                                "/api/state",
                                                "/api/plan",
                                                "/api/plan?setup=%00&option=%ff",
                                                "/api/edit",
                                                "/api/undo",
                                                "/api/new",
                                                "/api/reading?x=1e999&y=nan",
                                                "/api/colour?setup=",
                                                "/api/picture/99999999999999999999",
                                                "/start",
                                                "/?key=0123456789abcdef0123456789abcdef",
                                                "/../../etc/passwd",
                                                "/%2e%2e/%2e%2e/etc/passwd",
                                                "*",
                                                "http://example.org/",
                                                "//",
                                                "/%",
                                                "/?a=b&a=c&&=&%3d",
                                                "/api/sphere?mark=none"};
    static const std::vector<std::string> versions{" HTTP/1.1", " HTTP/1.1", " HTTP/1.1",  " HTTP/1.0",
                                                   " HTTP/3",   "",          " HTTP/1.1 x"};
    static const std::vector<std::string> lengths{
        "0", "2", "7", "-1", "+2", "0x2", "1048577", "18446744073709551616", "2, 2", "", "99"};
    static const std::vector<std::string> ends{"\r\n", "\r\n", "\r\n", "\r\n", "\n", "\r", "", "\r\n "};
    static const std::vector<std::string> fields{"Range: bytes=0-99999",
                                                 "Range: bytes=-1",
                                                 "Range: bytes=9-1,35184372088832-",
                                                 "Transfer-Encoding: chunked",
                                                 "Transfer-Encoding: x, chunked",
                                                 "Content-Encoding: gzip",
                                                 "Expect: 100-continue",
                                                 "Content-Type: application/json",
                                                 "Content-Type: multipart/form-data; boundary=x",
                                                 "Origin: http://example.org",
                                                 "Sec-Fetch-Site: cross-site",
                                                 "Connection: close",
                                                 "Connection: Upgrade",
                                                 "Upgrade: websocket",
                                                 "Host: example.org",
                                                 "Cookie: ;;;=;",
                                                 "X: \x01",
                                                 "X: \xff\xfe",
                                                 " folded",
                                                 ": no name",
                                                 "no colon"};
    std::string text = dice.of(methods) + " " + dice.of(paths) + dice.of(versions) + "\r\n";
    if (!dice.one_in(10)) text += "Host: " + host + "\r\n";
    if (!dice.one_in(4)) text += "Cookie: " + cookie + "\r\n";
    for (std::size_t n = dice.below(4); n > 0; --n) text += dice.of(fields) + dice.of(ends);
    if (dice.one_in(2)) text += "Content-Length: " + dice.of(lengths) + dice.of(ends);
    if (dice.one_in(40)) text += std::string(20'000, 'x');
    if (dice.one_in(40))
        for (int i = 0; i < 150; ++i) text += "a:b\r\n";
    text += "\r\n";
    static const std::vector<std::string> bodies{"", "{}", "{\"base\":1}", "[]", "GET / HTTP/1.1\r\n\r\n", "0\r\n\r\n"};
    return text + dice.of(bodies);
}

TEST(DeskFuzz, RequestsByTheirForm) {
    Dice dice(22);
    for (int i = 0; i < 40'000; ++i) {
        std::string bytes = a_request(dice, "127.0.0.1:1", "a=b");
        if (dice.one_in(3)) bytes.resize(dice.below(bytes.size() + 1));
        if (dice.one_in(3) && !bytes.empty()) bytes[dice.below(bytes.size())] = static_cast<char>(dice.below(256));
        fuzz::feed_request(bytes);
    }
    EXPECT_LT(peak_kilobytes(), largest);
}

TEST(DeskFuzz, WhateverComesToTheDoorItStaysOpenAndTheFileAsItIs) {
    const testing_desk::Scratch scratch;
    desk::Desk desk(scratch.file());
    for (const bool shared : {false, true}) {
        desk::Visit visit(desk, shared);
        const std::string host = "127.0.0.1:" + std::to_string(visit.server.port());
        Dice dice(shared ? 24 : 23);
        for (int i = 0; i < 400; ++i) {
            const Clock clock;
            desk::Wire wire(visit.server.port());
            std::string bytes = a_request(dice, host, visit.cookie);
            for (std::size_t n = dice.below(3); n > 0; --n) bytes += a_request(dice, host, visit.cookie);
            const std::size_t cut = dice.below(bytes.size() + 1);
            wire.send(bytes.substr(0, cut));
            wire.send(bytes.substr(cut));
            const std::string heard = wire.hear(0.01);
            ASSERT_TRUE(heard.empty() || heard.compare(0, 9, "HTTP/1.1 ") == 0) << bytes << heard;
            if (i % 20 == 0) {
                ASSERT_EQ(visit.get("/api/state"), 200) << bytes;
            }
            ASSERT_LT(clock.seconds(), longest) << bytes;
        }
        EXPECT_EQ(visit.get("/api/state"), 200);
    }
    EXPECT_EQ(scratch.text(), testing_desk::small_place);
    EXPECT_EQ(scratch.files(), 1U);
    EXPECT_LT(peak_kilobytes(), largest);
}

}  // namespace
}  // namespace rushlight
