// A desk that is worked at for a long time: pages come and go, lamps and meters are dragged, steps taken back, the
// file changed outside, pictures fetched. Memory, threads and open files end where they were after the first while.
//
// In the suite for some seconds; RUSHLIGHT_SOAK=600 for as many seconds.
#include "desk/desk_scratch.h"
#include "desk/door/server.h"
#include "paths/work/effort.h"
#include "sanitized.h"

#include <httplib.h>
#include <malloc.h>
#include <algorithm>
#include <chrono>

#include <cmath>
#include <cstdlib>
#include <random>
#include <thread>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;
using testing_desk::small_place;

std::size_t entries(const char* folder) {
    std::size_t n = 0;
    for ([[maybe_unused]] const auto& e : std::filesystem::directory_iterator(folder)) ++n;
    return n;
}

/// The least of many looks: connections that end take a while to be gone, and what leaks stays.
std::size_t least_entries(const char* folder) {
    std::size_t least = entries(folder);
    constexpr int looks = 60;
    for (int i = 0; i < looks; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
        least = std::min(least, entries(folder));
    }
    return least;
}

/// Resident, without what the allocator only keeps for later.
double resident_kilobytes() {
    ::malloc_trim(0);
    std::ifstream statm("/proc/self/statm");
    double pages = 0, resident = 0;
    statm >> pages >> resident;
    return resident * 4096 / 1024;
}

/// Least squares.
double slope_of(const std::vector<std::pair<double, double>>& points) {
    double n = 0, x = 0, y = 0, xx = 0, xy = 0;
    for (const auto& [a, b] : points) n += 1, x += a, y += b, xx += a * a, xy += a * b;
    return (n * xy - x * y) / (n * xx - x * x);
}

class Worker {
public:
    explicit Worker(const Scratch& scratch)
        : scratch_(scratch), desk_(scratch.file()), server_(desk_, {false, 0, ""}), client_(started()) {
        const std::string link = server_.link();
        const auto come = client_.Get(link.substr(link.find("/?")));
        const std::string set = come->get_header_value("Set-Cookie");
        headers_ = {{"Cookie", set.substr(0, set.find(';'))}};
    }

    int edits = 0, refused = 0;

    /// Some hundred requests, as a person and those beside them make them.
    void an_hour_at_the_desk() {
        const Clock clock;
        std::atomic<bool> over{false};
        const std::string view = random_() % 2 == 0 ? "frame" : "plan_map";
        std::thread looker([&] { look(over, view); });
        for (int drag = 0; drag < 6; ++drag) {
            const std::string token = "drag " + std::to_string(random_());
            // A few places again and again, as one goes back and forth; some are new.
            const double x = 0.5 + 0.01 * static_cast<double>(random_() % 200);
            for (int i = 0; i < 10; ++i) set("lamp", "key", "level", std::to_string(random_() % 100) + "%", token);
            for (int i = 0; i < 6; ++i) set("meter", "middle", "at", {x + 0.01 * i, 1, 0.8}, token + "m");
            for (int i = 0; i < 4; ++i) set("lamp", "far", "at", {3.0, 1.5, 1 + 0.5 * x + 0.01 * i}, token + "l");
            post("undo"), post("undo"), post("redo");
            get("/api/plan");
            get("/api/reading?x=2&y=1.2&height=1");
        }
        post_body("/api/edit", "{\"edits\": 7}");
        post_body("/api/edit", "no JSON");
        get("/api/picture/1"), get("/nothing"), get("/api/sphere?mark=A"), get("/api/colour");
        change_outside();
        over = true;
        looker.join();
    }

    double kept_kilobytes() const { return static_cast<double>(desk_.kept_bytes()) / 1024; }

    std::uint64_t revision() {
        const auto state = client_.Get("/api/state", headers_);
        return JsonValue::parse(state->body)["revision"].get<std::uint64_t>();
    }

private:
    httplib::Client started() {
        server_.start();
        return httplib::Client("127.0.0.1", server_.port());
    }
    void get(const std::string& path) { EXPECT_TRUE(client_.Get(path, headers_)); }
    int post_body(const std::string& path, const std::string& body) {
        const auto r = client_.Post(path, headers_, body, "application/json");
        EXPECT_TRUE(r);
        return r ? r->status : 0;
    }
    void post(const char* what) {
        post_body(std::string("/api/") + what, JsonValue{{"base", revision()}}.dump());
        ++edits;
    }
    void set(const char* kind, const char* name, const char* key, const JsonValue& value, const std::string& token) {
        const JsonValue body{{"base", revision()},
                             {"coalesce", token},
                             {"edits", {{{"kind", kind}, {"name", name}, {"key", key}, {"value", value}}}}};
        if (post_body("/api/edit", body.dump()) != 200) ++refused;
        ++edits;
    }
    void change_outside() {
        scratch_.write("place.toml", "[[[ half a file");
        std::this_thread::sleep_for(std::chrono::milliseconds(250));
        scratch_.write("place.toml", small_place + "# saved " + std::to_string(random_()) + "\n");
        const auto troubled = [&] {
            return client_.Get("/api/state", headers_)->body.find("\"trouble\":{") != std::string::npos;
        };
        constexpr double patience = 10;  // s; the desk looks five times a second
        for (const Clock clock; troubled() && clock.seconds() < patience;)
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
        EXPECT_FALSE(troubled());
    }
    /// A page that listens, fetches each picture, and goes away in the middle.
    void look(const std::atomic<bool>& over, const std::string& view) {
        httplib::Client page("127.0.0.1", server_.port());
        std::string heard;
        page.Get("/api/events?width=48&view=" + view, headers_, [&](const char* bytes, std::size_t length) {
            heard.append(bytes, length);
            if (heard.size() > 100'000) heard.clear();
            return !over.load();
        });
    }

    const Scratch& scratch_;
    Desk desk_;
    Server server_;
    httplib::Client client_;
    httplib::Headers headers_;
    std::mt19937 random_{5};
};

TEST(Soak, MemoryThreadsAndOpenFilesStayAsTheyWere) {
    const char* asked = std::getenv("RUSHLIGHT_SOAK");
    const double seconds = asked ? std::atof(asked) : 10;
    const Scratch scratch;
    Worker worker(scratch);
    // Until caches hold what they may hold, a hundred places of the lamps: then an hour adds little.
    const Clock clock;
    double last = 0;
    constexpr int most_hours = 40;
    for (int hours = 0; hours < most_hours; ++hours) {
        worker.an_hour_at_the_desk();
        const double now = resident_kilobytes();
        const bool steady = now - last < 0.005 * now;
        last = now;
        if (steady && worker.edits >= 1200 && clock.seconds() >= 0.4 * seconds) break;
    }
    const std::size_t files = least_entries("/proc/self/fd"), threads = least_entries("/proc/self/task");
    const double before = resident_kilobytes(), kept_before = worker.kept_kilobytes();
    const int edits_before = worker.edits;
    std::vector<std::pair<double, double>> course;  // thousands of edits, kB
    do {
        worker.an_hour_at_the_desk();
        course.emplace_back(worker.edits / 1000.0, resident_kilobytes());
    } while (clock.seconds() < seconds || course.size() < 4);
    const double edits = worker.edits - edits_before, grown = resident_kilobytes() - before;
    const double kept = worker.kept_kilobytes() - kept_before;
    std::printf(
        "%d edits, %d refused; %.0f kB resident after the first %d, then %+.0f kB, %+.0f kB per 1000 edits; light that "
        "is "
        "kept %+.0f kB; %zu threads, %zu files\n",
        worker.edits, worker.refused, before, edits_before, grown, slope_of(course), kept, threads, files);
    EXPECT_LT(worker.refused, worker.edits / 20);
    EXPECT_GT(edits, 300);
    EXPECT_LE(least_entries("/proc/self/fd"), files + 2);
    EXPECT_LE(least_entries("/proc/self/task"), threads + 2);
    RecordProperty("kilobytes_per_1000_edits", std::to_string(slope_of(course)));
    // Light that is kept grows surer and larger, within its bounds, and is then let go. Besides it: steps of undo and
    // what the allocator cannot give back, two hundredths; and what happens to be in work at either moment.
    constexpr double in_work = 10'000;  // kB
    if (!sanitized) {
        EXPECT_LT(grown - std::max(0.0, kept), 0.02 * before + in_work);
    }
}

TEST(Soak, StepsAreKeptToManyMegabytes) {
    Steps steps;
    std::string text = "level = \"50%\"\n";
    for (int i = 0; i < 100'000; ++i) {
        std::string next = "level = \"" + std::to_string(i % 100) + "%\"\n";
        steps.push(Step::between(text, next, "drag"));
        text = next;
    }
    EXPECT_EQ(steps.count(), 100'000U);  // of such, a person has no end
    EXPECT_LT(steps.bytes() / steps.count(), 160U);
    const std::string large(1 << 20, 'a'), other(1 << 20, 'b');
    for (int i = 0; i < 200; ++i) steps.push(Step::between(i % 2 ? large : other, i % 2 ? other : large, ""));
    EXPECT_LE(steps.bytes(), Steps::most_bytes);
    EXPECT_GE(steps.count(), 30U);
    // Those that are left still go back and forth.
    std::string now = other;
    const Step last = steps.pop();
    last.undo(now);
    EXPECT_EQ(now, large);
    last.redo(now);
    EXPECT_EQ(now, other);
    while (!steps.empty()) steps.pop();
    EXPECT_EQ(steps.bytes(), 0U);
}

}  // namespace
}  // namespace rushlight::desk
