// Ctrl-C: what was reached is kept, and it is said that it was cut short.
#include "command/program.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace rushlight::testing_command {
namespace {

constexpr int ended_early = 130;  // 128 and the number of SIGINT, as shells count

const std::string file = overcast + room + window + lamp + meter + camera;

TEST(Interrupt, AReadingSaysWhatWasReached) {
    const Scratch here;
    here.with("f.toml", file);
    const Answer a = rushlight(here, {"read", "f.toml", "--error", "0.001%"}, 2);
    EXPECT_EQ(a.status, ended_early) << a;
    EXPECT_GE(a.seconds, 2) << a;
    EXPECT_LT(a.seconds, 60) << a;
    EXPECT_NE(a.out.find("table"), std::string::npos) << a;
    EXPECT_TRUE(a.says("Stopped at your request")) << a;
}

TEST(Interrupt, TheNumbersAreSound) {
    const Scratch here;
    here.with("f.toml", file);
    const Answer a = rushlight(here, {"read", "f.toml", "--error", "0.001%", "--json", "-o", "r.json"}, 2);
    EXPECT_EQ(a.status, ended_early) << a;
    const auto sheet = nlohmann::json::parse(std::ifstream(here / "r.json"), nullptr, false);
    ASSERT_FALSE(sheet.is_discarded()) << a;
    const double lux = sheet["readings"][0]["lux"], error = sheet["readings"][0]["error_lux"];
    EXPECT_GT(lux, 0);
    EXPECT_GT(error, 0);
    EXPECT_LT(error, 0.1 * lux);
}

TEST(Interrupt, AFrameIsWritten) {
    const Scratch here;
    here.with("f.toml", file);
    const Answer a = rushlight(here, {"frame", "f.toml", "--error", "0.001%", "--width", "64", "-o", "f.png"}, 2);
    EXPECT_EQ(a.status, ended_early) << a;
    EXPECT_TRUE(fs::exists(here / "f.png") && fs::exists(here / "f.exr")) << a;
    EXPECT_TRUE(a.says("Stopped at your request")) << a;
}

TEST(Interrupt, AMapIsWritten) {
    const Scratch here;
    here.with("f.toml", file);
    const Answer a =
        rushlight(here, {"map", "f.toml", "--error", "0.001%", "--width", "64", "--plane", "0.8", "-o", "m.png"}, 2);
    EXPECT_EQ(a.status, ended_early) << a;
    EXPECT_TRUE(fs::exists(here / "m.png")) << a;
    EXPECT_TRUE(a.says("Stopped at your request")) << a;
}

}  // namespace
}  // namespace rushlight::testing_command
