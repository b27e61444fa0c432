#include "scene/furniture/furniture.h"

#include "by_chance.h"
#include "quantity/units.h"
#include "setup/plain/whereabouts.h"

namespace rushlight {
namespace {

std::vector<FurnitureShape> all_shapes() {
    std::vector<FurnitureShape> shapes;
    for (std::size_t i = 0; i < furniture_shape_words.size(); ++i) shapes.push_back(static_cast<FurnitureShape>(i));
    return shapes;
}

std::string_view word_of(FurnitureShape shape) {
    return furniture_shape_words[static_cast<std::size_t>(shape)];
}

/// A size as somebody would give it.
Vec3 usual_size(FurnitureShape shape) {
    switch (shape) {
        case FurnitureShape::table:
            return {1.4F, 0.8F, 0.75F};
        case FurnitureShape::stool:
            return {0.34F, 0.34F, 0.46F};
        case FurnitureShape::chair:
            return {0.44F, 0.46F, 0.86F};
        case FurnitureShape::sofa:
            return {2.1F, 0.9F, 0.82F};
        case FurnitureShape::bed:
            return {1.6F, 2.05F, 1.0F};
        case FurnitureShape::lamp_foot:
            return {0.25F, 0.25F, 1.4F};
        case FurnitureShape::tree:
            return {4, 4.4F, 7};
        case FurnitureShape::car:
            return {4.4F, 1.8F, 1.46F};
        case FurnitureShape::house:
            return {18, 6, 9};
        case FurnitureShape::box:
        case FurnitureShape::shelf:
        case FurnitureShape::drawers:
        case FurnitureShape::counter:
            break;
    }
    return {1.8F, 0.45F, 1.1F};
}

Box box_of(FurnitureShape shape, const Vec3& size, double turn) {
    Box box;
    box.name = "thing";
    box.centre = Vec3(2, 3, 0.4F + size.z / 2);
    box.size = size;
    box.turn = turn;
    box.shape = shape;
    return box;
}

/// In the frame of the box, from its middle.
Vec3 within(const Box& box, const Vec3& p) {
    const auto a = static_cast<float>(radians(Degree{box.turn}));
    const Vec3 d = p - box.centre;
    return {d.x * std::cos(a) + d.y * std::sin(a), d.y * std::cos(a) - d.x * std::sin(a), d.z};
}

TEST(Furniture, FillsItsBoxAndNoMore) {
    std::mt19937_64 random(7);
    for (const FurnitureShape shape : all_shapes())
        for (int i = 0; i < 12; ++i) {
            const auto u = by_chance::even_numbers<4>(random);
            // From doll's furniture to half as large again.
            const float most = i == 0 ? 1.0F : 1.5F;
            Vec3 size = usual_size(shape);
            for (int axis = 0; axis < 3; ++axis)
                size[axis] *= i == 0 ? 1.0F : 0.25F + (most - 0.25F) * u[static_cast<std::size_t>(axis)];
            const Box box = box_of(shape, size, i == 0 ? 0 : 360.0 * static_cast<double>(u[3]));
            Vec3 least(1e9F), largest(-1e9F);
            std::size_t triangles = 0;
            for (const Mesh& m : furniture_meshes(box)) {
                triangles += m.triangles.size();
                for (const Vec3& p : m.positions)
                    for (int axis = 0; axis < 3; ++axis) {
                        const float at = within(box, p)[axis];
                        ASSERT_TRUE(std::isfinite(at)) << word_of(shape);
                        least[axis] = std::min(least[axis], at), largest[axis] = std::max(largest[axis], at);
                    }
            }
            SCOPED_TRACE(std::string(word_of(shape)) + " " + std::to_string(size.x) + " x " + std::to_string(size.y) +
                         " x " + std::to_string(size.z));
            EXPECT_GT(triangles, 0U);
            EXPECT_LT(triangles, 60'000U);
            for (int axis = 0; axis < 3; ++axis) {
                const float half = size[axis] / 2, slack = 1e-4F + 1e-5F * size[axis];
                EXPECT_GE(least[axis], -half - slack) << axis;
                EXPECT_LE(largest[axis], half + slack) << axis;
                if (i > 0) continue;
                EXPECT_LE(least[axis], -0.85F * half) << axis;
                EXPECT_GE(largest[axis], 0.85F * half) << axis;
            }
            if (i > 0) continue;
            EXPECT_NEAR(least.z, -size.z / 2, 1e-3F) << "it stands on its foot";
            EXPECT_NEAR(largest.z, size.z / 2, 0.04F * size.z);
        }
}

/// Cushions and posts are shaded by their normals, so these must look out, as their triangles are wound.
TEST(Furniture, RoundPartsFaceOutwards) {
    for (const FurnitureShape shape : all_shapes())
        for (const Mesh& m : furniture_meshes(box_of(shape, usual_size(shape), 35))) {
            if (m.normals.empty()) continue;
            ASSERT_EQ(m.normals.size(), m.positions.size());
            for (const auto& t : m.triangles) {
                const Vec3 across =
                    (m.positions[t[1]] - m.positions[t[0]]).cross(m.positions[t[2]] - m.positions[t[0]]);
                if (across.length() < 1e-9F) continue;
                for (const std::uint32_t corner : t) {
                    EXPECT_NEAR(m.normals[corner].length(), 1, 1e-4F);
                    ASSERT_GT(across.normalized().dot(m.normals[corner]), 0.3F) << word_of(shape);
                }
            }
        }
}

TEST(Furniture, OneSitsAtTheUsualHeight) {
    const Box box = box_of(FurnitureShape::chair, usual_size(FurnitureShape::chair), 0);
    float seat = 0;
    for (const Mesh& m : furniture_meshes(box))
        if (!m.normals.empty())
            for (const Vec3& p : m.positions) seat = std::max(seat, p.z - 0.4F);
    EXPECT_NEAR(seat, 0.46F, 0.005F);
}

TEST(Furniture, UnderATableNothingIsInsideIt) {
    Place place;
    place.boxes = {box_of(FurnitureShape::table, {1.4F, 0.8F, 0.75F}, 0)};
    EXPECT_EQ(box_around(place, {2, 3, 0.7F}), nullptr);
    place.boxes = {box_of(FurnitureShape::drawers, {1.4F, 0.8F, 0.75F}, 0)};
    EXPECT_NE(box_around(place, {2, 3, 0.7F}), nullptr);
}

}  // namespace
}  // namespace rushlight
