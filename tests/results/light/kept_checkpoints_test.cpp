// Work in progress is kept under the limits of the folder, and is gone when nobody needs it any more.
#include "results/light/kept_checkpoints.h"
#include "results/rooms.h"

#include <fstream>
#include <thread>

namespace rushlight {
namespace {

using namespace rooms;
namespace fs = std::filesystem;

std::vector<fs::path> files_in(const Folder& folder) {
    std::vector<fs::path> found;
    for (const auto& e : fs::directory_iterator(folder.path)) found.push_back(e.path());
    return found;
}

TEST(KeptCheckpoints, IsFoundByTheNextRunAndForgottenWhenItIsThrough) {
    const Folder folder;
    KeptCheckpoints first{LayerCache(folder.path)};
    EXPECT_FALSE(first.find("a"));
    first.keep("a", "one");
    first.keep("a", "two");
    first.keep("b", "three");
    EXPECT_EQ(files_in(folder).size(), 2U);
    EXPECT_FALSE(first.went_on());

    KeptCheckpoints fresh{LayerCache(folder.path)};
    fresh.begin_anew();
    EXPECT_FALSE(fresh.find("a"));
    KeptCheckpoints next{LayerCache(folder.path)};
    EXPECT_EQ(next.find("a"), "two");
    EXPECT_FALSE(next.find("c"));
    EXPECT_TRUE(next.went_on());
    next.forget_all();
    EXPECT_EQ(files_in(folder).size(), 1U) << "what it did not ask for is another's";
    first.forget_all();
    EXPECT_TRUE(files_in(folder).empty());
}

TEST(KeptCheckpoints, IsDueAfterAPause) {
    const Folder folder;
    KeptCheckpoints often{LayerCache(folder.path), 0.1}, seldom{LayerCache(folder.path), 1000};
    EXPECT_FALSE(often.due());
    std::this_thread::sleep_for(std::chrono::milliseconds(150));
    EXPECT_TRUE(often.due());
    EXPECT_FALSE(seldom.due());
    often.keep("a", "b");
    EXPECT_FALSE(often.due());
}

TEST(KeptCheckpoints, KeepsToTheLimitsAndNeverFails) {
    const Folder folder;
    KeptCheckpoints small{LayerCache(folder.path, 4000)};
    EXPECT_EQ(small.largest(), 1000U);
    small.keep("large", std::string(1001, 'x'));
    EXPECT_FALSE(small.find("large"));
    for (int i = 0; i < 10; ++i) small.keep(std::to_string(i), std::string(900, 'x'));
    EXPECT_LE(files_in(folder).size(), 4U);
    EXPECT_TRUE(small.find("9"));
    const fs::path file = files_in(folder).front();
    for (const fs::path& f : files_in(folder)) fs::resize_file(f, 500);
    for (int i = 0; i < 10; ++i) EXPECT_FALSE(small.find(std::to_string(i)));

    for (const fs::path& nowhere : {fs::path(), file / "under a file", fs::path("/proc/no-such-folder")}) {
        KeptCheckpoints none{LayerCache(nowhere)};
        none.keep("a", "b");
        EXPECT_FALSE(none.find("a"));
        none.forget_all();
    }
    EXPECT_EQ(KeptCheckpoints{LayerCache(fs::path())}.largest(), 0U);
}

// A set-up's scene, and its lights at another hour, have fingerprints of their own: work on one is not taken for
// another's.
TEST(KeptCheckpoints, TellsScenesApart) {
    const auto key = [](const std::string& before, const std::string& after) {
        std::string text = two_lamps;
        if (!before.empty()) text.replace(text.find(before), before.size(), after);
        return build_scene(setup_of(text)).fingerprint();
    };
    const std::string same = key("", "");
    EXPECT_EQ(key("", ""), same);
    EXPECT_EQ(key("lens = 50", "lens = 35"), same);  // where it is looked from is not in the scene
    for (const auto& [before, after] :
         {std::pair{"4000 lm", "4100 lm"}, std::pair{"level = \"50%\"", "level = \"51%\""},
          std::pair{"half orange", "full orange"}, std::pair{"head = 2", "head = 2.1"}})
        EXPECT_NE(key(before, after), same) << after;
    const rushlight::Setup setup = setup_of(two_lamps);
    Scene scene = build_scene(setup);
    Daylight outside = daylight_at(setup.place, setup.day);
    std::set<std::string> keys{scene.fingerprint()};
    for (const bool lamps_burn : {true, false}) {
        scene.lights = lights_under(outside, scene, setup.rig, lamps_burn);
        keys.insert(scene.fingerprint());
    }
    outside.sky_horizontal = Lux{outside.sky_horizontal.value + 1};
    scene.lights = lights_under(outside, scene, setup.rig, true);
    keys.insert(scene.fingerprint());
    EXPECT_EQ(keys.size(), 4U);
}

}  // namespace
}  // namespace rushlight
