// One question, one answer, to the last bit, on however many machines.
#include "machines/machines.h"

#include <nlohmann/json.hpp>

namespace rushlight::testing_command {
namespace {

const std::string file = overcast + room + window + lamp + meter + camera + R"([[mark]]
name = "A"
at = [2.5, 2.0]
facing = [5, 2]
[[lamp]]
name = "back"
shape = "hard"
at = [1.5, 3.7, 2.2]
aim = "A"
output = "1500 lx at 3 m"
[[option]]
name = "dim"
  [[option.change]]
  lamp = "key"
  level = "50%"
)";

/// Without how long it took, which is never twice the same.
nlohmann::json timeless(nlohmann::json j) {
    if (j.is_object()) j.erase("seconds");
    for (auto& part : j) part = timeless(part);
    return j;
}
std::string bytes_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

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
        const auto one = timeless(nlohmann::json::parse(one_.out)), all = timeless(nlohmann::json::parse(all_.out));
        EXPECT_GT(one.size(), 0U);
        EXPECT_EQ(one, all);
    }
    void expect_same_file(const std::string& name) {
        const std::string one = bytes_of(alone_ / name);
        EXPECT_GT(one.size(), 100U) << name;
        EXPECT_TRUE(one == bytes_of(together_ / name)) << name;
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
    const std::vector<std::string> words{"read", "f.toml", "--error", "20%", "--json"};
    for (const Scratch* s : {&alone, &together}) s->with("f.toml", dark + room + lamp + meter);
    const Answer one = rushlight(alone, words), all = on_machines(30, together, words);
    ASSERT_EQ(all.status, 0) << all;
    EXPECT_EQ(timeless(nlohmann::json::parse(one.out)), timeless(nlohmann::json::parse(all.out)));
}

TEST(Machines, UseTheLayersKeptByTheFirst) {
    const Scratch here;
    here.with("f.toml", file);
    const std::string cache = (here / "cache").string();
    const std::vector<std::string> words{"read", "f.toml", "--error", "5%", "--json"};
    const Answer traced = on_machines(2, here, words, cache), kept = on_machines(3, here, words, cache);
    const Answer alone = rushlight(here, words, 0, cache);
    ASSERT_EQ(kept.status, 0) << kept;
    for (const Answer* a : {&kept, &alone}) EXPECT_TRUE(a->says("From layers kept of an earlier run")) << *a;
    EXPECT_EQ(timeless(nlohmann::json::parse(kept.out)["readings"]),
              timeless(nlohmann::json::parse(traced.out)["readings"]));
}

}  // namespace
}  // namespace rushlight::testing_command
