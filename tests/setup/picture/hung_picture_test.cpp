// A photograph hung up as a thing that light falls on. Pixels are written here by hand as PPM, so that the library that
// reads them is checked too.
#include "setup/picture/hung_picture.h"
#include "quantity/colour.h"
#include "quantity/shelf.h"
#include "setup/read/typed_file.h"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>

#include <stdlib.h>

namespace rushlight {
namespace {

class HungPicture : public testing::Test {
protected:
    void SetUp() override {
        std::string name = (std::filesystem::temp_directory_path() / "rushlight-picture-XXXXXX").string();
        ASSERT_NE(mkdtemp(name.data()), nullptr);
        folder = name;
    }
    void TearDown() override { std::filesystem::remove_all(folder); }
    std::string written(const std::string& name, const std::string& bytes) const {
        std::ofstream(folder / name, std::ios::binary) << bytes;
        return (folder / name).string();
    }
    std::filesystem::path folder;
};

// Red, green over blue, white; the last row grey 188, which is a linear half (IEC 61966-2-1: 188/255 -> 0.503).
const std::string six = std::string("P6\n2 3\n255\n") + "\xff\x01\x01" + "\x01\xff\x01" + "\x01\x01\xff" +
                        "\xff\xff\xff" + "\xbc\xbc\xbc" + "\xbc\xbc\xbc";

const Finish& finish_at(const Triangles& t, std::size_t cell) {
    return t.finishes[t.faces[2 * cell].finish];
}

Vec3 middle_of(const Triangles& t, std::size_t cell) {
    Vec3 sum(0, 0, 0);
    for (const std::size_t face : {2 * cell, 2 * cell + 1})
        for (const auto c : t.faces[face].corner) sum += t.positions[c];
    return sum / 6.0F;
}

/// Keeps what it is given until it goes.
class OwnShelf : public Shelf {
public:
    OwnShelf() : before_(the_shelf().exchange(this)) {}
    ~OwnShelf() override { the_shelf() = before_; }
    std::optional<std::string> find(const std::string& key) override {
        const auto known = kept.find(key);
        return known != kept.end() ? std::optional(known->second) : std::nullopt;
    }
    void keep(const std::string& key, std::string_view bytes) override { kept[key] = bytes; }
    std::map<std::string, std::string> kept;

private:
    Shelf* before_;
};

TEST_F(HungPicture, WhatWasReadBeforeIsKeptByItsBytes) {
    OwnShelf shelf;
    const PictureCells fresh = read_picture_cells(written("six.ppm", six));
    ASSERT_EQ(shelf.kept.size(), 1U);
    const PictureCells again = read_picture_cells(written("under another name.ppm", six));
    EXPECT_EQ(shelf.kept.size(), 1U);
    EXPECT_EQ(again.across, fresh.across);
    EXPECT_EQ(again.down, fresh.down);
    EXPECT_EQ(again.colour, fresh.colour);
    EXPECT_EQ(again.clear, fresh.clear);
    std::string other = six;
    other.back() = '\x10';
    EXPECT_NE(read_picture_cells(written("six.ppm", other)).colour, fresh.colour);
    EXPECT_EQ(shelf.kept.size(), 2U);
    // What is kept damaged is read anew.
    for (auto& [key, bytes] : shelf.kept) bytes.resize(bytes.size() / 2);
    EXPECT_EQ(read_picture_cells(written("six.ppm", six)).colour, fresh.colour);
}

TEST_F(HungPicture, IsDecodedAndBroughtToItsMean) {
    const PictureCells cells = read_picture_cells(written("six.ppm", six));
    ASSERT_EQ(cells.across, 2);
    ASSERT_EQ(cells.down, 3);
    EXPECT_NEAR(cells.colour[4][1], 0.503, 5e-4);
    EXPECT_NEAR(cells.colour[3][2], 1.0, 1e-6);

    const Triangles hung = hung_picture(cells, {"view", {0, -5, 2}, 4, 0, 0.18, {0, 3, 1}});
    ASSERT_EQ(hung.faces.size(), 12U);
    double mean = 0;
    for (std::size_t cell = 0; cell < 6; ++cell) mean += luminous(finish_at(hung, cell).reflectance) / 6;
    // Colours become smooth bands, which keep their luminous share to within a few per cent.
    EXPECT_NEAR(mean, 0.18, 0.18 * 0.03);
    EXPECT_NEAR(luminous(finish_at(hung, 4).reflectance) / luminous(finish_at(hung, 3).reflectance), 0.503, 2e-3);
}

TEST_F(HungPicture, ReadsTheRightWayRoundFromWhereItIsSeen) {
    const PictureCells cells = read_picture_cells(written("six.ppm", six));
    const auto redness = [](const Finish& f) {
        const LinearRgb rgb = WhiteBalance(Kelvin{6504})(tristimulus(f.reflectance));
        return static_cast<double>(rgb.r / (rgb.g + rgb.b + 1e-6));
    };
    for (const double turn : {0.0, 90.0, 180.0, 215.0, -30.0})
        for (const Vec3& eye : {Vec3(0, 8, 1), Vec3(-7, -9, 3)}) {
            const Vec3 at(1, -2, 2);
            const Triangles hung = hung_picture(cells, {"view", at, 4, turn, 0.18, eye});
            // What is first in the file is red; from the eye it lies up and to the left.
            EXPECT_GT(redness(finish_at(hung, 0)), 2.0);
            const Vec3 to_red = middle_of(hung, 0) - at;
            const Vec3 left = Vec3(0, 0, 1).cross(at - eye);
            EXPECT_GT(to_red.z, 0) << turn;
            EXPECT_GT(to_red.dot(left), 0) << turn << " from " << eye;
            // 2 x 3 cells on 4 m: 6 m high.
            EXPECT_NEAR(to_red.z, 2.0, 1e-5);
        }
}

TEST_F(HungPicture, WhatIsTransparentIsNotThere) {
    const std::string png = RUSHLIGHT_SOURCE "/tests/setup/pictures/half-clear.png";
    const PictureCells cells = read_picture_cells(png);
    EXPECT_EQ(cells.clear, (std::vector<bool>{false, true}));
    const Triangles hung = hung_picture(cells, {"view", {0, 0, 0}, 1, 0, 0.3, {0, 1, 0}});
    ASSERT_EQ(hung.faces.size(), 2U);
    EXPECT_NEAR(luminous(finish_at(hung, 0).reflectance), 0.3, 0.3 * 0.03);
}

TEST_F(HungPicture, LargeOnesAreAveragedAsLight) {
    // Black and white by turns: their mean is half the light, not the middle grey of the code.
    std::string ppm = "P6\n1600 800\n255\n";
    for (int i = 0; i < 1600 * 800; ++i) ppm += (i + i / 1600) % 2 == 0 ? "\xff\xff\xff" : std::string(3, '\0');
    const PictureCells cells = read_picture_cells(written("large.ppm", ppm));
    EXPECT_EQ(cells.across, PictureCells::most_across);
    EXPECT_EQ(cells.down, PictureCells::most_across / 2);
    EXPECT_NEAR(cells.colour[cells.colour.size() / 2 + 200][0], 0.5, 0.02);
}

TEST_F(HungPicture, KeepsToItsPaletteAndNeverReflectsTooMuch) {
    std::string ppm = "P6\n64 64\n255\n";
    for (int y = 0; y < 64; ++y)
        for (int x = 0; x < 64; ++x)
            for (const int value : {4 * x, 4 * y, 2 * (x + y)}) ppm += static_cast<char>(value);
    const PictureCells cells = read_picture_cells(written("many.ppm", ppm));
    const Triangles hung = hung_picture(cells, {"view", {0, 0, 0}, 1, 0, 0.6, {0, 1, 0}});
    EXPECT_EQ(hung.finishes.size(), most_colours);
    double mean = 0;
    for (std::size_t cell = 0; cell < 64 * 64; ++cell) {
        const Spectrum& r = finish_at(hung, cell).reflectance;
        mean += luminous(r) / (64 * 64);
        EXPECT_LE(r.largest(), 1.0F);
    }
    EXPECT_NEAR(mean, 0.6, 0.6 * 0.05);
}

TEST_F(HungPicture, StandsInASetUpFile) {
    written("view.ppm", six);
    const std::string hung =
        small_room +
        "[[place.furniture]]\nname = \"view\"\nat = [2, -6]\nfrom_floor = -1\nwidth = 6\npicture = "
        "\"view.ppm\"\n";
    const auto file = (folder / "f.toml").string();
    const auto setup = SetupFile::from_text(hung, file).setup();
    ASSERT_EQ(setup.place.models.size(), 1U);
    const auto& p = setup.place.models[0].triangles->positions;
    expect_near(p.front(), {5, -6, 8});
    expect_near(p.back(), {-1, -6, -1});
}

}  // namespace
}  // namespace rushlight
