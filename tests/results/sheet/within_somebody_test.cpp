// A meter inside a person is told of, and no other is.
#include "results/rooms.h"
#include "results/sheet/within_somebody.h"

namespace rushlight {
namespace {

TEST(WithinSomebody, NamesBoth) {
    const auto setup = rooms::setup_of(R"([place]
room = { width = 5, depth = 4, height = 2.6 }
[[mark]]
name = "Ada"
at = [2, 2]
facing = 0
[[mark]]
name = "Ben"
at = [3.5, 2]
facing = 180
person = { pose = "seated" }
[[meter]]
name = "in the chest"
at = [2, 2, 1.2]
[[meter]]
name = "before the chest"
at = [2.45, 2, 1.2]
[[meter]]
name = "in the lap"
at = [3.5, 2, 0.6]
[[meter]]
name = "at the face"
at = "Ben"
[[meter]]
name = "over the head"
at = [2, 2, 2.2]
[[meter]]
name = "far away"
at = [0.5, 3.5, 1]
)");
    const std::vector<std::string> said = meters_within_somebody(setup);
    ASSERT_FALSE(said.empty());
    EXPECT_EQ(said[0], "Meter 'in the chest' is inside 'Ada': no light gets there.");
    for (const std::string& s : said) {
        EXPECT_EQ(s.find("before"), std::string::npos) << s;
        EXPECT_EQ(s.find("at the face"), std::string::npos) << s;
        EXPECT_EQ(s.find("over"), std::string::npos) << s;
        EXPECT_EQ(s.find("far"), std::string::npos) << s;
    }
}

}  // namespace
}  // namespace rushlight
