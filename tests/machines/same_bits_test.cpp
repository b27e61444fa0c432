// One question, one answer, to the last bit, on however many machines.
#include "machines/machines.h"

#include "command/same.h"

namespace rushlight::testing_command {
namespace {

const std::string file = overcast + room + window + lamp + meter + camera + R"([[mark]]
name = "A"
at = [1.7, 2.0]
facing = [5, 2]
[[lamp]]
name = "back"
shape = "hard"
at = [1.5, 3.7, 2.2]
aim = "A"
output = "1500 lx at 3 m"
[[option]]
name = "with a cloth"
[[option.add.flag]]
name = "cloth"
at = [3.2, 2.0, 1.4]
facing = "A"
size = [1, 1]
finish = "black cloth"
)";

class OnMachines : public ::testing::TestWithParam<int> {
protected:
    /// Runs it on one machine and on several; both must end well. The files of both stand in folders of their own.
    void run_both(const std::vector<std::string>& words) {
        for (const Scratch* s : {&alone_, &together_}) s->with("f.toml", file);
        one_ = rushlight(alone_, words);
        ASSERT_EQ(one_.status, 0) << one_;
        all_ = on_machines(GetParam(), together_, words);
        ASSERT_EQ(all_.status, 0) << all_;
        EXPECT_EQ(alone_.files().size(), together_.files().size());
    }
    void expect_same_json() {
        if (HasFatalFailure()) return;
        const auto one = timeless(one_.out), all = timeless(all_.out);
        EXPECT_GT(one.size(), 0U);
        EXPECT_EQ(one, all);
    }
    void expect_same_file(const std::string& name) {
        if (HasFatalFailure()) return;
        const std::string one = dateless_bytes_of(alone_ / name);
        EXPECT_GT(one.size(), 100U) << name;
        EXPECT_TRUE(one == dateless_bytes_of(together_ / name)) << name;
    }
    Scratch alone_, together_;
    Answer one_, all_;
};

TEST_P(OnMachines, Read) {
    run_both({"read", "f.toml", "--error", "3%", "--json"});
    expect_same_json();
}

TEST_P(OnMachines, Frame) {
    run_both({"frame", "f.toml", "--error", "60%", "--width", "64", "-o", "f.png"});
    expect_same_file("f.exr");
    expect_same_file("f.png");
}

TEST_P(OnMachines, AFrameOfOnePiece) {
    run_both({"frame", "f.toml", "--error", "60%", "--width", "16", "-o", "f.png"});
    expect_same_file("f.exr");
}

TEST_P(OnMachines, Map) {
    run_both({"map", "f.toml", "--error", "30%", "--width", "96", "--plane", "0.8", "-o", "m.png"});
    expect_same_file("m.png");
}

TEST_P(OnMachines, Compare) {
    // Its frames go by the clock, which shows in their file alone.
    run_both(
        {"compare", "f.toml", "--error", "5%", "--frame-time", "100ms", "--width", "240", "--json", "-o", "c.png"});
    expect_same_json();
}

TEST_P(OnMachines, Day) {
    run_both({"day", "f.toml", "--error", "20%", "--from", "10:00", "--to", "12:00", "--step", "60m", "--weather",
              "clear", "--json", "-o", "d.png"});
    expect_same_json();
    expect_same_file("d.png");
}

TEST_P(OnMachines, Origins) {
    run_both({"origins", "f.toml", "table", "--error", "5%", "--black", "1x1", "--json", "-o", "o.png"});
    expect_same_json();
    EXPECT_NE(one_.out.find("estimate_stops"), std::string::npos) << "no place was found: nothing was compared";
    expect_same_file("o.png");
}

TEST_P(OnMachines, Balance) {
    for (const Scratch* s : {&alone_, &together_})
        s->with("b.toml", file + "[[target]]\nreading = \"table\"\nwant = \"T4\"\n");
    run_both({"balance", "b.toml", "--error", "5%", "--json"});
    expect_same_json();
}

INSTANTIATE_TEST_SUITE_P(Machines, OnMachines, ::testing::Values(1, 2, 3));

TEST(Machines, MoreThanPiecesOfWork) {
    const Scratch alone, together;
    const std::vector<std::string> words{"read", "f.toml", "--error", "20%", "--json", "--threads", "1"};
    for (const Scratch* s : {&alone, &together}) s->with("f.toml", dark + room + lamp + meter);
    const Answer one = rushlight(alone, words), all = on_machines(26, together, words);
    ASSERT_EQ(all.status, 0) << all;
    EXPECT_EQ(timeless(one.out), timeless(all.out));
}

TEST(Machines, UseTheLayersKeptByTheFirst) {
    const Scratch here;
    here.with("f.toml", file);
    const std::string cache = (here / "cache").string();
    const std::vector<std::string> words{"read", "f.toml", "--error", "5%", "--json"};
    const Answer traced = on_machines(2, here, words, cache), kept = on_machines(3, here, words, cache);
    ASSERT_EQ(kept.status, 0) << kept;
    EXPECT_TRUE(kept.says("From layers kept of an earlier run")) << kept;
    EXPECT_EQ(timeless(kept.out), timeless(traced.out));
}

// One of three machines is killed; two go on, and one machine for itself comes to the same.
TEST(Machines, GoOnAfterAKill) {
    const Scratch here, other;
    for (const Scratch* s : {&here, &other}) s->with("f.toml", file);
    const std::string cache = (here / "cache").string();
    const std::vector<std::string> words{"frame", "f.toml", "--error", "8%",           "--width",
                                         "240",   "-o",     "f.png",   "--keep-every", "10ms"};
    std::string go = "if [ $OMPI_COMM_WORLD_RANK = 1 ]; then p=$$; (until ls " + cache +
                     "/rushlight/layers/*.layers; do sleep 0.01; done; kill -9 $p) > /dev/null 2>&1 & fi; "
                     "exec " RUSHLIGHT_BUILD "/rushlight-mpi";
    for (const std::string& w : words) go += " " + w;
    const Answer lost = run(here, {RUSHLIGHT_MPIRUN, "-n", "3", "sh", "-c", go}, surroundings(cache));
    ASSERT_NE(lost.status, 0) << lost;
    ASSERT_FALSE(fs::exists(here / "f.exr"));
    const Answer resumed = on_machines(2, here, words, cache);
    ASSERT_EQ(resumed.status, 0) << resumed;
    EXPECT_TRUE(resumed.says("Went on from what an earlier run")) << resumed;
    const Answer alone = rushlight(other, words);
    ASSERT_EQ(alone.status, 0) << alone;
    EXPECT_TRUE(dateless_bytes_of(here / "f.exr") == dateless_bytes_of(other / "f.exr"));
}

}  // namespace
}  // namespace rushlight::testing_command
