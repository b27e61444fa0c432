// The files that come with rushlight, through all four commands.
#include "command/program.h"

#include <OpenImageIO/imageio.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rushlight::testing_command {
namespace {

struct ComesWithIt {
    const char* file;
    std::vector<std::string> sources;  // of its first set-up
};
void PrintTo(const ComesWithIt& it, std::ostream* stream) {
    *stream << it.file;
}

class Scenes : public testing::TestWithParam<ComesWithIt> {};

struct Picture {
    int width = 0, height = 0;
    std::vector<std::string> channels;
    float least = INFINITY, most = -INFINITY;
};

Picture picture(const fs::path& path) {
    Picture p;
    const auto in = OIIO::ImageInput::open(path.string());
    if (!in) return p;
    p.width = in->spec().width;
    p.height = in->spec().height;
    p.channels = in->spec().channelnames;
    std::vector<float> values(static_cast<std::size_t>(p.width) * static_cast<std::size_t>(p.height) *
                              p.channels.size());
    if (!in->read_image(0, 0, 0, -1, OIIO::TypeDesc::FLOAT, values.data())) return {};
    for (const float v : values) {
        p.least = std::min(p.least, v);
        p.most = std::max(p.most, v);
    }
    return p;
}

TEST_P(Scenes, Check) {
    const Scratch here;
    const Answer a = rushlight(here, {"check", scene(GetParam().file)});
    EXPECT_EQ(a.status, 0) << a;
    EXPECT_NE(a.out.find(": OK."), std::string::npos) << a;
    for (const std::string& source : GetParam().sources) EXPECT_NE(a.out.find(source), std::string::npos) << a;
    EXPECT_TRUE(here.files().empty());
}

TEST(Check, SaysWhatIsOff) {
    const Scratch here;
    const Answer a = rushlight(here, {"check", scene("kitchen-night.toml"), "--setup", "1 wide"});
    EXPECT_NE(a.out.find("sources:  pendant  key (off)  moon\n"), std::string::npos) << a;
}

/// People are made before anything is traced; here nothing of them is kept from an earlier run.
constexpr const char* a_while = "2s";

TEST_P(Scenes, Read) {
    const Scratch here;
    const Answer a = rushlight(here, {"read", scene(GetParam().file), "--time", a_while});
    EXPECT_EQ(a.status, 0) << a;
    for (const char* word : {"near cheek", "far cheek", "dome to lens", "Ratios", "Traced in"})
        EXPECT_NE(a.out.find(word), std::string::npos) << word << "\n" << a;
    EXPECT_TRUE(here.files().empty());
}

TEST_P(Scenes, FrameWithALayerForEverySource) {
    const Scratch here;
    const Answer a = rushlight(
        here, {"frame", scene(GetParam().file), "--time", a_while, "--width", "64", "--plain", "-o", "f.png"});
    ASSERT_EQ(a.status, 0) << a;
    // The sensor's 24.9 x 14 mm.
    const int height = static_cast<int>(std::lround(64 * 14.0 / 24.9));
    const Picture png = picture(here / "f.png");
    EXPECT_EQ(png.width, 64);
    EXPECT_EQ(png.height, height);
    EXPECT_GT(png.most, png.least);
    const Picture exr = picture(here / "f.exr");
    EXPECT_EQ(exr.width, 64);
    EXPECT_EQ(exr.height, height);
    EXPECT_TRUE(std::isfinite(exr.least) && std::isfinite(exr.most));
    EXPECT_GT(exr.most, 0);
    // Layers are numbered, so that programs that sort them keep the order.
    for (std::size_t i = 0; i < GetParam().sources.size(); ++i)
        for (const char* colour : {".R", ".G", ".B"}) {
            const std::string channel = "0" + std::to_string(i + 1) + "-" + GetParam().sources[i] + colour;
            EXPECT_EQ(std::count(exr.channels.begin(), exr.channels.end(), channel), 1) << channel;
        }
    // The whole with its luminance, each source, and the error where more than one pass tells it.
    const std::size_t with_error = a.says("not known") ? 0 : 1;
    EXPECT_EQ(exr.channels.size(), 3 * GetParam().sources.size() + 4 + with_error);
    EXPECT_EQ(here.files().size(), 2U);
}

TEST_P(Scenes, MapThroughTheCamera) {
    const Scratch here;
    const Answer a = rushlight(here, {"map", scene(GetParam().file), "--time", a_while, "--width", "64", "-o", "m"});
    ASSERT_EQ(a.status, 0) << a;
    const Picture png = picture(here / "m.png");
    EXPECT_GE(png.width, 64) << a;
    EXPECT_GT(png.most, png.least);
    EXPECT_EQ(here.files().size(), 1U);
}

TEST_P(Scenes, MapOnAPlan) {
    const Scratch here;
    // Without a name, it is made from the file's and the set-up's; a bare number is metres.
    const Answer a = rushlight(
        here, {"map", scene(GetParam().file), "--time", a_while, "--width", "96", "--plane", "1.2", "--unit", "lux"});
    ASSERT_EQ(a.status, 0) << a;
    const std::string name = fs::path(GetParam().file).stem().string() + "-1-wide-plan-map.png";
    const Picture png = picture(here / name);
    EXPECT_GE(png.width, 64) << a;
    EXPECT_GT(png.most, png.least);
    EXPECT_EQ(here.files().size(), 1U);
}

INSTANTIATE_TEST_SUITE_P(All, Scenes,
                         testing::Values(ComesWithIt{"workshop.toml", {"sky"}},
                                         ComesWithIt{"workshop-rough.toml", {"sky"}},
                                         ComesWithIt{"kitchen-night.toml", {"pendant", "key", "moon"}},
                                         ComesWithIt{"luminaire-file.toml", {"ceiling-left", "ceiling-right", "head"}}),
                         [](const auto& value) {
                             std::string name = fs::path(value.param.file).stem().string();
                             std::replace(name.begin(), name.end(), '-', '_');
                             return name;
                         });

}  // namespace
}  // namespace rushlight::testing_command
