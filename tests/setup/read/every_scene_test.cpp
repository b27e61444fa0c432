// Every set-up file that comes with rushlight is sound, with every set-up and option, and says that it is invented.
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <filesystem>

namespace rushlight {
namespace {

TEST(EveryScene, IsSoundAndInvented) {
    int files = 0;
    for (const auto& e : std::filesystem::recursive_directory_iterator(RUSHLIGHT_SOURCE "/scenes")) {
        if (e.path().extension() != ".toml") continue;
        ++files;
        const SetupFile file = SetupFile::read(e.path().string());
        EXPECT_NE(file.title().find("invented"), std::string::npos) << e.path();
        for (const std::string& name : file.setup_names())
            for (const std::string& option : file.option_names(name)) {
                const rushlight::Setup s = file.setup(name, option);
                EXPECT_GE(s.camera + static_cast<int>(s.rig.meters.size()), 0) << e.path();
            }
    }
    EXPECT_GE(files, 20);
}

// What the night interior and the interview are there for: three options on the set-ups that they are for, four
// set-ups.
TEST(EveryScene, DemosHaveTheirSetUpsAndOptions) {
    const SetupFile night = SetupFile::read(RUSHLIGHT_SOURCE "/scenes/last-borrower.toml");
    EXPECT_EQ(night.setup_names().size(), 4U);
    EXPECT_EQ(night.option_names("3 borrower"),
              (std::vector<std::string>{"as found", "lamp rules", "moon and lamp", "pool"}));
    EXPECT_FALSE(night.setup("3 borrower", "lamp rules").targets.empty());
    const SetupFile interview = SetupFile::read(RUSHLIGHT_SOURCE "/scenes/river-gauge.toml");
    EXPECT_EQ(interview.setup_names().size(), 4U);
    EXPECT_EQ(interview.option_names("1 main"),
              (std::vector<std::string>{"as found", "one window", "swap the key", "kind"}));
}

}  // namespace
}  // namespace rushlight
