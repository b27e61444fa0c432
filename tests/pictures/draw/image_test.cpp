#include "pictures/draw/image.h"
#include "pictures/files/scratch.h"
#include "quantity/colour.h"

#include <OpenImageIO/imageio.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {
namespace {

using testing_pictures::Scratch;

// Channels of a file by name.
struct Read {
    OIIO::ImageSpec spec;
    std::vector<float> values;

    explicit Read(const std::filesystem::path& path) {
        const auto in = OIIO::ImageInput::open(path.string());
        if (!in) return;
        spec = in->spec();
        values.resize(static_cast<std::size_t>(spec.width * spec.height * spec.nchannels));
        in->read_image(0, 0, 0, spec.nchannels, OIIO::TypeDesc::FLOAT, values.data());
        in->close();
    }
    float at(const std::string& channel, int pixel) const {
        const auto found = std::find(spec.channelnames.begin(), spec.channelnames.end(), channel);
        if (found == spec.channelnames.end()) return std::numeric_limits<float>::quiet_NaN();
        return values[static_cast<std::size_t>(pixel * spec.nchannels + (found - spec.channelnames.begin()))];
    }
};

LayeredFrame small_frame(const std::vector<std::string>& sources) {
    LayeredFrame frame;
    frame.width = 3, frame.height = 2;
    frame.sources = sources;
    for (std::size_t s = 0; s < sources.size(); ++s)
        for (int i = 0; i < 6; ++i)
            frame.layers.resize(sources.size()),
                frame.layers[s].push_back(scaled_to(white_light(Kelvin{5600}), 10.0 * (s + 1) + i));
    frame.error = {0.5F, 1, 2, 3, 4, 5};
    return frame;
}

TEST(Png, EncodesGreyAs118) {
    // IEC 61966-2-1: linear 0.18 is 0.4614 encoded, 117.6 of 255.
    Scratch scratch;
    write_png(scratch / "grey.png", encoded(Image(4, 3, {0.18F, 0.18F, 0.18F})));
    const Read read(scratch / "grey.png");
    ASSERT_EQ(read.spec.nchannels, 3);
    ASSERT_EQ(read.spec.width, 4);
    ASSERT_EQ(read.spec.height, 3);
    EXPECT_EQ(read.spec.format, OIIO::TypeDesc::UINT8);
    for (const char* channel : {"R", "G", "B"}) EXPECT_EQ(std::lround(255 * read.at(channel, 7)), 118);
}

TEST(Png, ValuesGoThroughUntouched) {
    Scratch scratch;
    Image display(256, 1);
    for (int x = 0; x < 256; ++x) {
        const auto v = static_cast<float>(x) / 255.0F;
        display.set(x, 0, {v, 1 - v, 0.5F});
    }
    write_png(scratch / "ramp.png", display);
    const Read read(scratch / "ramp.png");
    for (int x = 0; x < 256; ++x) {
        EXPECT_EQ(std::lround(255 * read.at("R", x)), x);
        EXPECT_EQ(std::lround(255 * read.at("G", x)), 255 - x);
        EXPECT_EQ(std::lround(255 * read.at("B", x)), 128);
    }
}

TEST(Png, ValuesOutOfRangeAreHeldAndNanIsBlack) {
    Scratch scratch;
    Image display(1, 1, {-3.0F, 7.0F, std::numeric_limits<float>::quiet_NaN()});
    write_png(scratch / "odd.png", display);
    const Read read(scratch / "odd.png");
    EXPECT_EQ(read.at("R", 0), 0);
    EXPECT_EQ(read.at("G", 0), 1);
    EXPECT_EQ(read.at("B", 0), 0);
}

TEST(Exr, LayersReadBackByName) {
    Scratch scratch;
    // Twelve sources: by name "source 10" would stand before "source 2" without numbers in front.
    std::vector<std::string> sources;
    for (int i = 1; i <= 12; ++i) sources.push_back("source " + std::to_string(i));
    LayeredFrame frame = small_frame(sources);
    frame.camera.white_balance = 5600;
    write_exr(scratch / "frame.exr", frame);

    const Read read(scratch / "frame.exr");
    EXPECT_EQ(read.spec.nchannels, 4 + 3 * 12 + 1);
    EXPECT_EQ(read.spec.format, OIIO::TypeDesc::FLOAT);
    const auto names = layer_names(sources);
    EXPECT_EQ(names[1], "02-source-2");
    EXPECT_EQ(names[9], "10-source-10");
    for (int pixel = 0; pixel < 6; ++pixel) {
        float sum = 0;
        for (std::size_t s = 0; s < 12; ++s) {
            // Light of the balance's own white has equal R, G and B, and the luminance of the layer.
            const double wanted = 10.0 * (static_cast<double>(s) + 1) + pixel;
            for (const char* c : {".R", ".G", ".B"}) EXPECT_NEAR(read.at(names[s] + c, pixel), wanted, 0.003 * wanted);
            sum += read.at(names[s] + ".G", pixel);
        }
        EXPECT_NEAR(read.at("G", pixel), sum, 1e-5F * sum);
        EXPECT_EQ(read.at("error.Y", pixel), frame.error[static_cast<std::size_t>(pixel)]);
    }
}

// Y is the luminance in the place whatever the balance, of any white; the balance moves G and the like with it.
TEST(Exr, LuminanceIsThatOfThePlace) {
    for (const double balance : {3200.0, 5600.0, 9000.0}) {
        Scratch scratch;
        LayeredFrame frame = small_frame({"lamp", "sky"});
        frame.camera.white_balance = balance;
        frame.layers[0][2] = scaled_to(white_light(Kelvin{1850}), 300.0);
        frame.layers[1][2] = scaled_to(white_light(Kelvin{20'000}), 500.0);
        write_exr(scratch / "place.exr", frame);
        const Read read(scratch / "place.exr");
        EXPECT_NEAR(read.at("Y", 2), 800.0, 0.001 * 800) << balance;
    }
}

TEST(Exr, HoldsFullSun) {
    // 100,000 lx (from memory: direct sun and sky at noon) on a white wall is over 30,000 cd/m2; its glint more.
    // Half floats end at 65,504 (IEEE 754 binary16).
    Scratch scratch;
    LayeredFrame frame = small_frame({"sun"});
    frame.layers[0][4] = scaled_to(white_light(Kelvin{5600}), 250000.0);
    write_exr(scratch / "sun.exr", frame);
    EXPECT_NEAR(Read(scratch / "sun.exr").at("01-sun.G", 4), 250000.0, 1000.0);
}

TEST(Exr, LayerNamesAreSafe) {
    const auto names = layer_names({"key.box (left)", "fenêtre côté rue", "", "灯", "-.-", "table_lamp"});
    EXPECT_EQ(names[0], "01-key-box-left");
    EXPECT_EQ(names[1], "02-fenetre-cote-rue");
    EXPECT_EQ(names[2], "03-source");
    EXPECT_EQ(names[3], "04-source");
    EXPECT_EQ(names[4], "05-source");
    EXPECT_EQ(names[5], "06-table_lamp");
}

TEST(Exr, LayerNumbersGrowWithTheirCount) {
    const auto names = layer_names(std::vector<std::string>(120, "lamp"));
    EXPECT_EQ(names[0], "001-lamp");
    EXPECT_EQ(names[119], "120-lamp");
}

TEST(Exr, RefusesAFrameWhoseLayersDoNotFit) {
    Scratch scratch;
    LayeredFrame frame = small_frame({"sky", "key"});
    frame.layers[1].pop_back();
    EXPECT_THROW(write_exr(scratch / "bad.exr", frame), OutputError);
    EXPECT_THROW(write_exr(scratch / "bad.exr", LayeredFrame{}), OutputError);
    EXPECT_EQ(scratch.files(), 0U);
}

}  // namespace
}  // namespace rushlight
