#include "pictures/draw/lettering.h"

#include "pictures/draw/drawing.h"
#include "pictures/words/utf8.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

// Pixels that differ from the paper, inside and outside of a box.
struct Changed {
    int inside = 0, outside = 0;
};
Changed changed(const Image& image, const Colour& paper, const PixelBox& box) {
    Changed n;
    for (int y = 0; y < image.height; ++y)
        for (int x = 0; x < image.width; ++x)
            if (image.pixel(x, y) != paper)
                ++(x >= box.x0 && x < box.x1 && y >= box.y0 && y < box.y1 ? n.inside : n.outside);
    return n;
}

class Letters : public ::testing::TestWithParam<bool> {
protected:
    void SetUp() override { use_coarse_letters(GetParam()); }
    void TearDown() override { use_coarse_letters(false); }
};

TEST_P(Letters, ChangeOnlyPixelsInTheirBox) {
    const Colour paper{0.5F, 0.5F, 0.5F};
    for (int size : {9, 16, 40})
        for (Align align : {Align::left, Align::middle, Align::right})
            for (const char* text : {"gyÅ|(Q 12", "−1.3 ± 0.2 · 180°", "WWWW", "jj"}) {
                Image image(600, 200, paper);
                const Lettering how{size, false, align, {1, 1, 1}, Colour{0, 0, 0}};
                const PixelBox box = write_text(image, 300, 100, text, how);
                const Changed n = changed(image, paper, box);
                EXPECT_GT(n.inside, size) << text;
                EXPECT_EQ(n.outside, 0) << text << " at " << size;
            }
}

TEST_P(Letters, AlignAboutTheirPoint) {
    const Lettering left{20, false, Align::left, {0, 0, 0}, {}};
    Lettering middle = left, right = left;
    middle.align = Align::middle, right.align = Align::right;
    const int width = text_width("1290", left);
    EXPECT_GT(width, 20);
    EXPECT_EQ(text_box(100, 50, "1290", right).x0, text_box(100, 50, "1290", left).x0 - width);
    EXPECT_EQ(text_box(100, 50, "1290", middle).x0, text_box(100, 50, "1290", left).x0 - width / 2);
}

TEST_P(Letters, AreCutAtTheEdgeOfThePicture) {
    Image image(20, 10, {1, 1, 1});
    write_text(image, -30, 5, "longer than the picture", {24, true, Align::left, {0, 0, 0}, Colour{1, 0, 0}});
    write_text(image, 0, -200, "above it", {24, false, Align::left, {0, 0, 0}, {}});
    SUCCEED();
}

TEST_P(Letters, FitAWidth) {
    const Lettering how{14, false, Align::left, {0, 0, 0}, {}};
    const std::string cut = fitted("A very long set-up name that cannot be shown whole", 120, how);
    EXPECT_LE(text_width(cut, how), 120);
    EXPECT_TRUE(cut.ends_with("..."));
    EXPECT_EQ(fitted("short", 120, how), "short");
}

INSTANTIATE_TEST_SUITE_P(FontAndCoarse, Letters, ::testing::Values(false, true));

Image written(const std::string& text) {
    Image image(300, 40, {1, 1, 1});
    write_text(image, 5, 25, text, {18, false, Align::left, {0, 0, 0}, {}});
    return image;
}

// A name is a person's: it is not spelled otherwise, nor turned into question marks.
TEST(Lettering, AFontSetsEveryLetterAsItIs) {
    EXPECT_NE(written("fenêtre Łódź").rgb, written("fenetre Lodz").rgb);
    EXPECT_NE(written("Ωмега").rgb, written("?????").rgb);
}

TEST(Lettering, CoarseLettersHaveNoAccents) {
    use_coarse_letters(true);
    EXPECT_EQ(written("fenêtre Łódź").rgb, written("fenetre Lodz").rgb);
    EXPECT_EQ(written("Ω").rgb, written("?").rgb);
    use_coarse_letters(false);
}

TEST(Utf8, BadBytesBecomeTheReplacementSign) {
    EXPECT_EQ(code_points("a\xC3\xA9"), U"aé");
    EXPECT_EQ(code_points("\xFFz"), U"\uFFFDz");
    EXPECT_EQ(code_points("\xC3"), U"\uFFFD");
    EXPECT_EQ(code_points("\xED\xA0\x80"), U"\uFFFD");      // half of a surrogate pair
    EXPECT_EQ(code_points("\xC0\xAF").front(), U'\uFFFD');  // overlong
    EXPECT_EQ(code_points("two\nlines\t"), U"two lines ");
    EXPECT_EQ(utf8(U"é−灯😀"), "é−灯😀");
}

TEST(Utf8, ColumnsFollowTheTerminal) {
    EXPECT_EQ(columns("naïve"), 5);
    EXPECT_EQ(columns("e\u0301"), 1);
    EXPECT_EQ(columns("灯"), 2);
    EXPECT_EQ(cut_to("window cheek", 8), "window…");
    EXPECT_EQ(columns(cut_to("灯灯灯灯", 5)), 5);
    EXPECT_EQ(padded("é", 3), "é  ");
    EXPECT_EQ(padded_left("é", 3), "  é");
}

TEST(Drawing, StaysInThePictureAndCoversWhatItShould) {
    Image image(20, 20, {0, 0, 0});
    fill_box(image, {2.5, 3}, {5, 6}, {1, 1, 1});
    EXPECT_FLOAT_EQ(image.pixel(2, 4)[0], 0.5F);
    EXPECT_FLOAT_EQ(image.pixel(3, 4)[0], 1);
    EXPECT_FLOAT_EQ(image.pixel(5, 4)[0], 0);
    const Point square[] = {{10, 10}, {14, 10}, {14, 14}, {10, 14}};
    fill_polygon(image, square, {1, 0, 0});
    EXPECT_FLOAT_EQ(image.pixel(12, 12)[0], 1);
    EXPECT_FLOAT_EQ(image.pixel(15, 12)[0], 0);
    draw_line(image, {-100, -50}, {200, 1e9}, {});
    draw_arrow(image, {5, 5}, {5, 5}, 4, {});
    fill_disc(image, {-3, -3}, 1, {1, 1, 1});
    EXPECT_FLOAT_EQ(image.pixel(0, 0)[0], 0);
}

}  // namespace
}  // namespace rushlight
