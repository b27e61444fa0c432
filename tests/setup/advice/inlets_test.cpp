// A lamp outside a rough model: places, windows and beams are worked out by hand from the model's own numbers.
#include "setup/advice/inlets.h"

#include "setup/advice/check.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

namespace rushlight {
namespace {

/// What is said of a lamp 16 degrees wide outside the model of the workshop. Its windows reach from x = 1.2, 3.95 and
/// 6.7 m over 1.1 m each, from 0.9 to 3.3 m above the floor, 0.45 m out of the room.
std::string said_of(const std::string& at, const std::string& aim, const std::string& more = "",
                    const std::string& glass = "glass = 0.75") {
    std::ifstream in(RUSHLIGHT_SOURCE "/scenes/workshop-rough.toml");
    std::string text(std::istreambuf_iterator<char>(in), {});
    const std::string as_typed = "glass = 0.75";
    text.replace(text.find(as_typed), as_typed.size(), glass);
    text +=
        "\n[[lamp]]\nname = \"key\"\nshape = \"hard\"\nsize = 0.02\nbeam = 10\nfield = 16\noutput = \"9000 lm\"\nat "
        "= " +
        at + "\naim = " + aim + "\n" + more;
    const SetupFile file = SetupFile::from_text(text, RUSHLIGHT_SOURCE "/scenes/workshop-rough.toml");
    for (const std::string& remark : careful_remarks(file.setup()))
        if (remark.find("Lamp 'key' stands outside") == 0) return remark;
    return {};
}

bool says(const std::string& remark, const std::string& part) {
    return remark.find(part) != std::string::npos;
}

TEST(LampOutsideAModel, IsHeldAgainstItsOpenings) {
    EXPECT_TRUE(says(said_of("[4.5, -3, 2]", "[4.5, 0, 2]"), "can shine in through 'Window glass'; it needs cover"));
    // 1.05 m off the wall the beam is 0.3 m wide: between two windows it meets neither, 0.8 m beside it meets one.
    EXPECT_TRUE(says(said_of("[5.875, -1.5, 2]", "[5.875, 0, 2]"), "shines in through no opening"));
    EXPECT_TRUE(says(said_of("[6.7, -1.5, 2]", "[6.7, 0, 2]"), "can shine in through 'Window glass'"));
    EXPECT_TRUE(says(said_of("[4.5, -3, 2]", "[4.5, -9, 2]"), "shines in through no opening")) << "turned away";
    EXPECT_TRUE(says(said_of("[4.5, 9, 2]", "[4.5, 0, 2]"), "shines in through no opening")) << "behind the far wall";
    EXPECT_EQ(said_of("[4.5, 3, 2]", "[4.5, 0, 2]"), "") << "inside";
}

TEST(LampOutsideAModel, SaysWhatStandsInBetweenAndWhatIsDrawn) {
    const std::string van = "[[place.furniture]]\nname = \"van\"\nat = [4.5, -1.5]\nsize = [6, 0.6, 4]\n";
    EXPECT_TRUE(says(said_of("[4.5, -3, 2]", "[4.5, 0, 2]", van), "'van' is between its beam and 'Window glass'"));
    EXPECT_TRUE(says(said_of("[4.5, -3, 6]", "[4.5, -0.45, 2.8]", van), "can shine in")) << "over its roof";
    EXPECT_TRUE(says(said_of("[4.5, -3, 2]", "[4.5, 0, 2]", "", "curtain = 0.02"), "but the curtain there is drawn"));
    EXPECT_FALSE(says(said_of("[4.5, -3, 2]", "[4.5, 0, 2]", "", "curtain = 0.5"), "curtain"));
}

std::shared_ptr<const Triangles> quad(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d, float straight = 0) {
    Triangles t;
    t.positions = {a, b, c, d};
    t.faces = {{{0, 1, 2}, 0}, {{0, 2, 3}, 0}};
    t.finishes.emplace_back().straight = Spectrum{straight};
    return std::make_shared<const Triangles>(t);
}

/// A window 1 m square in the wall y = 0 of a room 4 m each way, and whatever else of the model there is.
Place place_with(const std::shared_ptr<const Triangles>& walls) {
    Place place;
    place.has_room = false;
    place.upper = {4, 4, 4};
    OpeningPatch& window = place.model_openings.emplace_back();
    window.name = "window";
    const Vec3 a(1.5F, 0, 1), b(2.5F, 0, 1), c(2.5F, 0, 2), d(1.5F, 0, 2);
    window.triangles = {{a, b, c}, {a, c, d}};
    place.models.push_back({"", walls});
    return place;
}

const Vec3 lamp(-2, -3, 1.5F), to_window = (Vec3(2, 0, 1.5F) - lamp).normalized();

// The line from lamp to window crosses x = 0 at y = -1.5: a wall that juts out there hides the window.
TEST(LampOutsideAModel, AWallOfTheModelHidesAHole) {
    const auto fin = quad({0, -2, 0}, {0, -1, 0}, {0, -1, 4}, {0, -2, 4});
    EXPECT_TRUE(inlets(place_with(fin), lamp, to_window, 5).empty());
    const auto low = quad({0, -2, 0}, {0, -1, 0}, {0, -1, 1.5F}, {0, -2, 1.5F});
    ASSERT_EQ(inlets(place_with(low), lamp, to_window, 5).size(), 1U);
    EXPECT_TRUE(inlets(place_with(low), lamp, to_window, 5).front().gets_in) << "over it";
    const auto net = quad({0, -2, 0}, {0, -1, 0}, {0, -1, 4}, {0, -2, 4}, 0.5F);
    EXPECT_EQ(inlets(place_with(net), lamp, to_window, 5).size(), 1U) << "light passes a net";
    const auto wall = quad({0, 0.02F, 0}, {4, 0.02F, 0}, {4, 0.02F, 4}, {0, 0.02F, 4});
    EXPECT_EQ(inlets(place_with(wall), lamp, to_window, 5).size(), 1U) << "a wall that is drawn behind its window";
}

TEST(LampOutsideAModel, FurnitureFromAModelIsNamed) {
    Place place = place_with(quad({9, 9, 9}, {9, 9, 8}, {9, 8, 8}, {9, 8, 9}));
    place.models.push_back({"hoarding", quad({0, -2, 0}, {0, -1, 0}, {0, -1, 4}, {0, -2, 4})});
    const std::vector<Inlet> all = inlets(place, lamp, to_window, 5);
    ASSERT_EQ(all.size(), 1U);
    EXPECT_FALSE(all.front().gets_in);
    EXPECT_EQ(all.front().blocked_by, "hoarding");
}

// Points are spread by area: a face that is cut finely takes no more of them than its share.
TEST(LampOutsideAModel, AnOpeningInManyFacesIsAskedAllOver) {
    Place place = place_with(quad({9, 9, 9}, {9, 9, 8}, {9, 8, 8}, {9, 8, 9}));
    OpeningPatch& window = place.model_openings.front();
    // A thousand slivers at the left edge, 1 mm wide together: the beam on the right half must still be met.
    for (int i = 0; i < 1000; ++i) {
        const float z = 1 + static_cast<float>(i) * 1e-3F;
        window.triangles.push_back({Vec3(1.5F, 0, z), Vec3(1.499F, 0, z), Vec3(1.5F, 0, z + 1e-3F)});
    }
    const Vec3 right(2.3F, 0, 1.5F), from(2.3F, -2, 1.5F);
    EXPECT_TRUE(inlets(place, from, (right - from).normalized(), 5).front().gets_in);
    const Vec3 beside(2.9F, 0, 1.5F), there(2.9F, -2, 1.5F);
    EXPECT_TRUE(inlets(place, there, (beside - there).normalized(), 5).empty());
}

}  // namespace
}  // namespace rushlight
