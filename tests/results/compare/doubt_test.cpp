// What each rough input does to a reading, where that is known beforehand.
#include "results/compare/doubt.h"
#include "results/rooms.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

using namespace rooms;

const Doubt& of(const Doubts& all, const std::string& input) {
    const auto found =
        std::find_if(all.inputs.begin(), all.inputs.end(), [&](const Doubt& d) { return d.input.find(input) == 0; });
    if (found == all.inputs.end()) throw std::runtime_error("no doubt about " + input);
    return *found;
}

std::string room_lit_by_a_window(const std::string& walls) {
    return "[place]\nlatitude = 50\nlongitude = 8\nroom = { width = 4, depth = 4, height = 2.5 }\n"
           "surfaces = { walls = " +
           walls +
           ", floor = 0, ceiling = 0 }\n[[place.opening]]\nname = \"window\"\nwall = \"near\"\nfrom = 1\nto = 3\n"
           "sill = 1\nhead = 2.2\nglass = 0.8\n[day]\nsky = \"overcast\"\ntime_zone = \"UTC\"\n"
           "[[meter]]\nname = \"chair\"\nat = [2, 2.5, 1.2]\nfacing = [2, 0, 1.2]\n";
}

// Black all round: no wall matters, and the window's light passes its glass once, so that dirt takes its share.
TEST(Doubt, OfGlassIsItsShareAndOfBlackWallsIsNothing) {
    const Doubts all = doubts(setup_of(room_lit_by_a_window("0")), effort(0.003));
    const Measured dirt = of(all, "glass").stops.at(0);
    EXPECT_NEAR(dirt.value, -std::log2(1.15), 4 * dirt.error);
    EXPECT_LT(dirt.error, 0.01);
    for (const char* black : {"walls", "floor", "ceiling"}) {
        const Measured none = of(all, black).stops.at(0);
        EXPECT_NEAR(none.value, 0, 1e-6) << black;  // the same random numbers
    }
    // What moves it most comes first.
    for (std::size_t i = 1; i < all.inputs.size(); ++i) EXPECT_GE(all.inputs[i - 1].largest, all.inputs[i].largest);
}

// In a pale room they do, and in the direction that they are moved.
TEST(Doubt, OfPaleWallsBrightens) {
    const Doubts all = doubts(setup_of(room_lit_by_a_window("0.7")), effort(0.005));
    const Measured paler = of(all, "walls").stops.at(0);
    EXPECT_GT(paler.value, 5 * paler.error);
    EXPECT_LT(of(all, "windows").stops.at(0).value, 0);
}

}  // namespace
}  // namespace rushlight
