// glTF 2.0 in, clean triangles out. What the format says (metres, y up, transforms of nodes, accessors) is from memory
// of ISO/IEC 12113; areas and places are worked out by hand beside each check.
#include "setup/model/model_checks.h"
#include "setup/model/rough_model.h"
#include "setup/read/setup_file.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <stdlib.h>
#include <unistd.h>

namespace rushlight {
namespace {

using namespace model_checks;

const std::string models = RUSHLIGHT_SOURCE "/tests/setup/models/";

RoughModel read(const std::string& path) {
    RoughModelRequest request;
    request.path = path;
    request.up = "y";
    request.is_room = true;
    return read_rough_model(request);
}

// A room of 4 x 3 x 2.5 m, 2 (12 + 10 + 7.5) = 59 m2, and in its middle a table of 1.2 x 0.6 x 0.75 m, turned by a
// right angle: 2 (0.72 + 0.9 + 0.45) = 4.14 m2. Its floor lies at -1.2.
TEST(Gltf, NodesAreScaledTurnedAndMoved) {
    for (const char* name : {"room.gltf", "room.glb"}) {
        const RoughModel m = read(models + name);
        EXPECT_EQ(m.triangles.faces.size(), 24U) << name;
        EXPECT_NEAR(area(m), 59 + 4.14, 1e-4) << name;
        EXPECT_NEAR(m.lower.z, -1.2, 1e-6);
        EXPECT_NEAR(m.upper.z, 1.3, 1e-6);
        EXPECT_NEAR(m.upper.x - m.lower.x, 4, 1e-6);
        EXPECT_NEAR(m.upper.y - m.lower.y, 3, 1e-6);
        EXPECT_EQ(m.material_names, (std::vector<std::string>{"walls", "table top"}));
        EXPECT_TRUE(mentions(m.remarks, "the colour in the file is used for 'table top'")) << name;
        EXPECT_TRUE(mentions(m.remarks, "its floor is at z = -1.2 m")) << name;
        // The table, turned: 0.6 along x, 1.2 across, its middle at (2, 1.5) of glTF's floor, which is (2, -1.5) here.
        Vec3 low(9, 9, 9), high(-9, -9, -9);
        for (const auto& f : m.triangles.faces)
            if (m.triangles.finishes[f.finish].name == "table top")
                for (const auto c : f.corner)
                    for (int i = 0; i < 3; ++i) {
                        low[i] = std::min(low[i], m.triangles.positions[c][i]);
                        high[i] = std::max(high[i], m.triangles.positions[c][i]);
                    }
        EXPECT_NEAR(high.x - low.x, 0.6, 1e-5);
        EXPECT_NEAR(high.y - low.y, 1.2, 1e-5);
        EXPECT_NEAR((high.x + low.x) / 2, 2, 1e-5);
        EXPECT_NEAR((high.y + low.y) / 2, -1.5, 1e-5);
    }
}

std::string text_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

/// A file of this test alone, as tests run side by side; gone when the test is over.
struct WrittenModel {
    std::string path;
    explicit WrittenModel(const std::string& text) {
        path = (std::filesystem::temp_directory_path() / "rushlight-XXXXXX.gltf").string();
        ::close(::mkstemps(path.data(), 5));
        std::ofstream(path, std::ios::binary) << text;
    }
    WrittenModel(const WrittenModel&) = delete;
    WrittenModel& operator=(const WrittenModel&) = delete;
    ~WrittenModel() { std::filesystem::remove(path); }
};

class BrokenGltf : public testing::TestWithParam<std::array<std::string, 3>> {};

TEST_P(BrokenGltf, IsRefusedInOneLine) {
    const auto& [from, to, expected] = GetParam();
    std::string text = text_of(models + "room.gltf");
    const auto at = text.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    text.replace(at, from.size(), to);
    const WrittenModel model(text);
    try {
        read(model.path);
        ADD_FAILURE() << "was read without complaint: " << to;
    } catch (const InputError& e) {
        const std::string said = e.what();
        EXPECT_NE(said.find(expected), std::string::npos) << said;
        EXPECT_EQ(said.find('\n'), std::string::npos) << said;
    }
}

INSTANTIATE_TEST_SUITE_P(
    All, BrokenGltf,
    testing::Values(std::array<std::string, 3>{"\"count\": 36", "\"count\": 360", "outside its buffer"},
                    std::array<std::string, 3>{"\"count\": 8", "\"count\": 7", "found corner 7 in a mesh of 7 points"},
                    std::array<std::string, 3>{"\"byteOffset\": 96", "\"byteOffset\": 960", "outside its buffer"},
                    std::array<std::string, 3>{"\"mesh\": 1", "\"mesh\": 9", "found mesh 9"},
                    std::array<std::string, 3>{"\"mesh\": 1", "\"children\": [1]", "without an end"},
                    std::array<std::string, 3>{"{\n \"asset\"", "{\n \"asset", "not a glTF file"},
                    std::array<std::string, 3>{"\"componentType\": 5123", "\"componentType\": 5122", "whole numbers"},
                    std::array<std::string, 3>{"\"scene\": 0",
                                               "\"extensionsRequired\": [\"KHR_draco_mesh_compression\"], \"scene\": 0",
                                               "packed triangles"}));

// A scan that leans by 3 degrees about y: sin 3 deg = .0523, cos 3 deg = .9986.
TEST(Gltf, AFloorThatLeansIsSaid) {
    std::string text = text_of(models + "room.gltf");
    const std::string level = "\"mesh\": 0,";
    text.replace(text.find(level), level.size(), "\"mesh\": 0, \"rotation\": [0.026177, 0, 0, 0.999657],");
    const RoughModel m = read(WrittenModel(text).path);
    EXPECT_TRUE(mentions(m.remarks, "its floor leans by 3 degrees")) << testing::PrintToString(m.remarks);
}

}  // namespace
}  // namespace rushlight
