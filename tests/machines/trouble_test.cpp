// What goes wrong on several machines is said once, in one sentence, and leaves nothing half written.
#include "machines/machines.h"

namespace rushlight::testing_command {
namespace {

const std::string file = overcast + room + window + lamp + meter + camera;

/// Our own lines; whoever started the machines adds its own.
std::vector<std::string> our_lines(const Answer& a) {
    std::vector<std::string> lines;
    std::istringstream in(a.err);
    for (std::string line; std::getline(in, line);)
        if (line.rfind("rushlight: ", 0) == 0 || line.rfind("f.toml:", 0) == 0) lines.push_back(line);
    return lines;
}

TEST(Machines, WrongInputIsSaidOnce) {
    const Scratch here;
    here.with("f.toml", file + "[[lamp]]\nname = \"x\"\nshap = \"box\"\n");
    const Answer a = on_machines(3, here, {"read", "f.toml"});
    EXPECT_EQ(a.status, 2) << a;
    ASSERT_EQ(our_lines(a).size(), 1U) << a;
    EXPECT_NE(our_lines(a)[0].find("'shap'"), std::string::npos) << a;
}

TEST(Machines, TheDeskIsForOne) {
    const Scratch here;
    here.with("f.toml", file);
    const Answer a = on_machines(2, here, {"desk", "f.toml"});
    EXPECT_EQ(a.status, 2) << a;
    EXPECT_TRUE(a.says("the desk works on one machine alone")) << a;
}

/// A shell that goes to the folder of its own number before it starts the program.
Answer each_in_its_folder(const Scratch& here, const std::string& words) {
    const std::string go = "cd machine-$OMPI_COMM_WORLD_RANK && exec " RUSHLIGHT_BUILD "/rushlight-mpi " + words;
    return run(here, {RUSHLIGHT_MPIRUN, "-n", "3", "sh", "-c", go}, surroundings(""));
}

TEST(Machines, UnevenFilesAreRefused) {
    const Scratch here;
    for (const char* machine : {"machine-0", "machine-1", "machine-2"}) fs::create_directory(here / machine);
    here.with("machine-0/f.toml", file);
    here.with("machine-1/f.toml", file);
    std::string other = file;
    other.replace(other.find("9000 lm"), 7, "9001 lm");
    here.with("machine-2/f.toml", other);
    const Answer a = each_in_its_folder(here, "read f.toml");
    EXPECT_EQ(a.status, 2) << a;
    ASSERT_EQ(our_lines(a).size(), 1U) << a;
    EXPECT_NE(our_lines(a)[0].find("machine 3 of 3"), std::string::npos) << a;
    EXPECT_NE(our_lines(a)[0].find("another set-up file"), std::string::npos) << a;
}

TEST(Machines, AFileThatOneCannotReadIsNamedWithTheMachine) {
    const Scratch here;
    for (const char* machine : {"machine-0", "machine-1", "machine-2"}) fs::create_directory(here / machine);
    here.with("machine-0/f.toml", file);
    here.with("machine-2/f.toml", file);
    const Answer a = each_in_its_folder(here, "frame f.toml --error 0.1% --width 64 -o f.png");
    EXPECT_EQ(a.status, 2) << a;
    ASSERT_EQ(our_lines(a).size(), 1U) << a;
    EXPECT_NE(our_lines(a)[0].find("machine 2 of 3"), std::string::npos) << a;
    EXPECT_NE(our_lines(a)[0].find("there is no such file"), std::string::npos) << a;
    EXPECT_EQ(here.files().size(), 5U) << a;
}

TEST(Machines, OtherWordsAreRefused) {
    const Scratch here;
    here.with("f.toml", file);
    const std::string go = "exec " RUSHLIGHT_BUILD "/rushlight-mpi read f.toml --seed $((1 + OMPI_COMM_WORLD_RANK))";
    const Answer a = run(here, {RUSHLIGHT_MPIRUN, "-n", "2", "sh", "-c", go}, surroundings(""));
    EXPECT_EQ(a.status, 2) << a;
    EXPECT_TRUE(a.says("machine 2 of 2")) << a;
    EXPECT_TRUE(a.says("was started with other words")) << a;
}

// A machine is lost in the middle: the second one writes down its process, which is then killed.
TEST(Machines, ALostMachineEndsTheRestWithASentence) {
    const Scratch here;
    here.with("f.toml", file);
    const std::string go =
        "if [ $OMPI_COMM_WORLD_RANK = 1 ]; then (p=$$; until ls cache/rushlight/layers/*.layers; do sleep 0.05; done; "
        "kill -9 $p) > /dev/null 2>&1 & fi; exec " RUSHLIGHT_BUILD
        "/rushlight-mpi frame f.toml --error 0.1% --width 64 -o f.png --keep-every 1s";
    const Answer a = run(here, {RUSHLIGHT_MPIRUN, "-n", "3", "sh", "-c", go}, surroundings((here / "cache").string()));
    EXPECT_NE(a.status, 0) << a;
    EXPECT_FALSE(a.hung);
    EXPECT_LT(a.seconds, 60) << a;
    ASSERT_EQ(our_lines(a).size(), 1U) << a;
    EXPECT_NE(our_lines(a)[0].find("a machine was lost"), std::string::npos) << a;
    EXPECT_TRUE(a.says("rank 1")) << a;
    EXPECT_FALSE(fs::exists(here / "f.png") || fs::exists(here / "f.exr"));
}

// The starter hands this signal on to all: as Ctrl-C on one machine.
TEST(Machines, StopAndKeepWhatWasReached) {
    const Scratch here;
    here.with("f.toml", file);
    // At work, and so listening, once something is kept.
    const fs::path kept = here / "cache" / "rushlight" / "layers";
    std::error_code none;
    const auto at_work = [&](double) { return fs::exists(kept, none) && !fs::is_empty(kept, none); };
    const Answer a = on_machines(
        2, here, {"frame", "f.toml", "--error", "0.1%", "--width", "64", "-o", "f.png", "--keep-every", "1s"},
        (here / "cache").string(), {SIGUSR1, at_work});
    EXPECT_EQ(a.status, 130) << a;
    EXPECT_TRUE(a.says("Stopped at your request")) << a;
    EXPECT_TRUE(fs::exists(here / "f.png") && fs::exists(here / "f.exr")) << a;
}

}  // namespace
}  // namespace rushlight::testing_command
