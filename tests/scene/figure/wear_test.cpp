// What a stand-in wears: glasses that fit its head, and a jacket that is the same clothes cut open.
#include "scene/figure/glasses.h"
#include "scene/figure/stand_in.h"
#include "scene/person/head.h"
#include "scene/person/made_person.h"
#include "scene/surface/surface.h"
#include "setup/plain/cast.h"

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
TEST(Glasses, FitEveryHead) {
    for (const CastPerson& one : cast_people()) {
        const auto head = own_head(person_key(one.who));
        const auto field = head_field(head->of);
        const GlassesFit fit = glasses_fit(*head);
        const GlassesMeshes g = glasses_of(Rims::dark, Lenses::plain, fit);
        float least = 1e9F;
        for (const Mesh* m : {&g.rims, &g.glass[0], &g.glass[1]})
            for (const Vec3& p : m->positions) least = std::min(least, field->all(p));
        EXPECT_GT(least, -4) << one.name << ": pressed into the skin";
        EXPECT_LT(least, 4) << one.name << ": held by nothing";
        for (const Mesh& glass : g.glass)
            for (const Vec3& p : glass.positions) EXPECT_GT(field->all(p), 0) << one.name;
        const float cornea = head->eyes[0].x + head->eye_radius + 1.2F;
        const float before = g.lenses[0].at(g.lenses[0].normal(0, 0.15F)).x - cornea;
        EXPECT_GT(before, 9) << one.name;
        EXPECT_LT(before, 20) << one.name;
        EXPECT_NEAR(std::asin(-g.lenses[0].out.z) * 180 / pi, 9, 0.1);
    }
}

TEST(Glasses, LensKnowsItsOwnPlaces) {
    const GlassesMeshes g = glasses_of(Rims::dark, Lenses::plain, {});
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
        const double scale = build_of(m.person).head_scale / 1000;
        for (std::size_t i = 0; i < 2; ++i) {
            const SpectacleLens& l = (*f.spectacles)[i];
            EXPECT_NEAR(l.radius / scale, 120, 0.1);
            const Vec3 off = l.at(l.out) - f.cornea_centre[i];
            EXPECT_NEAR(static_cast<double>(off.dot(f.nose)) / scale, 22.5, 6);
            for (const Vec3& p : in_place(f.lens_glass[i]).positions)
                EXPECT_NEAR(static_cast<double>((p - l.ball).length()) / scale, 120, 0.1);
        }
    }
}

TEST(Jacket, ShirtShowsAtCollarAndChest) {
    Mark m = someone(Rims::none);
    m.person.wear = Wear::jacket;
    m.person.shirt = 0.7;
    m.person.wardrobe = 0.05;
    const Figure f = stand_in(m);
    int shirts = 0;
    for (const PlacedMesh& part : f.wardrobe) {
        const std::string& name = part.made->name;
        if (name == "shoes") continue;
        shirts += name == "shirt";
        EXPECT_NEAR(part.finish.reflectance[8], name == "shirt" ? 0.7F : 0.05F, 0.01F) << name;
    }
    EXPECT_EQ(shirts, 1);
    // From straight ahead, a hand's breadth under the chin, the shirt is met before the jacket and before skin.
    float nearest = -9;
    std::string first;
    for (const auto* group : {&f.wardrobe, &f.skin})
        for (const PlacedMesh& part : *group)
            for (const Vec3& p : in_place(part).positions)
                if (std::abs(p.y) < 0.006F && std::abs(p.z - (f.eye_middle.z - 0.27F)) < 0.008F && p.x > nearest) {
                    nearest = p.x;
                    first = part.made->name;
                }
    EXPECT_EQ(first, "shirt");
}

}  // namespace
}  // namespace rushlight
