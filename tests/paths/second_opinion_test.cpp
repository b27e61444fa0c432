// Random rooms with a bit of everything, read by the renderer and by a plain tracer of another make.
#include "paths/random_rooms.h"

namespace rushlight {
namespace {

using namespace random_rooms;

// Eight rooms, three meters each, with errors of both; the squares of all differences over their errors are chi-square:
// of 24 they are 24 +- 7.
TEST(SecondOpinion, RandomRooms) {
    double squares = 0;
    int count = 0;
    for (unsigned seed = 1; seed <= 8; ++seed) {
        const RandomRoom room(seed);
        plain::Tracer tracer(room.place, 100 + seed);
        const MeterResults r = measure(room.scene, room.meters, effort(0.01, seed));
        for (std::size_t m = 0; m < room.meters.size(); ++m) {
            const MeterPoint& meter = room.meters[m];
            const plain::Tracer::Mean e = tracer.lux(as_v(meter.at), as_v(meter.facing), 60'000);
            const Measured got = r.all(m);
            const double both = std::hypot(e.error, got.error);
            EXPECT_LT(both, 0.06 * e.value) << "too noisy to prove anything";
            EXPECT_NEAR(got.value, e.value, 4.5 * both) << "room " << seed << ", meter " << m;
            squares += std::pow((got.value - e.value) / both, 2);
            ++count;
        }
    }
    EXPECT_EQ(count, 24);
    EXPECT_LT(squares, 24 + 4 * std::sqrt(48.0));
}

// A wall of no thickness lies where the inside ends: its points belong to it from whichever end a walk comes, or the
// ways by which light is found would not add up.
TEST(SecondOpinion, WalksFromEitherEndAgreeOnWallsOfNoThickness) {
    const RandomRoom room(13, 1);
    const Measured both = measure(room.scene, room.meters, effort(0.005)).all(0);
    const Measured alone = measure(room.scene, room.meters, effort(0.005), Sharing::meters_alone(12)).all(0);
    EXPECT_LT(std::hypot(both.error, alone.error), 0.01 * both.value);
    EXPECT_NEAR(both.value, alone.value, 4 * std::hypot(both.error, alone.error));
}

// The plain tracer itself: Lambert's polygon formula for a rectangle opposite (configuration factors), and a furnace.
TEST(SecondOpinion, ThePlainTracerKeepsTheLaws) {
    plain::Place place;
    Stuff glow;
    glow.kind = Stuff::lamp;
    glow.glow = 1000;
    place.faces.push_back({{-0.5, -0.5, 2}, {0, 1, 0}, {1, 0, 0}, glow});
    plain::Tracer tracer(place, 5);
    const auto e = tracer.lux({0, 0, 0}, {0, 0, 1}, 400'000);
    const double a = 0.25, r = std::sqrt(1 + a * a), expected = 1000 * 4 * a / r * std::atan(a / r);
    EXPECT_LT(e.error, 0.01 * expected);
    EXPECT_NEAR(e.value, expected, 4 * e.error);

    plain::Place furnace;
    furnace.sky = furnace.ground = 100;
    Stuff lossless;
    lossless.kind = Stuff::glass;
    furnace.box({1, -1, -1}, {2, 1, 1}, 0.4, lossless);
    furnace.box({-1, 1, -1}, {1, 2, 1}, 0.2, matt_stuff(1));
    furnace.box({-1, -2, -1}, {1, -1, 1}, 0, mirror_stuff(1));
    plain::Tracer even(furnace, 6);
    EXPECT_NEAR(even.lux({0, 0, 0}, {0.6, 0.8, 0}, 20'000).value, 3.14159265 * 100, 0.5);
}

}  // namespace
}  // namespace rushlight
