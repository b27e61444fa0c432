// OBJ text in, clean triangles out. The format's rules (indices count from 1, negative ones from the end,
// `usemtl` runs to the end of its line) are those of the published OBJ description,
// from memory; areas and counts are worked out by hand beside each check.
#include "setup/model/rough_model.h"
#include "setup/model/model_checks.h"

#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>

namespace rushlight {
namespace {

using namespace model_checks;

class RoughModelFile : public testing::Test {
protected:
    RoughModelFile() {
        const auto* info = testing::UnitTest::GetInstance()->current_test_info();
        folder_ = std::filesystem::temp_directory_path() / (std::string("rough_model_") + info->name());
        std::filesystem::create_directories(folder_);
        request_.path = (folder_ / "model.obj").string();
        request_.otherwise.name = "plain";
    }
    ~RoughModelFile() override { std::filesystem::remove_all(folder_); }

    void write(const std::string& text, const std::string& name = "model.obj") const {
        std::ofstream(folder_ / name, std::ios::binary) << text;
    }
    RoughModel read(const std::string& text) const {
        write(text);
        return read_rough_model(request_);
    }
    /// What is said about a file that cannot be read, without its folder.
    std::string refusal(const std::string& text) const {
        try {
            read(text);
        } catch (const InputError& e) {
            const std::string said = e.what();
            EXPECT_EQ(said.find('\n'), std::string::npos) << said;
            EXPECT_LT(said.size(), 400U) << said;
            return said.substr(std::min(said.size(), folder_.string().size() + 1));
        }
        ADD_FAILURE() << "was read without complaint";
        return {};
    }

    std::filesystem::path folder_;
    RoughModelRequest request_;
};

const std::string unit_square = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\n";

TEST_F(RoughModelFile, SquareBecomesTwoTriangles) {
    const RoughModel m = read(unit_square + "f 1 2 3 4\n");
    EXPECT_EQ(m.triangles.faces.size(), 2U);
    EXPECT_NEAR(area(m), 1.0, 1e-6);
    EXPECT_EQ(m.lower, Vec3(0, 0, 0));
    EXPECT_EQ(m.upper, Vec3(1, 1, 0));
    ASSERT_EQ(m.triangles.finishes.size(), 1U);
    EXPECT_EQ(m.triangles.finishes[0].name, "plain");
    EXPECT_TRUE(mentions(m.remarks, "names no materials"));
}

TEST_F(RoughModelFile, NegativeIndicesCountBackFromTheFace) {
    // -1 is the last point above the face, not the last of the file.
    const RoughModel m = read(unit_square + "f -4 -3 -2\nv 9 9 9\nv 9 9 8\n");
    EXPECT_EQ(m.triangles.faces.size(), 1U);
    EXPECT_NEAR(area(m), 0.5, 1e-6);
    EXPECT_EQ(m.upper, Vec3(1, 1, 0)) << "points without a face must not stretch the model";
}

TEST_F(RoughModelFile, HollowPolygonKeepsItsArea) {
    // A comb: 3 x 1 with two notches of 0.6 x 0.9 leaves 3 - 1.08 = 1.92.
    const RoughModel m = read(
        "v 0 0 5\nv 3 0 5\nv 3 1 5\nv 2.6 1 5\nv 2.6 .1 5\nv 2 .1 5\nv 2 1 5\nv 1.2 1 5\nv 1.2 .1 5\nv .6 .1 5\n"
        "v .6 1 5\nv 0 1 5\nf 1 2 3 4 5 6 7 8 9 10 11 12\n");
    EXPECT_EQ(m.triangles.faces.size(), 10U);  // corners less two
    EXPECT_NEAR(area(m), 1.92, 1e-5);
    for (const auto& f : m.triangles.faces) {  // wound as drawn: all face up
        const auto& p = m.triangles.positions;
        EXPECT_GT((p[f.corner[1]] - p[f.corner[0]]).cross(p[f.corner[2]] - p[f.corner[0]]).z, 0);
    }
}

TEST_F(RoughModelFile, HollowPolygonFarAwayKeepsItsArea) {
    // The same in survey coordinates: an L of 2 x 2 less 1 x 1, in a place 300 km and 5,000 km away.
    request_.move = Vec3(-300000, -900000, 0);
    const RoughModel m = read(
        "v 300000 900000 0\nv 300002 900000 0\nv 300002 900001 0\nv 300001 900001 0\nv 300001 900002 0\n"
        "v 300000 900002 0\nf 1 2 3 4 5 6\n");
    EXPECT_NEAR(area(m), 3.0, 1e-5);
    EXPECT_EQ(m.upper, Vec3(2, 2, 0));
}

TEST_F(RoughModelFile, WallDrawnAroundAWindowKeepsTheHole) {
    // A 4 x 3 wall with a 1 x 1 hole, drawn in one stroke through a bridge: 11 m2.
    const RoughModel m =
        read("v 0 0 0\nv 4 0 0\nv 4 3 0\nv 0 3 0\nv 1 1 0\nv 1 2 0\nv 2 2 0\nv 2 1 0\nf 1 2 3 4 1 5 6 7 8 5\n");
    EXPECT_NEAR(area(m), 11.0, 1e-5);
    EXPECT_FALSE(mentions(m.remarks, "crosses itself"));
}

TEST_F(RoughModelFile, CrossedPolygonIsSaid) {
    const RoughModel m = read("v 0 0 0\nv 3 0 0\nv 0 1 0\nv 2 1 0\nv 1 3 0\nf 1 2 3 4 5\n");
    EXPECT_TRUE(mentions(m.remarks, "crosses itself")) << testing::PrintToString(m.remarks);
}

TEST_F(RoughModelFile, RepeatedCornersAndFlatFacesAreCounted) {
    const RoughModel m = read(unit_square + "f 1 1 2 3\nf 1 2\nf 1 2 2\nv 2 0 0\nf 1 2 5\nf 1 2 3\n");
    EXPECT_EQ(m.triangles.faces.size(), 2U);  // the repeated corner goes, the triangle stays, drawn twice
    EXPECT_TRUE(mentions(m.remarks, "2 faces with fewer than three different corners left out (first on line 6)"))
        << testing::PrintToString(m.remarks);
    EXPECT_TRUE(mentions(m.remarks, "1 triangle without area left out (first on line 9)"));
}

TEST_F(RoughModelFile, MaterialNamesMayHoldSpaces) {
    request_.finish_of["grey card"].reflectance = Spectrum{0.18F};
    request_.opening_of["Window glass"].glass = 0.7;
    request_.opening_of["Window glass"].name = "windows";
    const RoughModel m =
        read(unit_square + "usemtl grey card \r\nf 1 2 3\nusemtl Window glass\nf 1 3 4\nusemtl grey\nf 1 2 4\n");
    EXPECT_EQ(m.material_names, (std::vector<std::string>{"grey card", "Window glass", "grey"}));
    ASSERT_EQ(m.openings.size(), 1U);
    EXPECT_EQ(m.openings[0].name, "windows");
    EXPECT_EQ(m.openings[0].triangles.size(), 1U);
    EXPECT_DOUBLE_EQ(m.openings[0].glass, 0.7);
    EXPECT_EQ(m.triangles.faces.size(), 2U);
    EXPECT_EQ(m.triangles.finishes.at(m.triangles.faces[0].finish).name, "grey card");
    EXPECT_EQ(m.triangles.finishes.at(m.triangles.faces[0].finish).reflectance, Spectrum{0.18F});
    EXPECT_EQ(m.triangles.finishes.at(m.triangles.faces[1].finish).name, "plain");
    EXPECT_TRUE(mentions(m.remarks, "no finish is given for 'grey'"));
}

TEST_F(RoughModelFile, UnusedNamesAreAnsweredByTheNearest) {
    request_.opening_of["Windw glass"].name = "windows";
    const RoughModel m = read("mtllib nowhere.mtl\n" + unit_square + "usemtl Window glass\nf 1 2 3\n");
    EXPECT_TRUE(mentions(m.remarks, "no face has the material 'Windw glass'; did you mean 'Window glass'?"))
        << testing::PrintToString(m.remarks);
}

TEST_F(RoughModelFile, ColoursComeFromTheMaterialFileBesideTheModel) {
    request_.path = RUSHLIGHT_SOURCE "/tests/setup/models/stool.obj";
    request_.finish_of["black paint"].reflectance = Spectrum{0.05F};
    const RoughModel m = read_rough_model(request_);
    // Seat 0.4 x 0.4 less a notch of half 0.4 x 0.2: 0.12; leg 0.04 x 0.46 = 0.0184.
    EXPECT_NEAR(area(m), 0.12 + 0.0184, 1e-6);
    ASSERT_EQ(m.triangles.finishes.size(), 2U);
    EXPECT_EQ(m.triangles.finishes[0].name, "turned ash");
    EXPECT_EQ(m.triangles.finishes[0].reflectance, reflectance_from_rgb(0.5F, 0.4F, 0.3F));
    EXPECT_EQ(m.triangles.finishes[1].reflectance, Spectrum{0.05F});
    EXPECT_TRUE(mentions(m.remarks, "the colour in the file is used for 'turned ash'"));
}

TEST_F(RoughModelFile, MaterialFilesElsewhereAreNotOpened) {
    std::filesystem::create_directories(folder_ / "inner");
    write("newmtl a\nKd 1 0 0\n", "other.mtl");
    std::ofstream(folder_ / "inner" / "model.obj") << "mtllib ../other.mtl\n" + unit_square + "usemtl a\nf 1 2 3\n";
    request_.path = (folder_ / "inner" / "model.obj").string();
    EXPECT_EQ(read_rough_model(request_).triangles.finishes.at(0).name, "plain");
}

TEST_F(RoughModelFile, UnitsThenUpThenTurnThenMove) {
    request_.metres_per_unit = 0.001;
    request_.up = "y";
    request_.turn = 90;
    request_.move = Vec3(10, 20, 0.5F);
    // 4 m to the right, 3 m up, 2 m into the room (-z of a y-up file). Turned by 90 degrees anticlockwise the
    // right becomes +y and the depth -x.
    const RoughModel m = read("v 0 0 0\nv 4000 0 0\nv 4000 3000 0\nv 0 0 -2000\nf 1 2 3\nf 1 2 4\n");
    const Vec3 low(8, 20, 0.5F), high(10, 24, 3.5F);
    EXPECT_LT((m.lower - low).length(), 1e-5F) << m.lower.x << " " << m.lower.y << " " << m.lower.z;
    EXPECT_LT((m.upper - high).length(), 1e-5F) << m.upper.x << " " << m.upper.y << " " << m.upper.z;
}

TEST_F(RoughModelFile, EveryUpAxisIsATurnAndNotAMirror) {
    const std::map<std::string, Vec3> up{{"x", {1, 0, 0}},   {"y", {0, 1, 0}},   {"z", {0, 0, 1}},
                                         {"-x", {-1, 0, 0}}, {"-y", {0, -1, 0}}, {"-z", {0, 0, -1}}};
    for (const auto& [name, axis] : up) {
        request_.up = name;
        const auto text = [](const Vec3& p) {
            return "v " + std::to_string(p.x) + " " + std::to_string(p.y) + " " + std::to_string(p.z) + "\n";
        };
        // Axes as three triangles that share the origin, plus the file's up.
        const RoughModel m = read(text({0, 0, 0}) + text({1, 0, 0}) + text({0, 1, 0}) + text({0, 0, 1}) + text(axis) +
                                  text({0.3F, 0.5F, 0.7F}) + "f 1 2 6\nf 1 3 6\nf 1 4 6\nf 1 5 6\n");
        const auto at = [&](std::size_t face) { return m.triangles.positions[m.triangles.faces[face].corner[1]]; };
        EXPECT_NEAR(at(0).cross(at(1)).dot(at(2)), 1.0F, 1e-6F) << name;
        EXPECT_LT((at(3) - Vec3(0, 0, 1)).length(), 1e-6F) << name;
    }
}

TEST_F(RoughModelFile, UnlikelySizesSuggestAUnit) {
    EXPECT_TRUE(
        mentions(read("v 0 0 0\nv 9000 0 0\nv 0 6000 0\nf 1 2 3\n").remarks,
                 "it is 9000 m across with 1 m a unit; if it is drawn in millimetres (0.001 m a unit) it is 9 m"));
    request_.metres_per_unit = 0.001;
    EXPECT_TRUE(mentions(read("v 0 0 0\nv 9 0 0\nv 0 6 0\nf 1 2 3\n").remarks, "drawn in metres (1 m a unit)"));
    EXPECT_FALSE(mentions(read("v 0 0 0\nv 9000 0 0\nv 0 6000 0\nf 1 2 3\n").remarks, "across"));
}

TEST_F(RoughModelFile, WrongNumbersAreAnsweredByLineAndColumn) {
    const std::string s = unit_square;  // lines 1 to 4
    EXPECT_EQ(refusal(s + "f 1 2 99\n").substr(0, 36), "model.obj:5:7: found corner '99', ex");
    EXPECT_EQ(refusal(s + "f -9 -2 -1\n").substr(0, 36), "model.obj:5:3: found corner '-9', ex");
    EXPECT_EQ(refusal(s + "f 0 1 2\n").substr(0, 34), "model.obj:5:3: found corner '0', e");
    EXPECT_EQ(refusal(s + "f 1 2 three\n").substr(0, 38), "model.obj:5:7: found corner 'three', e");
    // The OBJ library makes two corners of this, the second without a number.
    EXPECT_EQ(refusal(s + "f -3 -2//10-2//1 -1\n").substr(0, 45), "model.obj:5:6: found corner '-2//10-2//1', ex");
    EXPECT_EQ(refusal(s + "f 1 2 99999999999999999999\n").substr(0, 27), "model.obj:5:7: found corner");
    EXPECT_EQ(refusal(s + "f 1 2 4294967297\n").substr(0, 27), "model.obj:5:7: found corner");
    EXPECT_EQ(refusal("v 0 nan 0\n" + s).substr(0, 38), "model.obj:1:5: found coordinate 'nan',");
    EXPECT_EQ(refusal("v 0 0 -inf\n" + s).substr(0, 38), "model.obj:1:7: found coordinate '-inf'");
    EXPECT_EQ(refusal("v 1e300 0 0\n" + s).substr(0, 38), "model.obj:1:3: found coordinate '1e300");
    EXPECT_EQ(refusal("v 1e999 0 0\n" + s).substr(0, 38), "model.obj:1:3: found coordinate '1e999");
    EXPECT_EQ(refusal("v 1,5 0 0\n" + s).substr(0, 28), "model.obj:1:3: found '1,5', ");
    EXPECT_EQ(refusal("v 1 2\n" + s).substr(0, 26), "model.obj:1: found a point");
    EXPECT_EQ(refusal("v 1 \\\n 2 x\n" + s).substr(0, 12), "model.obj:1:");
}

TEST_F(RoughModelFile, FilesThatAreNoModelGetOneClearLine) {
    EXPECT_EQ(refusal(""), "model.obj: found no faces, expected a model of triangles or polygons");
    EXPECT_EQ(refusal("# nothing\n"), "model.obj: found no faces, expected a model of triangles or polygons");
    EXPECT_TRUE(refusal(unit_square).find("point cloud") != std::string::npos);
    EXPECT_TRUE(refusal(unit_square + "p 1 2 3 4\n").find("point cloud") != std::string::npos);
    EXPECT_TRUE(refusal(unit_square + "f 1 1 1\nf 2 2 2\n").find("without any area") != std::string::npos);
    EXPECT_TRUE(refusal(std::string("\xFF\xFEv\0 \0", 6)).find("UTF-16") != std::string::npos);
    EXPECT_TRUE(refusal(std::string("v\0 \0001\0\n\0", 8)).find("byte 0x00") != std::string::npos);
    EXPECT_TRUE(refusal(std::string("\x7f"
                                    "ELF\x02\x01\x01\0\0",
                                    9))
                    .find("byte 0x02") != std::string::npos);
    EXPECT_TRUE(refusal("v " + std::string(1 << 20, '1') + "\n").find("line of more than") != std::string::npos);
    std::string many = unit_square + "f";
    for (int i = 0; i < 2000; ++i) many += " " + std::to_string(i % 4 + 1);
    EXPECT_TRUE(refusal(many + "\n").find("more than 1000 corners") != std::string::npos);
    request_.path = folder_.string();
    EXPECT_THROW(read_rough_model(request_), InputError);
    request_.path = (folder_ / "absent.obj").string();
    EXPECT_THROW(read_rough_model(request_), InputError);
}

TEST_F(RoughModelFile, RequestsThatMakeNoSenseAreRefused) {
    write(unit_square + "f 1 2 3\n");
    request_.up = "w";
    EXPECT_THROW(read_rough_model(request_), InputError);
    request_.up = "z";
    for (double unit : {0.0, -1.0, std::nan(""), HUGE_VAL}) {
        request_.metres_per_unit = unit;
        EXPECT_THROW(read_rough_model(request_), InputError) << unit;
    }
}

TEST_F(RoughModelFile, CountsInTheFileAllocateNothing) {
    // A tag line announces two thousand million numbers.
    const RoughModel m = read("t crease 2000000000/2000000000/2000000000 1\n" + unit_square + "f 1 2 3\n");
    EXPECT_EQ(m.triangles.faces.size(), 1U);
}

TEST_F(RoughModelFile, LineEndingsMarksAndJoinedLinesAreRead) {
    const RoughModel m = read("\xEF\xBB\xBFv 0 0 0\r\nv 1 0 0\r\nv 1 1 0\rv 0 1 0\r\nf 1 2 \\\r\n 3 4 # 2 seats");
    EXPECT_EQ(m.triangles.faces.size(), 2U);
}

TEST_F(RoughModelFile, HalfAMillionTrianglesTakeSeconds) {
    // 500 x 501 squares of 10 mm: 501,000 triangles, 25.05 m2.
    std::string text;
    for (int y = 0; y <= 501; ++y)
        for (int x = 0; x <= 500; ++x)
            text += "v " + std::to_string(x * 0.01) + " " + std::to_string(y * 0.01) + " 0\n";
    for (int y = 0; y < 501; ++y)
        for (int x = 0; x < 500; ++x) {
            const int a = y * 501 + x + 1;
            text += "f " + std::to_string(a) + " " + std::to_string(a + 1) + " " + std::to_string(a + 502) + " " +
                    std::to_string(a + 501) + "\n";
        }
    write(text);
    const auto start = std::chrono::steady_clock::now();
    const RoughModel m = read_rough_model(request_);
    EXPECT_LT(std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(), 10.0);
    EXPECT_EQ(m.triangles.faces.size(), 501000U);
    EXPECT_NEAR(area(m), 25.05, 0.01);
    EXPECT_TRUE(mentions(m.remarks, "501,000 triangles"));
}

TEST_F(RoughModelFile, ScannedWorkshopIsTheRoomThatWasMeasured) {
    request_.path = RUSHLIGHT_SOURCE "/scenes/workshop-rough.obj";
    request_.up = "y";
    request_.metres_per_unit = 0.001;
    request_.opening_of["Window glass"].name = "windows";
    const RoughModel m = read_rough_model(request_);
    ASSERT_EQ(m.openings.size(), 1U);
    double glass = 0;
    for (const auto& t : m.openings[0].triangles) {
        glass += static_cast<double>((t[1] - t[0]).cross(t[2] - t[0]).length()) / 2;
        for (const Vec3& p : t) EXPECT_NEAR(p.y, -0.45F, 0.02F) << "glass lies in the outer face of the wall";
    }
    EXPECT_NEAR(glass, 3 * 1.1 * 2.4, 0.1);  // three windows, 1.1 wide, sill 0.9 to head 3.3
    EXPECT_NEAR(m.lower.x, 0, 0.02F);
    EXPECT_NEAR(m.lower.z, 0, 0.02F);
    EXPECT_NEAR(m.upper.x, 9.0F, 0.02F);
    EXPECT_NEAR(m.upper.y, 6.0F, 0.02F);
    EXPECT_NEAR(m.upper.z, 4.2F, 0.02F);
    EXPECT_EQ(m.material_names.size(), 5U);
}

}  // namespace
}  // namespace rushlight
