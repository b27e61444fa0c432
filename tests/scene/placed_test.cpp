// What was made once, in a frame of its own, and placed: met by rays as if it had been made where it stands.
#include "scene/scene.h"

#include "rooms_as_text.h"
#include "scene/figure/hair.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>

namespace rushlight {
namespace {

/// Turned 70 degrees about z and nodding, a thousandth as large, off the origin.
Placement somewhere() {
    const float c = std::cos(1.2217F), s = std::sin(1.2217F), n = std::cos(0.2F), d = std::sin(0.2F);
    return {{c * n, s * n, d}, {-s, c, 0}, {-c * d, -s * d, n}, 0.001F, {3.2F, 1.7F, 1.5F}};
}

std::vector<Ray> rays_at(const Vec3& middle, float radius, int count) {
    std::mt19937 dice(7);
    std::normal_distribution<float> bell;
    std::vector<Ray> rays;
    for (int i = 0; i < count; ++i) {
        const Vec3 from = middle + Vec3(bell(dice), bell(dice), bell(dice)).normalized() * 0.7F;
        const Vec3 to = middle + Vec3(bell(dice), bell(dice), bell(dice)) * (0.4F * radius);
        rays.push_back({from, (to - from).normalized()});
    }
    return rays;
}

/// Hits of both scenes along the same rays. On an edge either neighbour may be met: a handful of them may differ.
void expect_same_hits(const RayScene& made_there, const RayScene& placed, HitFrame::Kind kind, float radius) {
    int met = 0, other = 0;
    for (const Ray& ray : rays_at(somewhere().origin, radius, 4000)) {
        const auto a = made_there.first_hit(ray), b = placed.first_hit(ray);
        if (a.has_value() != b.has_value() || (a && a->primitive != b->primitive)) {
            ++other;
            continue;
        }
        if (!a) continue;
        ++met;
        ASSERT_EQ(b->frame.kind, kind);
        EXPECT_NEAR(a->distance, b->distance, 2e-5F);
        EXPECT_LT((a->normal - b->normal).length(), 2e-3F);
        EXPECT_LT((a->frame.way - b->frame.way).length(), 2e-3F);
        EXPECT_LT((a->frame.bulge - b->frame.bulge).length(), 1e-5F);
        // Where along a fibre that thins to its tip, some metres off: to rounding.
        EXPECT_NEAR(a->frame.radius, b->frame.radius, 1e-3F * a->frame.radius);
        Spectrum through(1), through_placed(1);
        EXPECT_EQ(made_there.passes(ray, through), placed.passes(ray, through_placed));
    }
    EXPECT_GT(met, 1000);
    EXPECT_LT(other, 40);
}

Part plain(RayScene& rays) {
    return {"it", PartKind::skin, rays.add_surface(Surface(Finish{})), -1, -1};
}

TEST(Placed, MeshesAreMetAsIfMadeThere) {
    auto in_millimetres = std::make_shared<Mesh>(*skin_of(made_person({}), {}));
    for (Vec3& p : in_millimetres->positions) p = (p - Vec3(0, 0, 1.6F)) * 1000.0F;
    const std::shared_ptr<const Mesh> head = in_millimetres;
    RayScene made_there, placed;
    made_there.add(in_place({head, somewhere(), {}}), plain(made_there));
    placed.add(head, somewhere(), plain(placed));
    made_there.commit();
    placed.commit();
    expect_same_hits(made_there, placed, HitFrame::Kind::rounded, 0.1F);
}

TEST(Placed, FibresAreMetAsIfGrownThere) {
    const auto grown = grown_hair(HairCut::shorter, 0.3, own_head({}));
    const std::shared_ptr<const Fibres> hair(grown, &grown->fibres);
    auto there = std::make_shared<Fibres>(*hair);
    for (Vec3& p : there->points) p = somewhere()(p);
    for (float& r : there->radii) r *= somewhere().scale;
    RayScene made_there, placed;
    made_there.add(PlacedFibres{there, {}}, plain(made_there));
    placed.add(PlacedFibres{hair, somewhere()}, plain(placed));
    made_there.commit();
    placed.commit();
    expect_same_hits(made_there, placed, HitFrame::Kind::fibre, 0.12F);
}

TEST(Placed, NobodyIsMadeAnewForAStepAside) {
    Mark here, there;
    there.at = {1, 2, 0};
    there.facing = 120;
    const Figure a = stand_in(here), b = stand_in(there);
    ASSERT_EQ(a.skin.size(), b.skin.size());
    for (std::size_t i = 0; i < a.skin.size(); ++i) EXPECT_EQ(a.skin[i].made, b.skin[i].made);
    for (std::size_t i = 0; i < a.wardrobe.size(); ++i) EXPECT_EQ(a.wardrobe[i].made, b.wardrobe[i].made);
    for (std::size_t i = 0; i < a.hair.size(); ++i) EXPECT_EQ(a.hair[i].made, b.hair[i].made);
}

TEST(Placed, ModelsThatAreHeldAreReadAgainOnlyWhenTheirFileChanges) {
    const auto folder = std::filesystem::temp_directory_path() / ("rushlight-placed-" + std::to_string(::getpid()));
    std::filesystem::create_directories(folder);
    const auto write = [&](const char* last) {
        std::ofstream(folder / "m.obj") << "v 0 0 0\nv 1 0 0\nv 1 1 0\nv " << last << "\nf 1 2 3 4\n";
    };
    const std::string text =
        testing_rooms::room("4", "4", "3") +
        "[[place.furniture]]\nname = \"top\"\nobj = "
        "\"m.obj\"\nat = [2, 2]\nfinish = { reflectance = 0.3 }\n[[meter]]\nname = \"m\"\nat = [1, 1, 1]\n"
        "facing = [0, 0, 1]\n";
    const auto model = [&](const std::string& reflectance) {
        std::string one = text;
        one.replace(one.find("0.3"), 3, reflectance);
        return SetupFile::from_text(one, (folder / "f.toml").string()).setup().place.models.at(0).triangles;
    };
    write("0 1 0");
    const auto first = model("0.3");
    EXPECT_EQ(model("0.3"), first);
    EXPECT_NE(model("0.4"), first) << "another finish";
    write("0 1.5 0");
    EXPECT_NE(model("0.3"), first) << "another file";
    std::filesystem::remove_all(folder);
}

// Who keeps many scenes counts a person in all of them once, and each scene's own part is small.
TEST(Placed, WhatScenesShareIsToldFromWhatEachHasForItself) {
    const std::string text = testing_rooms::room("4", "4", "3") + "[[mark]]\nname = \"A\"\nat = [2, 2]\nfacing = 90\n";
    rushlight::Setup s = SetupFile::from_text(text, "f.toml").setup();
    const Scene here = build_scene(s);
    s.rig.marks[0].at.x += 0.5F;
    const Scene there = build_scene(s);
    std::map<const void*, std::size_t> first, both;
    here.rays.add_shared(first);
    here.rays.add_shared(both);
    there.rays.add_shared(both);
    EXPECT_EQ(first, both);
    std::size_t shared = 0, hair = 0;
    for (const auto& [body, bytes] : first) shared += bytes, hair = std::max(hair, bytes);
    // Some hundred thousand pieces of hair, each with four floats and its place in a tree.
    EXPECT_GT(hair, 5'000'000U);
    EXPECT_LT(here.rays.own_bytes(), shared / 10);
    EXPECT_GT(here.rays.own_bytes(), 1000U) << "walls have trees too";
}

}  // namespace
}  // namespace rushlight
