// Work that was ended in the middle is gone on with, and comes to the same bits as work that was not.
#include "paths/furnished.h"
#include "paths/team_of_threads.h"

#include <map>

namespace rushlight {
namespace {

using namespace small;

/// Keeps whenever it may. After so many times the program is ended, for all that its work can tell.
class Left : public CheckpointStore {
public:
    explicit Left(int ends_after, std::map<std::string, std::string> earlier = {})
        : all(std::move(earlier)), ends_after_(ends_after) {}
    std::optional<std::string> find(const std::string& key) override {
        const auto it = all.find(key);
        if (it == all.end()) return std::nullopt;
        ++found;
        return it->second;
    }
    bool due() const override { return true; }
    double worth_keeping() const override { return 0; }
    std::uint64_t largest() const override { return 1 << 30; }
    void keep(const std::string& key, std::string_view bytes) override {
        all[key] = bytes;
        ended = ++kept == ends_after_;
    }
    std::map<std::string, std::string> all;
    int found = 0, kept = 0;
    std::atomic<bool> ended{false};

private:
    int ends_after_;
};

Effort leaving_in(Left& left, Effort e) {
    e.checkpoints = &left;
    e.drop = &left.ended;
    return e;
}

constexpr int never = -1;

Effort long_measurement() {
    Effort e = quick(5, 2);
    e.relative_error = 0.008;
    return e;
}
Effort long_frame() {
    Effort e = quick(5, 2);
    e.relative_error = 0.15;
    return e;
}

TEST(Resume, AMeasurement) {
    const Scene s = furnished();
    const MeterResults whole = measure(s, meters, long_measurement());
    for (const int ends_after : {1, 2, 5}) {
        Left left(ends_after);
        measure(s, meters, leaving_in(left, long_measurement()));
        ASSERT_TRUE(left.ended) << "too quick to be ended";
        Left later(never, left.all);
        const MeterResults resumed = measure(s, meters, leaving_in(later, long_measurement()));
        EXPECT_GT(later.found, 0);
        expect_same_bits(resumed, whole, s);
        // Once more: all is there.
        Left last(never, later.all);
        const MeterResults again = measure(s, meters, leaving_in(last, long_measurement()));
        EXPECT_EQ(last.kept, 0);
        expect_same_bits(again, whole, s);
    }
}

TEST(Resume, AFrameAndAMap) {
    const Scene s = furnished();
    for (const bool keep_layers : {true, false}) {
        const Field whole = trace_field(s, side * side, keep_layers, view_of(s), long_frame());
        ASSERT_GT(whole.passes, 8U);
        for (const int ends_after : {1, 7}) {
            Left left(ends_after);
            trace_field(s, side * side, keep_layers, view_of(s), leaving_in(left, long_frame()), "here");
            ASSERT_TRUE(left.ended);
            Left later(never, left.all);
            const Field resumed =
                trace_field(s, side * side, keep_layers, view_of(s), leaving_in(later, long_frame()), "here");
            EXPECT_EQ(later.found, 1);
            EXPECT_LT(later.kept, static_cast<int>(whole.passes) - ends_after + 1);
            expect_same_bits(resumed, whole);
        }
    }
}

// Left by three machines, gone on with by one, by two, by four.
TEST(Resume, OnOtherMachines) {
    const Scene s = furnished();
    const MeterResults whole = measure(s, meters, long_measurement());
    const Field whole_field = trace_field(s, side * side, true, view_of(s), long_frame());
    std::vector<std::unique_ptr<Left>> left;
    for (int i = 0; i < 3; ++i) left.push_back(std::make_unique<Left>(3));
    TeamOfThreads(3).run([&](Team& team) {
        Effort e = leaving_in(*left[team.number()], long_measurement());
        e.team = &team;
        measure(s, meters, e);
        left[team.number()]->kept = 0;
        left[team.number()]->ended = false;
        Effort f = leaving_in(*left[team.number()], long_frame());
        f.team = &team;
        trace_field(s, side * side, true, view_of(s), f, "here");
    });
    for (const auto& l : left) EXPECT_EQ(l->all, left.front()->all);
    for (const std::size_t machines : {1, 2, 4}) {
        std::vector<std::optional<MeterResults>> found(machines);
        std::vector<std::optional<Field>> fields(machines);
        TeamOfThreads(machines).run([&](Team& team) {
            Left later(never, left.front()->all);
            Effort e = leaving_in(later, long_measurement());
            e.team = &team;
            found[team.number()] = measure(s, meters, e);
            Effort f = leaving_in(later, long_frame());
            f.team = &team;
            fields[team.number()] = trace_field(s, side * side, true, view_of(s), f, "here");
        });
        for (std::size_t i = 0; i < machines; ++i) {
            expect_same_bits(*found[i], whole, s);
            expect_same_bits(*fields[i], whole_field);
        }
    }
}

TEST(Resume, WhatIsLeftOfOtherWorkIsNotUsed) {
    const Scene s = furnished();
    Left left(2);
    measure(s, meters, leaving_in(left, long_measurement()));
    const std::size_t of_the_measurement = left.all.size();
    left.ended = false;
    trace_field(s, side * side, true, view_of(s), leaving_in(left, long_frame()), "here");
    ASSERT_GT(left.all.size(), of_the_measurement);
    Left later(never, left.all);
    Effort other_seed = leaving_in(later, long_measurement());
    other_seed.seed = 6;
    std::vector<MeterPoint> moved = meters;
    moved[0].at.z += 0.01F;
    Effort quick_one = leaving_in(later, quick(5, 2));
    quick_one.relative_error = 0.05;
    measure(s, meters, other_seed);
    measure(s, moved, quick_one);
    // Of the same walks, other numbers: what was sure enough for those may not be so for these.
    measure(s, meters, leaving_in(later, long_measurement()), Wanted{{0}});
    trace_field(s, side * side, true, view_of(s), leaving_in(later, long_frame()), "elsewhere");
    EXPECT_EQ(later.found, 0);
}

TEST(Resume, WhatIsDamagedIsNotUsed) {
    const Scene s = furnished();
    const MeterResults whole = measure(s, meters, long_measurement());
    const Field whole_field = trace_field(s, side * side, true, view_of(s), long_frame());
    Left left(3);
    measure(s, meters, leaving_in(left, long_measurement()));
    left.ended = false;
    trace_field(s, side * side, true, view_of(s), leaving_in(left, long_frame()), "here");
    for (const std::size_t length : {0, 3, 100}) {
        Left later(never, left.all);
        for (auto& [key, bytes] : later.all) bytes.resize(length);
        expect_same_bits(measure(s, meters, leaving_in(later, long_measurement())), whole, s);
        expect_same_bits(trace_field(s, side * side, true, view_of(s), leaving_in(later, long_frame()), "here"),
                         whole_field);
    }
}

}  // namespace
}  // namespace rushlight
