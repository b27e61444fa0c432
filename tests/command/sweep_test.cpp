// tools/sweep.slurm.sh, with the number of the task set by hand.
#include "command/same.h"

namespace rushlight::testing_command {
namespace {

Answer task(const Scratch& here, const std::string& number, const std::string& list) {
    return run(here, {RUSHLIGHT_SOURCE "/tools/sweep.slurm.sh", list},
               {"RUSHLIGHT=" RUSHLIGHT_BUILD "/rushlight", "SLURM_ARRAY_TASK_ID=" + number, "XDG_CACHE_HOME="});
}

TEST(Sweep, ATaskAsksItsLine) {
    const Scratch here;
    here.with("f.toml", dark + room + lamp + meter);
    here.with("list.txt",
              "# levels\n"
              "read f.toml --level \"key=100%\" --error 2% --json -o full.json\n\n"
              "read f.toml --level 'key=-1 stop' --error 2% --json -o \"one stop down.json\"\n");
    for (const char* number : {"1", "2"}) {
        const Answer a = task(here, number, "list.txt");
        EXPECT_EQ(a.status, 0) << a;
    }
    here.with("others.txt", "check f.toml\nread 'f.toml\n");
    EXPECT_EQ(task(here, "1", "others.txt").status, 0);
    const Answer open = task(here, "2", "others.txt");
    EXPECT_EQ(open.status, 2) << open;
    EXPECT_TRUE(open.says("others.txt: the quotes of line 2 do not match")) << open;
    const auto lux = [&](const char* name) {
        return nlohmann::json::parse(dateless_bytes_of(here / name))["readings"][0]["lux"].get<double>();
    };
    EXPECT_NEAR(lux("full.json") / lux("one stop down.json"), 2, 0.2);
}

TEST(Sweep, SaysWhatIsMissing) {
    const Scratch here;
    here.with("list.txt", "check f.toml\n");
    const Answer past = task(here, "2", "list.txt"), none = task(here, "1", "no-list.txt");
    EXPECT_EQ(past.status, 2) << past;
    EXPECT_TRUE(past.says("list.txt: there is no line 2")) << past;
    EXPECT_EQ(none.status, 2) << none;
    EXPECT_TRUE(none.says("no-list.txt: there is no such list")) << none;
}

}  // namespace
}  // namespace rushlight::testing_command
