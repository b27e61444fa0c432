// Models and pictures that ask for more than they are: depth, bytes, materials, work, and names that a terminal obeys.
#include "setup/model/model_checks.h"
#include "setup/picture/hung_picture.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <stdlib.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <tuple>

namespace rushlight {
namespace {

using namespace model_checks;
namespace fs = std::filesystem;

class HardModels : public testing::Test {
protected:
    void SetUp() override {
        std::string name = (fs::temp_directory_path() / "rushlight-hard-XXXXXX").string();
        ASSERT_NE(::mkdtemp(name.data()), nullptr);
        folder = name;
    }
    void TearDown() override { fs::remove_all(folder); }
    std::string with(const std::string& name, const std::string& bytes) const {
        std::ofstream(folder / name, std::ios::binary) << bytes;
        return (folder / name).string();
    }
    RoughModel read(const std::string& name, const std::string& bytes) const {
        RoughModelRequest request;
        request.path = with(name, bytes);
        return read_rough_model(request);
    }
    std::string refusal(const std::string& name, const std::string& bytes) const {
        try {
            read(name, bytes);
        } catch (const InputError& e) {
            return e.what();
        }
        return "was read without complaint";
    }
    std::string picture_refusal(const std::string& name, const std::string& bytes) const {
        try {
            read_picture_cells(with(name, bytes));
        } catch (const InputError& e) {
            return e.what();
        }
        return "was read without complaint";
    }
    fs::path folder;
};

std::string bytes_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}
std::string sample(const std::string& name) {
    return bytes_of(fs::path(RUSHLIGHT_SOURCE) / "tests" / name);
}

std::string brackets(std::size_t n) {
    return std::string(n, '[') + std::string(n, ']');
}

TEST_F(HardModels, ExtrasNestedSixteenThousandDeepAreNotFollowed) {
    const std::string room = sample("setup/models/room.gltf");
    const std::size_t at = room.find('{') + 1;
    const double sound = area(read("room.gltf", room));
    for (const char* word : {"extras", "extensions"}) {
        const std::string idle = "\"" + std::string(word) + "\":" + brackets(16'000) + ",";
        EXPECT_NEAR(area(read("deep.gltf", room.substr(0, at) + idle + room.substr(at))), sound, 1e-4);
    }
    // The same word in another spelling, and other words.
    for (const char* word : {"\\u0065xtras", "asset2", "asset"}) {
        const std::string deep = "{\"" + std::string(word) + "\":" + brackets(16'000) + "," + room.substr(at);
        EXPECT_NE(refusal("deep.gltf", deep).find("brackets within brackets without an end"), std::string::npos)
            << word;
    }
    // In a binary file.
    std::string json = "{\"asset\":{\"version\":\"2.0\"},\"extras\":" + brackets(16'000) + "}";
    while (json.size() % 4 != 0) json += ' ';
    const auto in_four = [](std::size_t n) {
        std::string four;
        for (int i = 0; i < 4; ++i) four += static_cast<char>(n >> (8 * i) & 0xFF);
        return four;
    };
    const std::string glb = "glTF" + in_four(2) + in_four(20 + json.size()) + in_four(json.size()) + "JSON" + json;
    EXPECT_NE(refusal("deep.glb", glb).find("deep.glb: found no faces"), std::string::npos) << refusal("deep.glb", glb);
}

TEST_F(HardModels, EightyBuffersThatNameOneFile) {
    with("large.bin", "");
    fs::resize_file(folder / "large.bin", 100'000'000);
    std::string buffers;
    for (int i = 0; i < 80; ++i)
        buffers += std::string(i > 0 ? "," : "") + R"({"uri":"large.bin","byteLength":100000000})";
    EXPECT_NE(refusal("m.gltf", R"({"asset":{"version":"2.0"},"buffers":[)" + buffers + "]}")
                  .find("found more than 300 MB with all its buffers"),
              std::string::npos);
}

TEST_F(HardModels, JsonThatIsNoneIsToldInOurWords) {
    const std::string said = refusal("m.gltf", "{\"asset\":{\"version\":\"2.0\"},\n \"nodes\": [nonsense]}");
    EXPECT_NE(said.find("not a glTF file that can be read: its JSON breaks in line 2"), std::string::npos) << said;
    EXPECT_EQ(refusal("m.gltf", std::string(100, 'x')).find("json.exception"), std::string::npos);
}

TEST_F(HardModels, MeshesUsedWithoutEndAreRefused) {
    std::string nodes, children;
    for (int i = 1; i <= 30; ++i) {  // each holds the next twice
        const std::string next = std::to_string(i);
        nodes += "{\"children\":[" + next + "," + next + "]},";
    }
    EXPECT_NE(refusal("m.gltf", R"({"asset":{"version":"2.0"},"scenes":[{"nodes":[0]}],"nodes":[)" + nodes + "{}]}")
                  .find("without an end"),
              std::string::npos);
}

TEST_F(HardModels, HundredsOfThousandsOfMaterials) {
    std::string mtl;
    for (int i = 0; i < 700'000; ++i) mtl += "newmtl " + std::to_string(i) + "\nKd 1\n";
    with("m.mtl", mtl);
    const std::string face = "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n";
    EXPECT_NE(refusal("m.obj", "mtllib m.mtl\n" + face).find("found more than 10,000 materials"), std::string::npos);
    std::string uses;
    for (int i = 0; i < 10'002; ++i) uses += "usemtl " + std::to_string(i) + "\n";
    EXPECT_NE(refusal("m.obj", uses + face).find("found more than 10,000 materials"), std::string::npos);
    with("m.mtl", "");
    fs::resize_file(folder / "m.mtl", 16'000'001);
    EXPECT_NE(refusal("m.obj", "mtllib m.mtl\n" + face).find("expected no more than 16 MB"), std::string::npos);
}

TEST_F(HardModels, MaterialsKeepTheirColour) {
    with("m.mtl", "# paint\nnewmtl red paint\nKa 1 1 1\nKd 0.5 0.1 0.2\nnewmtl grey\nKd 0.3\nnewmtl none\n");
    const RoughModel m =
        read("m.obj",
             "mtllib m.mtl\nv 0 0 0\nv 1 0 0\nv 0 1 0\nusemtl red paint\nf 1 2 3\nusemtl grey\nf 1 3 2\n"
             "usemtl none\nf 1 2 3\n");
    EXPECT_TRUE(mentions(m.remarks, "the colour in the file is used for 'red paint' and 'grey'"));
    EXPECT_TRUE(mentions(m.remarks, "no finish is given for 'none'"));
}

TEST_F(HardModels, NamesThatATerminalObeys) {
    const RoughModel m = read("m.obj",
                              "v 0 0 0\nv 1 0 0\nv 0 1 0\nusemtl a\xc2\x9b"
                              "b\nf 1 2 3\n");
    EXPECT_EQ(m.material_names, std::vector<std::string>{"a?b"});
    std::string room = sample("setup/models/room.gltf");
    const std::size_t at = room.find("table top");
    ASSERT_NE(at, std::string::npos);
    room.replace(at, 9, "a\\u0000b\\u001b[31mc");
    const RoughModel g = read("room.gltf", room);
    EXPECT_EQ(g.material_names.back(), "a?b?[31mc");
    EXPECT_TRUE(mentions(g.remarks, "'a?b?[31mc'"));
    EXPECT_NE(refusal("m.obj", "usemtl " + std::string(300, 'n') + "\n").find("expected names of up to 200 letters"),
              std::string::npos);
}

TEST_F(HardModels, FoldersInPlaceOfModels) {
    fs::create_directory(folder / "m.obj");
    RoughModelRequest request;
    request.path = (folder / "m.obj").string();
    try {
        read_rough_model(request);
        ADD_FAILURE();
    } catch (const InputError& e) {
        EXPECT_NE(std::string(e.what()).find("this is a folder; expected a rough model"), std::string::npos)
            << e.what();
    }
}

TEST_F(HardModels, AModelIsLeftWhenNobodyWaits) {
    std::string obj;
    for (int i = 0; i < 20'000; ++i) obj += "v 0 0 0\n";
    RoughModelRequest request;
    request.path = with("m.obj", obj);
    request.patience = Patience([] { return true; });
    EXPECT_THROW(read_rough_model(request), Stopped);
}

TEST_F(HardModels, PicturesThatAreCutOff) {
    const std::string jpeg = sample("fuzz/samples/pictures/small.jpg"), png = sample("fuzz/samples/pictures/small.png"),
                      tiff = sample("fuzz/samples/pictures/lines.tif");
    for (const std::string& whole : {jpeg, png, tiff}) EXPECT_NO_THROW(read_picture_cells(with("whole.tif", whole)));
    for (const double share : {0.5, 0.9, 0.98}) {
        const auto cut = [&](const std::string& bytes) {
            return bytes.substr(0, static_cast<std::size_t>(share * static_cast<double>(bytes.size())));
        };
        EXPECT_NE(picture_refusal("cut.jpg", cut(jpeg)).find("is no picture that can be read"), std::string::npos)
            << share;
        EXPECT_NE(picture_refusal("cut.png", cut(png)).find("it is cut off"), std::string::npos) << share;
    }
    // Behind its pixels a TIFF has remarks that nobody misses; its first half has not even all pixels.
    EXPECT_NE(picture_refusal("cut.tif", tiff.substr(0, tiff.size() / 2)).find("is no picture that can be read"),
              std::string::npos);
    std::string struck = png;
    struck[struck.size() / 2] = static_cast<char>(struck[struck.size() / 2] ^ 1);
    EXPECT_NE(picture_refusal("struck.png", struck).find("it is damaged"), std::string::npos);
}

/// A TIFF file of grey bytes (TIFF 6.0), its first bytes saying more or less than the truth. `lies` go over the tags.
std::string tiff(std::vector<std::pair<int, std::uint32_t>> lies, std::size_t data) {
    std::map<int, std::uint32_t> tags{{256, 100},  {257, 100}, {258, 8},   {259, 1},     {262, 1},
                                      {273, 1000}, {277, 1},   {278, 100}, {279, 10'000}};
    for (const auto& [number, value] : lies) tags[number] = value;
    if (tags.count(322) > 0)
        for (const int strips : {273, 278, 279}) tags.erase(strips);
    const auto bytes = [](std::uint32_t n, int count) {
        std::string text;
        for (int i = 0; i < count; ++i) text += static_cast<char>(n >> (8 * i) & 0xFF);
        return text;
    };
    std::string file = std::string("II*\0", 4) + bytes(8, 4) + bytes(static_cast<std::uint32_t>(tags.size()), 2);
    for (const auto& [number, value] : tags)
        file += bytes(static_cast<std::uint32_t>(number), 2) + bytes(4, 2) + bytes(1, 4) + bytes(value, 4);
    file.resize(1000, '\0');
    return file + std::string(data, 'x');
}

TEST_F(HardModels, TiffsWithoutTheirDataAndWithGiantTiles) {
    EXPECT_EQ(read_picture_cells(with("sound.tif", tiff({}, 10'000))).across, 100);
    EXPECT_NE(picture_refusal("half.tif", tiff({}, 5'000)).find("it is cut off or damaged"), std::string::npos);
    EXPECT_NE(picture_refusal("none.tif", tiff({{256, 8000}, {257, 8000}, {278, 8000}, {279, 64'000'000}}, 0))
                  .find("it is cut off or damaged"),
              std::string::npos);
    for (const std::uint32_t side : {32'000U, 1U << 30})
        EXPECT_NE(picture_refusal("tiles.tif", tiff({{322, side}, {323, side}, {324, 1000}, {325, 10'000}}, 10'000))
                      .find("is no picture that can be read"),
                  std::string::npos)
            << side;
}

TEST_F(HardModels, PicturesStandTheRightWayUp) {
    // Two pixels across, dark and white, as the camera was held (Exif 2.32, Orientation): the dark one's place.
    for (const auto& [held, across, dark_first] : {std::tuple{1, 2, true},
                                                   {2, 2, false},
                                                   {3, 2, false},
                                                   {4, 2, true},
                                                   {5, 1, true},
                                                   {6, 1, true},
                                                   {7, 1, false},
                                                   {8, 1, false}}) {
        std::string file = tiff({{256, 2}, {257, 1}, {278, 1}, {279, 2}, {274, static_cast<std::uint32_t>(held)}}, 2);
        file[1000] = '\x10';
        file[1001] = '\xff';
        const PictureCells cells = read_picture_cells(with("held.tif", file));
        ASSERT_EQ(cells.across, across) << held;
        ASSERT_EQ(cells.down, 3 - across) << held;
        EXPECT_EQ(cells.colour[0][0] < cells.colour[1][0], dark_first) << held;
    }
}

}  // namespace
}  // namespace rushlight
