// Hair as it grows on the common head: bounded, the same every time, on the scalp and out of the face.
#include "scene/figure/hair.h"
#include "quantity/units.h"
#include "scene/scene.h"
#include "scene/surface/complexion.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

/// Somebody of no particular description.
std::shared_ptr<const OwnHead> a_head() {
    return own_head(person_key(StandIn{}));
}

constexpr HairCut cuts[] = {HairCut::cropped, HairCut::shorter, HairCut::bob, HairCut::loose, HairCut::tied};

TEST(StandInHair, IsBoundedAndWhole) {
    for (const HairCut cut : cuts) {
        const Fibres& f = grown_hair(cut, 0.5, a_head())->fibres;
        RecordProperty("fibres of cut " + std::to_string(int(cut)), static_cast<int>(f.count()));
        EXPECT_GT(f.count(), 8'000U) << int(cut);
        EXPECT_LT(f.count(), 50'000U) << int(cut);
        EXPECT_LT(f.points.size(), 400'000U) << int(cut) << ": 16 bytes a point, and some 100 of the tree";
        ASSERT_EQ(f.radii.size(), f.points.size());
        for (std::size_t i = 0; i < f.count(); ++i) ASSERT_GE(f.end_of(i), f.roots[i] + 2U);
        for (std::size_t i = 0; i < f.points.size(); ++i) {
            ASSERT_TRUE(std::isfinite(f.points[i].x + f.points[i].y + f.points[i].z));
            ASSERT_LT(f.points[i].length(), 620) << "mm";
            ASSERT_GT(f.radii[i], 0.03F);
            ASSERT_LT(f.radii[i], 0.25F);
        }
    }
}

TEST(StandInHair, GrowsTheSameEveryTime) {
    const Fibres a = grow_hair(HairCut::shorter, 0.3, *a_head()), b = grow_hair(HairCut::shorter, 0.3, *a_head());
    EXPECT_TRUE(a.points == b.points && a.radii == b.radii && a.roots == b.roots);
    EXPECT_FALSE(a.points == grow_hair(HairCut::shorter, 0.9, *a_head()).points);
}

TEST(StandInHair, GrowsOutOfTheScalpAndLeavesTheFaceFree) {
    const auto head = a_head();
    const auto field = head_field(head->of);
    const Hairline line(*head);
    for (const HairCut cut : cuts) {
        const Fibres& f = grown_hair(cut, 0.2, head)->fibres;
        std::size_t inside = 0, before_face = 0;
        for (std::size_t i = 0; i < f.count(); ++i) {
            const bool of_the_tail = cut == HairCut::tied && f.points[f.roots[i]].x < line.back() + 8;
            if (!of_the_tail) {
                EXPECT_LT(std::abs(field->bare(f.points[f.roots[i]])), 2) << "mm off the skin";
                EXPECT_GT(line.behind(f.points[f.roots[i]]), -5);
            }
            for (std::size_t p = f.roots[i]; p < f.end_of(i); ++p) {
                const Vec3& q = f.points[p];
                inside += field->all(q) < -3;  // bare heads have holes where their ears were
                before_face += q.x > 62 && std::abs(q.y) < 42 && q.z > -110 && q.z < 30;
            }
        }
        EXPECT_LT(inside, f.points.size() / 200) << int(cut);
        EXPECT_EQ(before_face, 0U) << int(cut);
    }
}

// Seen from all round, hair hides the scalp behind its hairline: almost all of it, and most of it where it is cropped.
TEST(StandInHair, CoversTheScalp) {
    for (const HairCut cut : cuts) {
        Scene scene;
        Mark mark;
        mark.person.cut = cut;
        const Hairline line(*a_head());
        const Figure figure = stand_in(mark);
        for (const PlacedMesh& m : figure.skin) add_part(scene, m, PartKind::skin, m.made->name);
        const auto surface = scene.rays.add_surface(Surface(*figure.hair_fibre));
        for (const PlacedFibres& f : figure.hair) scene.rays.add(f, {f.made->name, PartKind::hair, surface, -1, -1});
        scene.rays.commit();
        int hair = 0, skin = 0;
        for (int i = 0; i < 2000; ++i) {
            const float z = 1 - 1.1F * static_cast<float>(i) / 2000, turn = 2.399963F * static_cast<float>(i);
            const float r = std::sqrt(1 - z * z);
            const Vec3 out(r * std::cos(turn), r * std::sin(turn), z);
            const auto hit = scene.rays.first_hit({figure.head_centre + out * 0.5F, -out});
            if (!hit) continue;
            const Vec3 p = (hit->position - (figure.head_centre - Vec3(0, 0, 0.012F))) * 1000.0F;
            if (line.behind(p) < 14) continue;
            (scene.rays.part(hit->part).kind == PartKind::hair ? hair : skin) += 1;
        }
        ASSERT_GT(hair + skin, 800);
        EXPECT_GT(hair, (cut == HairCut::cropped ? 0.6 : 0.9) * (hair + skin)) << int(cut);
    }
}

TEST(StandIn, TurnsAndTiltsTheHeadButNotTheShoulders) {
    Mark ahead, turned;
    turned.head_turn = 40;
    turned.head_tilt = 10;
    const Figure a = stand_in(ahead), b = stand_in(turned);
    EXPECT_NEAR(std::atan2(b.nose.y, b.nose.x) * 180 / pi, 40, 0.01);
    EXPECT_NEAR(std::asin(b.nose.z) * 180 / pi, 10, 0.01);
    EXPECT_NEAR((a.left_cheek.at - a.head_centre).length(), (b.left_cheek.at - b.head_centre).length(), 1e-5F);
    EXPECT_NEAR(a.left_cheek.facing.dot(a.nose), b.left_cheek.facing.dot(b.nose), 1e-5F);
    EXPECT_EQ(a.wardrobe[0].made, b.wardrobe[0].made);
    const Mesh before = in_place(a.skin[0]), after = in_place(b.skin[0]);
    // The neck's lower end stays in the collar.
    for (std::size_t i = 0; i < before.positions.size(); ++i) {
        if (before.positions[i].z > a.eye_middle.z - 0.24F) continue;
        ASSERT_LT((before.positions[i] - after.positions[i]).length(), 1e-4F);
    }
}

// Measured skins (from memory of published work): fair skin dips at 540 and 580 nm between shoulders, a W; deep skin
// less, and flattens; red is sent back about twice as well as blue, at every tone.
TEST(Complexion, HasTheColourOfSkinFromLightToDeep) {
    double dip_before = 1;
    const auto at = [](const Spectrum& s, double nm) {
        return double(s[static_cast<int>((nm - first_band_from) / band_width)]);
    };
    const auto dip = [&](const Spectrum& s) { return 0.5 * (at(s, 510) + at(s, 610)) - at(s, 550); };
    for (const double y : {0.35, 0.28, 0.20, 0.14, 0.09, 0.05}) {
        const Spectrum s = skin_body(y);
        EXPECT_NEAR(luminous_share(s, equal_energy()), y, 1e-4);
        EXPECT_GT(dip(s), 0) << y;
        EXPECT_LT(dip(s), dip_before) << y;
        dip_before = dip(s);
        EXPECT_GT(at(s, 650), 1.8 * at(s, 450)) << y;
        EXPECT_LT(at(s, 650), 4 * at(s, 450)) << y;
        EXPECT_LT(s.largest(), 1);
    }
    const Spectrum fair = skin_body(0.35), deep = skin_body(0.05);
    EXPECT_LT(dip(deep) / at(deep, 550), 0.85 * dip(fair) / at(fair, 550));
}

}  // namespace
}  // namespace rushlight
