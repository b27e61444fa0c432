// Rough models and hung pictures on plans: to scale, and never of more points than a page can carry. Lengths and areas
// are those of the figures themselves.
#include "pictures/plan/shape.h"

#include "pictures/plan/plan.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight::testing_pictures {
namespace {

constexpr double degree = pi / 180;

void add_face(Triangles& t, std::initializer_list<Vec3> corners) {
    const auto first = static_cast<std::uint32_t>(t.positions.size());
    t.positions.insert(t.positions.end(), corners.begin(), corners.end());
    for (std::uint32_t i = 2; i < corners.size(); ++i) t.faces.push_back({{first, first + i - 1, first + i}, 0});
}

/// Closed all round, turned about z.
void add_box(Triangles& t, Vec3 middle, Vec3 size, double turn = 0) {
    const auto corner = [&](float x, float y, float z) {
        const auto c = static_cast<float>(std::cos(turn * degree)), s = static_cast<float>(std::sin(turn * degree));
        x *= size.x / 2, y *= size.y / 2;
        return middle + Vec3(c * x - s * y, s * x + c * y, z * size.z / 2);
    };
    for (const float side : {-1.0F, 1.0F}) {
        add_face(t, {corner(-1, -1, side), corner(1, -1, side), corner(1, 1, side), corner(-1, 1, side)});
        add_face(t, {corner(side, -1, -1), corner(side, 1, -1), corner(side, 1, 1), corner(side, -1, 1)});
        add_face(t, {corner(-1, side, -1), corner(1, side, -1), corner(1, side, 1), corner(-1, side, 1)});
    }
}

Triangles sphere(Vec3 middle, float radius, int steps) {
    Triangles t;
    const auto at = [&](int i, int j) {
        const double up = pi * i / steps - pi / 2, round = 2 * pi * j / (2 * steps);
        return middle + Vec3(static_cast<float>(std::cos(up) * std::cos(round)),
                             static_cast<float>(std::cos(up) * std::sin(round)), static_cast<float>(std::sin(up))) *
                            radius;
    };
    for (int i = 0; i < steps; ++i)
        for (int j = 0; j < 2 * steps; ++j) add_face(t, {at(i, j), at(i, j + 1), at(i + 1, j + 1), at(i + 1, j)});
    return t;
}

PlanShape shape_of(const char* name, const Triangles& triangles, double floor, std::size_t most_points) {
    return *plan_shape({name, std::make_shared<const Triangles>(triangles)}, floor, most_points);
}

/// Shoelace formula; even-odd outlines that do not overlap.
double area_of(const std::vector<PlanLine>& lines) {
    double sum = 0;
    for (const PlanLine& line : lines)
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            sum += (line[i].x * line[i + 1].y - line[i + 1].x * line[i].y) / 2;
    return std::abs(sum);
}

double length_of(const std::vector<PlanLine>& lines) {
    double sum = 0;
    for (const PlanLine& line : lines)
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            sum += std::hypot(line[i + 1].x - line[i].x, line[i + 1].y - line[i].y);
    return sum;
}

TEST(PlanShape, ATurnedTableIsItsOutline) {
    Triangles table;
    add_box(table, {2, 3, 0.74F}, {1.6F, 0.8F, 0.03F}, 30);
    add_box(table, {2, 3, 0.36F}, {0.06F, 0.06F, 0.72F}, 30);
    const PlanShape shape = shape_of("table", table, 0, 2000);
    EXPECT_TRUE(shape.cut.empty()) << "it stands under the cut";
    EXPECT_FALSE(shape.hangs);
    EXPECT_NEAR(area_of(shape.lower), 1.6 * 0.8, 0.02);
    EXPECT_NEAR(length_of(shape.lower), 2 * (1.6 + 0.8), 0.05);
    EXPECT_LT(points_in(shape.lower), 16U) << "a slanting edge is a line, not a stair";
}

TEST(PlanShape, WhatStandsHigherIsCutExactly) {
    Triangles wardrobe;
    add_box(wardrobe, {1, 1, 1}, {1.2F, 0.6F, 2.0F}, 17);
    const PlanShape shape = shape_of("wardrobe", wardrobe, 0, 2000);
    ASSERT_EQ(shape.cut.size(), 1U);
    EXPECT_NEAR(area_of(shape.cut), 1.2 * 0.6, 1e-4);
    EXPECT_NEAR(length_of(shape.cut), 3.6, 1e-4);
}

TEST(PlanShape, WhatHangsOverHeadsIsSeenWhole) {
    Triangles shade;
    add_box(shade, {0, 0, 2.3F}, {0.5F, 0.5F, 0.3F});
    const PlanShape shape = shape_of("shade", shade, 0, 2000);
    EXPECT_TRUE(shape.hangs);
    EXPECT_TRUE(shape.cut.empty());
    EXPECT_NEAR(area_of(shape.lower), 0.25, 0.01);
}

TEST(PlanShape, APictureIsALineOfItsWidth) {
    // High on a wall: nothing of it is at the height of the cut.
    Triangles picture;
    for (int column = 0; column < 20; ++column)
        for (int row = 0; row < 10; ++row) {
            if ((column + row) % 3 == 0) continue;  // transparent
            const auto x = [&](int c) { return 1 + 0.06F * static_cast<float>(c); };
            const auto z = [&](int r) { return 1.5F + 0.05F * static_cast<float>(r); };
            add_face(picture, {{x(column), 4, z(row)},
                               {x(column + 1), 4, z(row)},
                               {x(column + 1), 4, z(row + 1)},
                               {x(column), 4, z(row + 1)}});
        }
    const PlanShape shape = shape_of("painting", picture, 0, 2000);
    ASSERT_EQ(shape.cut.size(), 1U);
    EXPECT_EQ(shape.cut[0].size(), 2U);
    EXPECT_NEAR(length_of(shape.cut), 1.2, 1e-4);
    EXPECT_TRUE(shape.lower.empty());
}

TEST(PlanShape, APlaceIsItsWallsAndWhatStandsInIt) {
    Triangles place;  // nameless: it is the place itself
    const float bent = 0.02F;
    add_face(place, {{0, 0, 0}, {6, 0, bent}, {6, 5, 0}, {0, 5, bent}});
    for (const float x : {0.0F, 6.0F}) add_face(place, {{x, 0, 0}, {x, 5, 0}, {x, 5, 3}, {x, 0, 3}});
    for (const float y : {0.0F, 5.0F}) add_face(place, {{0, y, 0}, {6, y, 0}, {6, y, 3}, {0, y, 3}});
    add_box(place, {3, 2, 0.4F}, {1.0F, 0.5F, 0.8F});
    const PlanShape shape = shape_of("", place, 0, 2000);
    EXPECT_NEAR(length_of(shape.cut), 22, 1e-3);
    EXPECT_NEAR(area_of(shape.lower), 0.5, 0.02) << "the bench, and nothing of a floor that is bent";
}

TEST(PlanShape, AHundredThousandTrianglesAreAFewHundredPoints) {
    const Triangles globe = sphere({2, 2, 1.2F}, 0.5F, 160);
    ASSERT_GT(globe.faces.size(), 100'000U);
    const PlanShape shape = shape_of("globe", globe, 0, 2000);
    EXPECT_LT(points_in(shape.cut) + points_in(shape.lower), 200U);
    EXPECT_NEAR(length_of(shape.cut), 2 * pi * 0.5, 0.02);
    EXPECT_NEAR(area_of(shape.lower), pi * 0.25, 0.01);
    // However few points there may be, there are no more, and what is drawn is still about as large.
    const PlanShape coarse = shape_of("globe", globe, 0, 24);
    EXPECT_LE(points_in(coarse.cut) + points_in(coarse.lower), 24U);
    EXPECT_NEAR(area_of(coarse.cut), pi * 0.25, 0.15);
}

TEST(PlanShape, AnUprightWindowIsOneLine) {
    OpeningPatch window;
    for (int i = 0; i < 4; ++i) {
        const float x = 1 + 0.5F * static_cast<float>(i);
        window.triangles.push_back({Vec3(x, 0, 1), Vec3(x + 0.5F, 0, 1), Vec3(x + 0.5F, 0, 2)});
        window.triangles.push_back({Vec3(x, 0, 1), Vec3(x + 0.5F, 0, 2), Vec3(x, 0, 2)});
    }
    const auto lines = plan_lines(window, 100);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_NEAR(length_of(lines), 2, 1e-4);
    EXPECT_EQ(lines[0].size(), 2U);
}

}  // namespace
}  // namespace rushlight::testing_pictures
