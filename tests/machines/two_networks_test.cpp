// Machines that share no memory and no network: two namespaces of this one, joined by a virtual cable.
#include "command/same.h"
#include "machines/machines.h"

namespace rushlight::testing_command {
namespace {

constexpr int not_permitted = 77;

Answer on_two_networks(const Scratch& here, const std::vector<std::string>& words) {
    std::vector<std::string> all{RUSHLIGHT_SOURCE "/tests/machines/two_networks.sh", RUSHLIGHT_MPIRUN,
                                 RUSHLIGHT_BUILD "/rushlight-mpi"};
    all.insert(all.end(), words.begin(), words.end());
    return run(here, all, surroundings(""));
}

TEST(TwoNetworks, GiveTheBitsOfOneMachine) {
    const Scratch alone, together;
    for (const Scratch* s : {&alone, &together}) s->with("f.toml", overcast + room + window + lamp + meter + camera);
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"read", "f.toml", "--error", "2%", "--json"},
          std::vector<std::string>{"frame", "f.toml", "--error", "60%", "--width", "160", "-o", "f.png"}}) {
        const Answer all = on_two_networks(together, words);
        if (all.status == not_permitted) GTEST_SKIP() << "needs root and network namespaces";
        const Answer one = rushlight(alone, words);
        ASSERT_EQ(all.status, 0) << all;
        if (words.front() == "read")
            EXPECT_EQ(timeless(one.out), timeless(all.out));
        else
            EXPECT_TRUE(dateless_bytes_of(alone / "f.exr") == dateless_bytes_of(together / "f.exr"));
    }
}

}  // namespace
}  // namespace rushlight::testing_command
