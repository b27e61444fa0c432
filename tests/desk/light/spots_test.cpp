// The spots of people on the desk's sheet: those of `rushlight read`, source by source.
#include "desk/desk_scratch.h"
#include "desk/light/sheet_json.h"
#include "desk/told.h"
#include "results/readings/readings.h"

#include <cmath>
#include <map>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;

bool all_traced(const JsonValue& sheet) {
    bool edge = false;
    for (const JsonValue& s : sheet["spots"]) {
        if (!s["traced"].get<bool>() || !s["error"].is_number()) return false;
        edge = edge || s["name"] == "A behind that edge";
    }
    return edge;
}

std::map<std::string, JsonValue> by_name(const JsonValue& sheet) {
    std::map<std::string, JsonValue> all;
    for (const JsonValue& s : sheet["spots"]) all[s["name"]] = s;
    return all;
}

double sum_of(const JsonValue& spot, const JsonValue& sources) {
    double sum = 0;
    for (std::size_t s = 0; s < sources.size(); ++s) sum += lux_of(spot["layers"][s], sources[s]["now"]);
    return sum;
}

TEST(Spots, AreThoseThatReadingTheFileLists) {
    const Scratch scratch;
    const Document document(scratch.file());
    LiveLight light(document);
    const auto open_page = light.join({"as found", "as found", {}}, false);
    const JsonValue sheet = wait_for(open_page, "sheet", [](const JsonValue& s) {
        const bool sure =
            std::all_of(s["spots"].begin(), s["spots"].end(), [](const JsonValue& p) { return p["error"] < 0.04; });
        return all_traced(s) && sure;
    });
    const auto told = by_name(sheet);

    const rushlight::Setup setup = document.setup("as found", "as found");
    Effort effort;
    effort.relative_error = 0.01;
    effort.seed = 7;
    const Sheet read = take_readings(setup, build_scene(setup), effort);
    ASSERT_EQ(read.people.size(), 1U);
    const PersonReadings& a = read.people[0];
    ASSERT_TRUE(a.in_picture);
    EXPECT_GE(a.spots.size(), 7U) << "cheeks, front, clothes, background, hair and what is behind it";
    EXPECT_EQ(told.size(), a.spots.size());
    for (const SpotReading& s : a.spots) {
        ASSERT_EQ(told.count("A " + s.name), 1U) << s.name;
        const JsonValue& t = told.at("A " + s.name);
        const double luminance = t["luminance"].get<double>();
        const double error = std::hypot(t["error"].get<double>() * luminance, s.luminance.error);
        EXPECT_NEAR(luminance, s.luminance.value, 5 * error) << s.name;
        EXPECT_EQ(t["kind"], "spot");
        EXPECT_EQ(t["mark"], "A");
        // The page's own sum: what each source gives, at its level and through its gel.
        EXPECT_NEAR(sum_of(t, sheet["sources"]) / luminance, 1, 2e-3) << s.name;
        for (std::size_t i = 0; i < 2; ++i) EXPECT_TRUE(t["errors"][i].is_number()) << s.name;
    }
}

TEST(Spots, FollowALevelWithoutTracing) {
    const Scratch scratch;
    Document document(scratch.file());
    LiveLight light(document);
    const auto open_page = light.join({"as found", "as found", {}}, false);
    const JsonValue before = wait_for(open_page, "sheet", all_traced);
    document.edit(document.state().revision, "", [](std::string text) {
        const std::string from = "level = \"50%\"";
        return text.replace(text.find(from), from.size(), "level = \"-4 stops\"");
    });
    light.renew();
    // The first that is told of the new level has everything in it.
    const JsonValue after = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["revision"] == 2; });
    ASSERT_TRUE(all_traced(after));
    const auto told = by_name(after);
    for (const JsonValue& was : before["spots"]) {
        const JsonValue& is = told.at(was["name"]);
        const double expected = sum_of(is, after["sources"]), luminance = is["luminance"].get<double>();
        EXPECT_NEAR(luminance / expected, 1, 2e-3) << was["name"];
        EXPECT_LT(luminance, was["luminance"].get<double>()) << was["name"];
    }
}

TEST(Spots, OfNobodyWithoutACamera) {
    const Scratch scratch;
    std::string text = testing_desk::small_place;
    const auto at = text.find("[[camera]]");
    scratch.write("place.toml", text.erase(at, text.find("[[meter]]") - at));
    const Document document(scratch.file());
    LiveLight light(document);
    const auto open_page = light.join({"as found", "as found", {}}, false);
    const JsonValue sheet = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["stage"] >= 2; });
    EXPECT_TRUE(sheet["spots"].empty());
    EXPECT_FALSE(sheet["readings"].empty());
}

}  // namespace
}  // namespace rushlight::desk
