// What a stand-in wears: glasses that fit its head, and a jacket that is the same clothes cut open.
#include "scene/figure/head.h"
#include "scene/figure/jacket.h"
#include "scene/figure/meshes.h"
#include "scene/figure/stand_in.h"
#include "scene/surface/surface.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

Mark someone(Rims rims = Rims::dark, Lenses lenses = Lenses::plain) {
    Mark m;
    m.name = "A";
    m.person.glasses = rims;
    m.person.lenses = lenses;
    return m;
}

// Opticians' figures, from memory: the glass stands 12 to 16 mm before the cornea and leans 8 to 12 degrees; frames
// rest on nose and ears.
TEST(Glasses, FitTheHead) {
    for (const Rims rims : {Rims::wire, Rims::dark, Rims::pale}) {
        const GlassesMeshes g = glasses_of(rims, Lenses::plain);
        float least = 1e9F;
        for (const Mesh* m : {&g.rims, &g.temples, &g.glass[0], &g.glass[1]})
            for (const Vec3& p : m->positions) least = std::min(least, head_skin(p));
        EXPECT_GT(least, -2) << "pressed into the skin";
        EXPECT_LT(least, 1) << "held by nothing";
        for (const Mesh& glass : g.glass)
            for (const Vec3& p : glass.positions) EXPECT_GT(head_skin(p), 0);
    }
    const SpectacleLens left = glasses_of(Rims::wire, Lenses::plain).lenses[0];
    const HeadSize& m = head_size();
    const Vec3 cornea = m.eye + Vec3(5.3F + 7.8F, 0, 0);
    const float before = left.at(left.normal(0, 0.15F)).x - cornea.x;
    EXPECT_GT(before, 12);
    EXPECT_LT(before, 17.5F);
    EXPECT_NEAR(std::asin(-left.out.z) * 180 / pi, 9, 0.1);
}

TEST(Glasses, LensKnowsItsOwnPlaces) {
    const GlassesMeshes g = glasses_of(Rims::dark, Lenses::plain);
    for (std::size_t i = 0; i < 2; ++i) {
        const SpectacleLens& l = g.lenses[i];
        EXPECT_TRUE(l.holds(l.out));
        EXPECT_TRUE(l.holds(l.normal(0.95F, 0)));
        EXPECT_FALSE(l.holds(l.normal(1.05F, 0)));
        EXPECT_FALSE(l.holds(l.normal(0.95F, 0.95F)));
        EXPECT_FALSE(l.holds(-l.out));
        for (const Vec3& p : g.glass[i].positions) EXPECT_NEAR((p - l.ball).length(), l.radius, 1e-3F);
        // Wound outwards.
        for (const auto& t : g.glass[i].triangles) {
            const Vec3 &a = g.glass[i].positions[t[0]], &b = g.glass[i].positions[t[1]],
                       &c = g.glass[i].positions[t[2]];
            EXPECT_GT((b - a).cross(c - a).dot(l.out), 0);
        }
    }
    EXPECT_NEAR(g.lenses[0].ball.y, -g.lenses[1].ball.y, 1e-4F);
}

// 4 % a face of index 1.5, both faces 2 r / (1 + r) less what the glass takes (optics texts): 7.7 %.
TEST(Glasses, MirrorAsMuchAsTheirGlass) {
    const Finish plain = glass_of_lens(Lenses::plain), coated = glass_of_lens(Lenses::coated);
    EXPECT_NEAR(pane_shares(1, plain.pane_index, plain.pane_transmittance).reflected, 0.0769F, 0.001F);
    EXPECT_NEAR(pane_shares(1, coated.pane_index, coated.pane_transmittance).reflected, 0.01F, 0.0003F);
}

TEST(Glasses, AreWornOnlyWhenAskedFor) {
    const Figure without = stand_in(someone(Rims::none));
    EXPECT_TRUE(without.rims.empty() && without.lens_glass.empty() && !without.spectacles);
    const Figure empty = stand_in(someone(Rims::wire, Lenses::empty));
    EXPECT_EQ(empty.rims.size(), 2U);
    EXPECT_TRUE(empty.lens_glass.empty() && !empty.spectacles);
    // A turned head takes them with it; on a child they are smaller, in proportion.
    Mark turned = someone();
    turned.head_turn = 40;
    turned.head_tilt = -10;
    Mark child = someone();
    child.person.height = 1.2;
    for (const Mark& m : {someone(), turned, child}) {
        const Figure f = stand_in(m);
        ASSERT_TRUE(f.spectacles);
        const double scale = f.cornea_radius / 7.8;
        for (std::size_t i = 0; i < 2; ++i) {
            const SpectacleLens& l = (*f.spectacles)[i];
            EXPECT_NEAR(l.radius / scale, 120, 0.1);
            const Vec3 off = l.at(l.out) - f.cornea_centre[i];
            EXPECT_NEAR(static_cast<double>(off.dot(f.nose)) / scale, 24.2, 1);
            for (const Vec3& p : in_place(f.lens_glass[i]).positions)
                EXPECT_NEAR(static_cast<double>((p - l.ball).length()) / scale, 120, 0.1);
        }
    }
}

double area(const Mesh& m) {
    double sum = 0;
    for (const auto& t : m.triangles)
        sum += static_cast<double>(
                   (m.positions[t[1]] - m.positions[t[0]]).cross(m.positions[t[2]] - m.positions[t[0]]).length()) /
               2;
    return sum;
}

// Cutting neither makes nor loses cloth; the shirt, which lies a little deeper, is smaller by less than a tenth.
TEST(Jacket, IsTheSameClothesCutOpen) {
    const auto body = body_meshes(BodyShape{}, 1);
    const OpenJacket worn = cut_open(body->clothes);
    double v = 0;
    for (const auto& t : body->clothes.triangles) {
        Vec3 middle(0);
        for (const std::uint32_t c : t) middle += body->clothes.positions[c] / 3.0F;
        Mesh one;
        for (const std::uint32_t c : t) one.positions.push_back(body->clothes.positions[c]);
        one.triangles.push_back({0, 1, 2});
        if (within_the_v(middle)) v += area(one);
    }
    EXPECT_GT(area(worn.shirt), 10'000);  // mm2: a hand's breadth at the neck
    EXPECT_NEAR(area(worn.shirt), v, 0.1 * v);
    EXPECT_NEAR(area(worn.jacket), area(body->clothes) - v, 0.02 * v);
    for (const Mesh* m : {&worn.jacket, &worn.shirt}) {
        ASSERT_EQ(m->normals.size(), m->positions.size());
        for (const Vec3& n : m->normals) EXPECT_NEAR(n.length(), 1, 1e-3F);
    }
    // The edge runs along both sides of the V, from the neck to its point.
    double low = 1e9, high = -1e9;
    for (const Vec3& p : worn.edge.positions) {
        low = std::min(low, static_cast<double>(p.z));
        high = std::max(high, static_cast<double>(p.z));
    }
    EXPECT_LT(low, -290);
    EXPECT_GT(high, -20);
}

TEST(Jacket, ShirtShowsAtCollarAndChest) {
    Mark m = someone(Rims::none);
    const Figure plain = stand_in(m);
    EXPECT_EQ(plain.wardrobe.size(), 2U);
    m.person.shirt = 0.7;
    m.person.wardrobe = 0.05;
    const Figure f = stand_in(m);
    ASSERT_EQ(f.wardrobe.size(), 4U);
    for (const PlacedMesh& part : f.wardrobe) {
        const std::string& name = part.made->name;
        const bool shirt = name == "shirt" || name == "collar";
        EXPECT_NEAR(part.finish.reflectance[8], shirt ? 0.7F : 0.05F, 0.01F) << name;
    }
    // The same clothes stand where they stood.
    EXPECT_EQ(plain.wardrobe[1].made, f.wardrobe[3].made);
}

}  // namespace
}  // namespace rushlight
