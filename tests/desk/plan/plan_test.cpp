// The plan as the page gets it: what stands in the place, to scale, and small enough to be sent.
#include "desk/desk_scratch.h"
#include "desk/plan/plan_json.h"

#include <cmath>
#include <cstdio>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;
using testing_desk::small_place;

/// A pyramid of 2 x 1 m, a metre high.
const std::string pyramid = R"(v -1 -0.5 0
v 1 -0.5 0
v 1 0.5 0
v -1 0.5 0
v 0 0 1
f 1 2 5
f 2 3 5
f 3 4 5
f 4 1 5
f 4 3 2 1
)";

/// A field of hillocks, `n` squares each way, 8 m wide, up to 2 m high: two triangles a square.
std::string hillocks(int n) {
    std::string obj;
    char line[80];
    for (int i = 0; i <= n; ++i)
        for (int j = 0; j <= n; ++j) {
            const double x = 8.0 * i / n - 4, y = 8.0 * j / n - 4;
            std::snprintf(line, sizeof line, "v %.4f %.4f %.4f\n", x, y, 1 + std::sin(9 * x) * std::cos(11 * y));
            obj += line;
        }
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const int a = i * (n + 1) + j + 1, b = a + n + 1;
            std::snprintf(line, sizeof line, "f %d %d %d\nf %d %d %d\n", a, b, b + 1, a, b + 1, a + 1);
            obj += line;
        }
    return obj;
}

const std::string with_models = R"([[place.furniture]]
name = "tent"
obj = "tent.obj"
at = [1, 2]
turn = 90
[[place.furniture]]
name = "painting"
picture = "two.ppm"
at = [2, 2.9]
from_floor = 1.3
width = 1.2
[[place.furniture]]
name = "table"
at = [3, 1]
size = [1.5, 0.8, 0.7]
)";

JsonValue named(const JsonValue& plan, const std::string& name) {
    for (const JsonValue& piece : plan["furniture"])
        if (piece["name"] == name) return piece;
    ADD_FAILURE() << "no " << name;
    return {};
}

double width_of(const JsonValue& lines, std::size_t axis) {
    double least = INFINITY, most = -INFINITY;
    for (const JsonValue& line : lines)
        for (std::size_t i = axis; i < line.size(); i += 2) {
            least = std::min(least, line[i].get<double>());
            most = std::max(most, line[i].get<double>());
        }
    return most - least;
}

TEST(Plan, ModelsAndPicturesStandOnItToScale) {
    const Scratch scratch;
    scratch.write("tent.obj", pyramid);
    scratch.write("two.ppm", std::string("P6\n2 1\n255\n\xff\x01\x01\x01\xff\x01", 17));
    scratch.write("place.toml", small_place + with_models);
    const Document document(scratch.file());
    const JsonValue plan = plan_json(document, "as found", "as found");
    ASSERT_EQ(plan["furniture"].size(), 3U);
    EXPECT_TRUE(plan["structure"].is_null());

    const JsonValue tent = named(plan, "tent");
    EXPECT_EQ(tent["at"], JsonValue({1.0, 2.0, 0.0}));
    EXPECT_EQ(tent["facing"], 90.0);
    EXPECT_EQ(tent["fields"]["obj"], "\"tent.obj\"");
    EXPECT_TRUE(tent["editable"].get<bool>());
    // Before it is turned: 2 m along x, 1 m along y, to a centimetre and a half.
    EXPECT_NEAR(width_of(tent["lower"], 0), 2, 0.015);
    EXPECT_NEAR(width_of(tent["lower"], 1), 1, 0.015);
    EXPECT_NEAR(tent["size"][2].get<double>(), 1, 1e-4);

    const JsonValue painting = named(plan, "painting");
    ASSERT_EQ(painting["cut"].size(), 1U);
    EXPECT_EQ(painting["cut"][0].size(), 4U);
    EXPECT_NEAR(width_of(painting["cut"], 0), 1.2, 1e-6);
    EXPECT_NEAR(width_of(painting["cut"], 1), 0, 1e-6);

    EXPECT_FALSE(named(plan, "table").contains("cut"));
    EXPECT_EQ(plan["furniture"][0]["name"], "table") << "low things first";
}

// The page draws the signs that the printed plans have: it is sent their shapes.
TEST(Plan, SignsAreThoseOfThePrintedPlans) {
    const Scratch scratch;
    scratch.write("place.toml", small_place +
                                    "[[lamp]]\nname = \"aslant\"\nshape = \"box\"\nat = [2, 1, 2]\naim = [1, 1, 1]\n"
                                    "size = [0.6, 0.9]\noutput = \"900 lm\"\n"
                                    "[[lamp]]\nname = \"straight down\"\nshape = \"box\"\nat = [2, 1, 2]\n"
                                    "aim = [2, 1, 0]\nsize = [0.6, 0.9]\noutput = \"900 lm\"\n");
    const Document document(scratch.file());
    const JsonValue plan = plan_json(document, "as found", "as found");
    const auto along = [](const JsonValue& sign, const std::string& pen) {
        std::vector<JsonValue> lines;
        for (const JsonValue& line : sign["lines"])
            if (line["pen"] == pen) lines.push_back(line["along"]);
        return lines;
    };
    int lamps = 0;
    for (const JsonValue& thing : plan["things"]) {
        if (thing["kind"] != "lamp") continue;
        ++lamps;
        const JsonValue& sign = thing["sign"];
        const auto fronts = along(sign, "front");
        if (thing["name"] == "aslant") {
            ASSERT_EQ(fronts.size(), 1U);
            EXPECT_EQ(fronts[0], JsonValue({0.0, 0.3, 0.0, -0.3})) << "its front at its true width";
            EXPECT_EQ(along(sign, "ray").size(), 3U);
        } else {
            EXPECT_TRUE(fronts.empty()) << thing["name"] << " shines all round, seen from above";
            EXPECT_EQ(along(sign, "ray").size(), 8U);
        }
        ASSERT_EQ(sign["bodies"].size(), 1U);
        EXPECT_GE(sign["bodies"][0].size(), 8U);
    }
    EXPECT_EQ(lamps, 4);
}

TEST(Plan, ALargeModelIsFewBytes) {
    const Scratch scratch;
    scratch.write("tent.obj", hillocks(230));
    scratch.write("place.toml", small_place + with_models.substr(0, with_models.find("turn")));
    const Document document(scratch.file());
    const JsonValue plan = plan_json(document, "as found", "as found");
    const JsonValue tent = named(plan, "tent");
    EXPECT_GT(tent["cut"].size(), 20U) << "each hillock is cut";
    EXPECT_NEAR(width_of(tent["lower"], 0), 8, 0.1);
    const std::size_t bytes = plan.dump().size();
    std::printf("%d triangles: %zu bytes\n", 2 * 230 * 230, bytes);
    EXPECT_LT(bytes, 300'000U);
}

TEST(Plan, APlaceThatIsAModelHasItsLines) {
    const Document document(RUSHLIGHT_SOURCE "/scenes/workshop-rough.toml");
    const JsonValue plan = plan_json(document, "1 wide", "as found");
    EXPECT_TRUE(plan["room"].is_null());
    // The workshop of scenes/workshop.toml: 9 m by 6 m inside.
    EXPECT_NEAR(width_of(plan["structure"]["cut"], 0), 9, 0.05);
    ASSERT_EQ(plan["structure"]["openings"].size(), 1U);
    EXPECT_EQ(plan["structure"]["openings"][0]["name"], "Window glass");
    EXPECT_EQ(plan["structure"]["openings"][0]["lines"].size(), 3U) << "three windows";
    EXPECT_GE(plan["structure"]["lower"].size(), 2U) << "bench and counter";
}

}  // namespace
}  // namespace rushlight::desk
