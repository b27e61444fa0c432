// What a figure is covered with, and that odd people do not break it.
#include "scene/figure/standing.h"

#include "scene/person/head.h"
#include "scene/person/made_person.h"
#include "setup/plain/cast.h"

#include <chrono>
#include <map>

namespace rushlight {
namespace {

using namespace standing;

// From memory of published measurements: faces lie near 45 to 65 degrees of hue in CIELAB, with a chroma of 15 to 25
// at a lightness of about 60; red is sent back two to three times as well as blue; and blood draws the curve at 540
// to 580 nm below the line from green to red.
TEST(StandIn, SkinHasTheColourOfSkin) {
    Mark m = mark_for(1.72);
    m.person.skin = 0.28;  // a lightness of about 60
    const Spectrum skin = stand_in(m).skin[0].finish.reflectance, white = daylight(Kelvin(6504));
    const Tristimulus w = tristimulus(white), t = tristimulus(white * skin);
    const auto root = [](double share) { return std::cbrt(share); };  // all well above the straight part
    const double a = 500 * (root(t.x / w.x) - root(t.y / w.y)), b = 200 * (root(t.y / w.y) - root(t.z / w.z));
    EXPECT_GT(std::atan2(b, a) * 180 / pi, 45);
    EXPECT_LT(std::atan2(b, a) * 180 / pi, 65);
    EXPECT_GT(std::hypot(a, b), 15);
    EXPECT_LT(std::hypot(a, b), 25);
    const auto at = [&](double nm) { return skin[static_cast<int>((nm - first_band_from) / band_width)]; };
    EXPECT_GT(at(650), 1.8F * at(450));
    EXPECT_LT(at(650), 3.0F * at(450));
    EXPECT_LT(at(545), 0.5F * at(500) + 0.5F * at(590));
    EXPECT_LT(at(570), 0.25F * at(500) + 0.75F * at(600));
}

// Looked at from all round and a little above, a neck meets cloth: no ray passes between into the body.
TEST(StandIn, CollarAndClothesLeaveNoGapAtTheNeck) {
    for (const Wear wear : {Wear::jumper, Wear::jacket, Wear::tee})
        for (const double height : {1.40, 1.72, 1.95}) {
            Mark m = mark_for(height);
            m.person.wear = wear;
            Scene scene;
            const Figure f = stand_in(m);
            for (const PlacedMesh& p : f.skin) add_part(scene, p, PartKind::skin, "skin");
            for (const PlacedMesh& p : f.wardrobe) add_part(scene, p, PartKind::wardrobe, "cloth");
            scene.rays.commit();
            int holes = 0, met = 0;
            const float size = static_cast<float>(height) / 1.72F;
            const Vec3 neck = f.eye_middle - Vec3(0.09F, 0, 0.19F) * size;
            for (int i = 0; i < 1500; ++i) {
                const float turn = 2.399963F * static_cast<float>(i), down = 0.12F * static_cast<float>(i) / 1500;
                const Vec3 from = neck + Vec3(std::cos(turn), std::sin(turn), 0.25F);
                const Vec3 way = (neck - Vec3(0, 0, down) * size - from).normalized();
                const auto hit = scene.rays.first_hit({from, way});
                if (!hit) continue;
                ++met;
                // Deeper than the neck's own middle: a hole was looked into.
                holes += hit->distance > (neck - from).length() + 0.03F;
            }
            ASSERT_GT(met, 1400);
            EXPECT_LT(holes, met / 50) << int(wear) << " " << height;
        }
}

TEST(StandIn, FinishesAreThePersonsOwn) {
    Mark m = mark_for(1.72);
    m.person.skin = 0.30;
    m.person.hair = 0.05;
    m.person.hair_warmth = 0;
    m.person.wardrobe = 0.40;
    const Standing f(m);
    const auto luminous = [](const Mesh& mesh) { return luminous_share(mesh.finish.reflectance, equal_energy()); };
    EXPECT_NEAR(luminous(f.skin[0]), 0.30, 1e-3);
    EXPECT_NEAR(luminous(f.wardrobe[0]), 0.40, 1e-3);
    // Fresnel at normal incidence, ((n-1)/(n+1))^2: skin n = 1.40 gives 0.028.
    EXPECT_NEAR(f.skin[0].finish.gloss, std::pow(0.40 / 2.40, 2), 1e-3);
    m.person.hair_warmth = 1;
    const Standing warm(m);
    EXPECT_GT(warm.hair_fibre->share(0)[13] / warm.hair_fibre->share(0)[3],
              1.3F * f.hair_fibre->share(0)[13] / f.hair_fibre->share(0)[3]);
}

TEST(StandIn, OddPeopleDoNotBreakIt) {
    for (const double height : {0.3, 0.7, 2.4})
        for (const double seat : {0.0, 0.2, 0.9, 3.0}) {
            const Standing f(mark_for(height, Pose::seated, seat));
            for (const Mesh* m : meshes_of(f))
                for (const Vec3& p : m->positions)
                    ASSERT_TRUE(std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z))
                        << height << " " << seat;
        }
}

TEST(StandIn, IsMadeWithinThreeSeconds) {
    stand_in(mark_for(1.70));  // the head is modelled once
    const auto start = std::chrono::steady_clock::now();
    stand_in(mark_for(1.71, Pose::seated));
    EXPECT_LT(std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(), 3.0);
}

}  // namespace
}  // namespace rushlight
