// One seed, one answer, to the last bit, however many threads worked on it; another seed, another answer.
#include "paths/furnished.h"
#include "sanitized.h"
#include "paths/team_of_threads.h"

namespace rushlight {
namespace {

using namespace small;

TEST(Repeat, ReadingsAreTheSameOnAnyNumberOfThreads) {
    const Scene s = furnished();
    const MeterResults one = measure(s, meters, quick(5, 1));
    ASSERT_FALSE(one.cut_short);
    for (const int threads : {2, 3, 1}) {
        const MeterResults again = measure(furnished(), meters, quick(5, threads));
        ASSERT_EQ(again.batches(), one.batches());
        for (std::size_t m = 0; m < meters.size(); ++m) {
            EXPECT_EQ(again.all(m).value, one.all(m).value) << threads << " threads, meter " << m;
            EXPECT_EQ(again.all(m).error, one.all(m).error);
            EXPECT_EQ(again.stops(m, 0).value, one.stops(m, 0).value);
            for (std::size_t k = 0; k < s.lights.count(); ++k) EXPECT_EQ(again.light(m, k), one.light(m, k));
        }
    }
    const MeterResults other = measure(s, meters, quick(6, 1));
    for (std::size_t m = 0; m < meters.size(); ++m) {
        EXPECT_NE(other.all(m).value, one.all(m).value);
        EXPECT_NEAR(other.all(m).value, one.all(m).value, 4.5 * std::hypot(other.all(m).error, one.all(m).error));
    }
}

TEST(Repeat, FieldsAreTheSameOnAnyNumberOfThreads) {
    const Scene s = furnished();
    const auto collect = view_of(s);
    const auto field = [&](std::uint64_t seed, int threads) {
        Effort e = quick(seed, threads);
        e.relative_error = 0.4;
        return trace_field(s, side * side, true, collect, e);
    };
    const Field one = field(5, 1);
    ASSERT_FALSE(one.cut_short);
    for (const int threads : {2, 3}) {
        const Field again = field(5, threads);
        ASSERT_EQ(again.passes, one.passes);
        EXPECT_EQ(again.mean, one.mean);
        EXPECT_EQ(again.error, one.error);
        EXPECT_EQ(again.layers, one.layers);
        EXPECT_EQ(again.noise, one.noise);
    }
    EXPECT_NE(field(6, 1).mean, one.mean);
}

/// What every machine of a team comes to.
template <class Result>
std::vector<Result> by_team(std::size_t machines, const std::function<Result(Team&)>& work) {
    std::vector<std::optional<Result>> found(machines);
    TeamOfThreads(machines).run([&](Team& team) { found[team.number()] = work(team); });
    std::vector<Result> all;
    for (auto& f : found) all.push_back(std::move(*f));
    return all;
}

TEST(Repeat, ReadingsAreTheSameOnAnyNumberOfMachines) {
    const Scene s = furnished();
    // The first is sure at once, the second only after the work was shared anew.
    for (const double error : {0.1, 0.01}) {
        Effort e = quick(5, 1);
        e.relative_error = error;
        const MeterResults alone = measure(s, meters, e);
        ASSERT_FALSE(alone.cut_short);
        for (const std::size_t machines : {1, 2, 3, 40}) {  // 40: more than there are batches in the first round
            const auto all = by_team<MeterResults>(machines, [&](Team& team) {
                Effort own = e;
                own.team = &team;
                return measure(s, meters, own);
            });
            for (const MeterResults& one : all) expect_same_bits(one, alone, s);
        }
    }
}

TEST(Repeat, FieldsAreTheSameOnAnyNumberOfMachines) {
    const Scene s = furnished();
    for (const bool keep_layers : {true, false}) {
        Effort e = quick(5, 1);
        e.relative_error = 0.4;
        const Field alone = trace_field(s, side * side, keep_layers, view_of(s), e);
        for (const std::size_t machines : {1, 2, 3, 5}) {  // 5: more than there are pieces
            const auto all = by_team<Field>(machines, [&](Team& team) {
                Effort own = e;
                own.team = &team;
                return trace_field(s, side * side, keep_layers, view_of(s), own);
            });
            for (const Field& one : all) expect_same_bits(one, alone);
        }
    }
}

// By the clock, no two runs do equally much; but the machines of one team end together and with the same.
TEST(Team, EndsTogetherByTheClockAndWhenAskedTo) {
    const Scene s = furnished();
    for (const bool asked : {false, true}) {
        std::vector<std::optional<MeterResults>> found(3);
        std::vector<std::optional<Field>> fields(3);
        std::atomic<bool> stop{false};
        TeamOfThreads threads(3);
        std::thread somebody([&] {
            if (!asked) return;
            std::this_thread::sleep_for(std::chrono::milliseconds(300));
            stop = true;
            threads.ask_to_stop();
        });
        threads.run([&](Team& team) {
            Effort own = quick(5, 1);
            own.relative_error = 1e-5;
            own.seconds = asked ? 0 : sanitized ? 6 : 0.4;
            own.stop = &stop;
            own.team = &team;
            found[team.number()] = measure(s, meters, own);
            fields[team.number()] = trace_field(s, side * side, true, view_of(s), own);
        });
        somebody.join();
        EXPECT_GT(found[0]->batches(), 2U);
        EXPECT_EQ(found[0]->cut_short, asked);
        for (std::size_t i = 1; i < 3; ++i) {
            expect_same_bits(*found[i], *found[0], s);
            EXPECT_EQ(found[i]->cut_short, asked);
            EXPECT_EQ(fields[i]->mean, fields[0]->mean);
            EXPECT_EQ(fields[i]->layers, fields[0]->layers);
            EXPECT_EQ(fields[i]->cut_short, asked);
        }
    }
}

TEST(Team, RefusesAMachineThatMeasuresSomethingElse) {
    const Scene s = furnished();
    int refused = 0;
    std::mutex one_at_a_time;
    TeamOfThreads(3).run([&](Team& team) {
        Effort own = quick(5, 1);
        own.team = &team;
        std::vector<MeterPoint> its = meters;
        if (team.number() == 2) its[0].at.x += 0.001F;
        try {
            measure(s, its, own);
        } catch (const TeamError& e) {
            const std::scoped_lock lock(one_at_a_time);
            refused += std::string(e.what()).rfind("thread 3 reads another set-up file", 0) == 0;
        }
    });
    EXPECT_EQ(refused, 3);
}

// What must be sure may be the mean of several meters: then that is, and it is the mean of what they read.
TEST(Wanted, MeansOfMetersAreMadeSure) {
    const Scene s = furnished();
    const MeterResults r = measure(s, meters, effort(0.02), Wanted{{0, 1}});
    const std::vector<std::size_t> both{0, 1};
    EXPECT_LE(r.all(both).relative_error(), 1.3 * 0.02);
    EXPECT_EQ(r.reached, r.all(both).relative_error());
    EXPECT_NEAR(r.all(both).value, (r.all(0).value + r.all(1).value) / 2, 1e-9 * r.all(both).value);
}

}  // namespace
}  // namespace rushlight
