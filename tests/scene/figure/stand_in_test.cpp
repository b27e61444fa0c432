// The figure on a mark against published body measures (docs/people.md names them), and as a body that light
// can be traced on: closed, finite, turned the right way, with meters just off its skin.
#include "scene/figure/stand_in.h"

#include "quantity/colour.h"
#include "scene/figure/body.h"
#include "scene/figure/head.h"
#include "setup/plain/face.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <map>

namespace rushlight {
namespace {

Mark mark_for(double height, Pose pose = Pose::standing, double seat = 0.45) {
    Mark m;
    m.name = "A";
    m.person.height = height;
    m.person.pose = pose;
    m.person.seat = seat;
    return m;
}

/// A figure with its corners and fibres where they stand.
struct Standing : Figure {
    std::vector<Mesh> skin, wardrobe, eyes;
    std::vector<Fibres> hair;

    explicit Standing(const Mark& mark) : Figure(stand_in(mark)) {
        for (const PlacedMesh& m : Figure::skin) skin.push_back(in_place(m));
        for (const PlacedMesh& m : Figure::wardrobe) wardrobe.push_back(in_place(m));
        for (const PlacedMesh& m : Figure::eyes) eyes.push_back(in_place(m));
        for (const PlacedFibres& f : Figure::hair) {
            hair.push_back(*f.made);
            for (Vec3& p : hair.back().points) p = f.at(p);
        }
    }
};

std::vector<const Mesh*> meshes_of(const Standing& f) {
    std::vector<const Mesh*> all;
    for (const auto* group : {&f.skin, &f.wardrobe, &f.eyes})
        for (const Mesh& m : *group) all.push_back(&m);
    return all;
}

struct Extent {
    Vec3 low{1e9F}, high{-1e9F};
    void add(const Mesh& m) {
        for (const Vec3& p : m.positions)
            for (int i = 0; i < 3; ++i) {
                low[i] = std::min(low[i], p[i]);
                high[i] = std::max(high[i], p[i]);
            }
    }
};

/// Solid angle of the mesh seen from `p` over 4 pi (van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 30(2),
/// 1983): 1 inside a closed mesh wound outwards, 0 outside.
double winding(const Mesh& m, const Vec3& p) {
    double sum = 0;
    for (const auto& t : m.triangles) {
        const Imath::V3d a(m.positions[t[0]] - p), b(m.positions[t[1]] - p), c(m.positions[t[2]] - p);
        const double la = a.length(), lb = b.length(), lc = c.length();
        sum += 2 * std::atan2(a.dot(b.cross(c)), la * lb * lc + a.dot(b) * lc + b.dot(c) * la + c.dot(a) * lb);
    }
    return sum / (4 * pi);
}

double distance_to_triangle(const Imath::V3d& p, const Imath::V3d& a, const Imath::V3d& b, const Imath::V3d& c) {
    const Imath::V3d n = (b - a).cross(c - a);
    const auto outside = [&](const Imath::V3d& u, const Imath::V3d& v) { return (v - u).cross(p - u).dot(n) < 0; };
    if (!outside(a, b) && !outside(b, c) && !outside(c, a)) return std::abs((p - a).dot(n)) / n.length();
    const auto to_edge = [&](const Imath::V3d& u, const Imath::V3d& v) {
        const double t = std::clamp((p - u).dot(v - u) / (v - u).length2(), 0.0, 1.0);
        return (u + (v - u) * t - p).length();
    };
    return std::min({to_edge(a, b), to_edge(b, c), to_edge(c, a)});
}

double distance_to(const Mesh& m, const Vec3& p) {
    double least = 1e9;
    for (const auto& t : m.triangles)
        least = std::min(least, distance_to_triangle(Imath::V3d(p), Imath::V3d(m.positions[t[0]]),
                                                     Imath::V3d(m.positions[t[1]]), Imath::V3d(m.positions[t[2]])));
    return least;
}

double degrees_between(const Vec3& a, const Vec3& b) {
    return std::acos(std::clamp(static_cast<double>(a.dot(b)), -1.0, 1.0)) * 180 / pi;
}

TEST(Build, StandingEyesMeetTheMedians) {
    // Medians without shoes, mm (an ergonomics course's table after a standard anthropometric text): stature and eye
    // height of British men and women, Japanese men and women. Shoes add 25 to both.
    struct Row {
        double stature, eye;
    };
    for (const auto& [stature, eye] : {Row{1.740, 1.630}, {1.610, 1.505}, {1.655, 1.540}, {1.530, 1.425}})
        EXPECT_NEAR(build_of(mark_for(stature + 0.025).person).eyes, eye + 0.025, 0.010) << stature;
}

TEST(Build, SeatedEyesMeetTheMedians) {
    // Sitting eye over the seat: men about 790 mm, women about 740 (from memory); at ease 30 less (common
    // practice, no source).
    EXPECT_NEAR(build_of(mark_for(1.765, Pose::seated, 0.44).person).eyes, 0.44 + 0.790 - 0.030, 0.012);
    EXPECT_NEAR(build_of(mark_for(1.635, Pose::seated, 0.42).person).eyes, 0.42 + 0.740 - 0.030, 0.012);
}

TEST(Build, ChildrenHaveLargerHeadsForTheirSize) {
    // Eyes of a six-year-old lie 100 to 105 mm under the crown in the source used (from memory); the model gives
    // 95 because the head's own height, 195 mm, is kept. A grown head is an eighth to a seventh of the stature.
    const Build child = build_of(mark_for(1.185).person), man = build_of(mark_for(1.765).person);
    EXPECT_GT(child.head_scale / child.stature, 1.2 * man.head_scale / man.stature);
    EXPECT_NEAR(child.eyes_under_crown, 0.1025, 0.010);
    EXPECT_NEAR(man.head_scale * head_height / 1000 / man.stature, 1.0 / 7.5, 0.005);
}

TEST(StandIn, HeadHasTheMeasuresOfAHead) {
    // Men's medians, mm: length 195 (the same table), breadth 155, chin to crown 230, shoulders 465 (from memory).
    Mark m = mark_for(1.765);
    const Standing f(m);
    const float eyes = f.eye_middle.z;
    float front = -9, back = 9, top = -9, chin = 9, half = 0, shoulders = 0;
    for (const Vec3& p : f.skin[0].positions) {
        if (std::abs(p.z - eyes - 0.020F) < 0.03F && std::abs(p.y) < 0.004F) front = std::max(front, p.x);
        if (p.z > eyes - 0.05F) back = std::min(back, p.x);
        if (p.z > eyes + 0.02F) half = std::max(half, p.y);
        if (p.x > 0.07F) chin = std::min(chin, p.z);
        top = std::max(top, p.z);
    }
    for (const Vec3& p : f.wardrobe[0].positions)
        if (p.z > eyes - 0.32F) shoulders = std::max(shoulders, p.y);
    EXPECT_NEAR(front - back, 0.195F, 0.008F);
    EXPECT_NEAR(2 * half, 0.155F, 0.008F);
    EXPECT_NEAR(top - chin, 0.230F, 0.006F);
    EXPECT_NEAR(2 * shoulders, 0.465F, 0.025F);
    EXPECT_NEAR(top, 1.765F, 0.005F) << "the crown is as high as the person is tall";
}

TEST(StandIn, StandsOnTheFloorAndSitsOnTheSeat) {
    for (const double height : {1.16, 1.55, 1.70, 1.90}) {
        Mark m = mark_for(height);
        m.at = {3, 2, 0.5F};
        Extent standing;
        const Standing upright(m);
        for (const Mesh* mesh : meshes_of(upright)) standing.add(*mesh);
        EXPECT_NEAR(standing.low.z, 0.5F, 0.006F) << height;
        m = mark_for(height, Pose::seated, 0.45);
        const Standing f(m);
        EXPECT_NEAR(f.eye_middle.z, build_of(m.person).eyes, 1e-4);
        float under = 9;
        for (const Vec3& p : f.wardrobe[0].positions)
            if (p.x < 0.05F) under = std::min(under, p.z);
        EXPECT_NEAR(under, 0.45F, 0.03F) << height;
    }
}

TEST(StandIn, EverySurfaceIsFiniteAndClosed) {
    for (const Pose pose : {Pose::standing, Pose::seated})
        for (const double height : {1.10, 1.72, 2.0}) {
            const Standing f(mark_for(height, pose, 0.46));
            for (const Mesh* m : meshes_of(f)) {
                ASSERT_FALSE(m->triangles.empty()) << m->name;
                for (const Vec3& p : m->positions)
                    ASSERT_TRUE(std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z)) << m->name;
                std::size_t thin = 0;
                std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
                for (const auto& t : m->triangles) {
                    const Imath::V3d a(m->positions.at(t[0])), b(m->positions.at(t[1])), c(m->positions.at(t[2]));
                    thin += (b - a).cross(c - a).length() / 2 < 1e-12;
                    for (std::size_t i = 0; i < 3; ++i) {
                        const auto u = t[i], v = t[(i + 1) % 3];
                        edges[{std::min(u, v), std::max(u, v)}] += u < v ? 1 : -1;
                    }
                }
                EXPECT_EQ(thin, 0U) << m->name << " has triangles without area";
                if (m->name.find("eye") != std::string::npos) continue;  // open at the back
                std::size_t open = 0;
                for (const auto& [edge, sum] : edges) open += sum != 0;
                EXPECT_EQ(open, 0U) << height << " " << int(pose) << " " << m->name << " is open, or wound two ways";
            }
        }
}

TEST(StandIn, HasFewerThan180000Triangles) {
    for (const Pose pose : {Pose::standing, Pose::seated})
        for (const double height : {1.10, 1.72, 2.0})
            for (const double hair : {-1.0, 0.1}) {
                Mark m = mark_for(height, pose, 0.46);
                m.person.hair = hair;
                std::size_t triangles = 0;
                const Standing f(m);
                for (const Mesh* mesh : meshes_of(f)) triangles += mesh->triangles.size();
                EXPECT_LT(triangles, 180'000U) << height << " " << int(pose) << " " << hair;
            }
}

TEST(StandIn, SkinIsWoundToFaceOutwards) {
    const Standing f(mark_for(1.72));
    EXPECT_NEAR(winding(f.skin[0], f.head_centre), 1, 1e-3);
    EXPECT_NEAR(winding(f.skin[0], f.head_centre + Vec3(0.3F, 0, 0)), 0, 1e-3);
    EXPECT_NEAR(winding(f.wardrobe[0], f.head_centre - Vec3(0.05F, 0, 0.45F)), 1, 1e-3);
}

TEST(StandIn, FacingTurnsAnticlockwiseFromX) {
    for (const auto& [facing, nose] : std::map<double, Vec3>{{0, {1, 0, 0}},
                                                             {90, {0, 1, 0}},
                                                             {180, {-1, 0, 0}},
                                                             {-90, {0, -1, 0}},
                                                             {37, {0.7986355F, 0.6018150F, 0}}}) {
        Mark m = mark_for(1.70);
        m.at = {2, 3, 0};
        m.facing = facing;
        const Standing f(m);
        EXPECT_LT((f.nose - nose).length(), 1e-5F) << facing;
        EXPECT_LT(degrees_between(f.front.facing, nose), 0.1) << facing;
        // The tip of the nose is what stands out furthest that way.
        float furthest = -9;
        for (const Vec3& p : f.skin[0].positions) furthest = std::max(furthest, (p - f.eye_middle).dot(nose));
        EXPECT_NEAR(furthest, 0.035F, 0.012F) << facing;
        // Facing the nose's way with z up, the person's own left is z x nose.
        const Vec3 left = Vec3(0, 0, 1).cross(nose);
        EXPECT_GT((f.left_cheek.at - f.head_centre).dot(left), 0.03F) << facing;
        EXPECT_GT(f.left_cheek.facing.dot(left), 0.5F) << facing;
        EXPECT_LT((f.right_cheek.at - f.head_centre).dot(left), -0.03F) << facing;
        EXPECT_LT(f.right_cheek.facing.dot(left), -0.5F) << facing;
    }
}

TEST(StandIn, MetersAreHeldFiveMillimetresOffTheSkinAndLookOut) {
    for (const double height : {1.20, 1.72}) {
        Mark m = mark_for(height, Pose::seated, 0.46);
        m.facing = 130;
        const Standing f(m);
        for (const MeterPlace* p : {&f.left_cheek, &f.right_cheek, &f.front}) {
            EXPECT_NEAR(p->facing.length(), 1.0F, 1e-5F);
            EXPECT_NEAR(distance_to(f.skin[0], p->at), 0.005, p == &f.front ? 0.002 : 0.0007) << p->name;
            for (const Mesh* mesh : meshes_of(f)) {
                if (mesh->name.find("eye") != std::string::npos || mesh->name.find("iris") != std::string::npos)
                    continue;
                EXPECT_NEAR(winding(*mesh, p->at), 0, 1e-3) << p->name << " is inside " << mesh->name;
            }
            // Nothing of the person stands before it: 40 mm on it is further from the skin.
            EXPECT_GT(distance_to(f.skin[0], p->at + p->facing * 0.04F), 0.02) << p->name;
        }
        // The cheeks look to the side and nearly level.
        for (const MeterPlace* p : {&f.left_cheek, &f.right_cheek}) {
            const double turn = degrees_between(Vec3(p->facing.x, p->facing.y, 0).normalized(), f.nose);
            EXPECT_GT(turn, 60) << p->name;
            EXPECT_LT(turn, 75) << p->name;
            EXPECT_LT(std::abs(std::asin(p->facing.z)) * 180 / pi, 20) << p->name;
        }
        // Left and right are mirror images.
        EXPECT_NEAR((f.left_cheek.at - f.head_centre).dot(f.nose), (f.right_cheek.at - f.head_centre).dot(f.nose),
                    1e-5);
    }
}

TEST(StandIn, HeadBallHoldsHeadAndHair) {
    const Standing f(mark_for(1.72));
    for (const Vec3& p : f.hair[0].points)
        ASSERT_TRUE(p.z < f.head_centre.z - 0.1F || (p - f.head_centre).length() <= f.head_radius * 1.0001F);
    for (const Vec3& p : f.skin[0].positions)
        ASSERT_TRUE(p.z < f.eye_middle.z - 0.118F || (p - f.head_centre).length() <= f.head_radius * 1.0001F);
    EXPECT_LT(f.head_radius, 0.18F);
}

TEST(StandIn, HairLiesOutsideTheSkullByMillimetresToCentimetres) {
    const Standing f(mark_for(1.765));
    Extent skin, hair;
    for (const Vec3& p : f.skin[0].positions) skin.high.z = std::max(skin.high.z, p.z);
    for (const Vec3& p : f.hair[0].points) hair.high.z = std::max(hair.high.z, p.z);
    EXPECT_GT(hair.high.z, skin.high.z + 0.004F);
    EXPECT_LT(hair.high.z, skin.high.z + 0.040F);
}

TEST(StandIn, BaldHeadsHaveNoHair) {
    Mark m = mark_for(1.72);
    m.person.hair = -1;
    const Standing f(m);
    EXPECT_TRUE(f.hair.empty());
    EXPECT_NEAR(winding(f.skin[0], f.head_centre), 1, 1e-3);
    EXPECT_LE(f.head_radius, stand_in(mark_for(1.72)).head_radius);
}

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

TEST(StandIn, CollarAndClothesLeaveNoGapAtTheNeck) {
    // Looking down along the neck from all round at a finger's breadth off the skin, cloth is met before the
    // inside of the body can be: every point of the neck's lower end lies inside the clothes.
    for (const Pose pose : {Pose::standing, Pose::seated})
        for (const double height : {1.10, 1.50, 1.72, 1.95}) {
            const Standing f(mark_for(height, pose, 0.45));
            float lowest = 9;
            for (const Vec3& p : f.skin[0].positions) lowest = std::min(lowest, p.z);
            for (std::size_t i = 0; i < f.skin[0].positions.size(); i += 37) {
                const Vec3& p = f.skin[0].positions[i];
                if (p.z > lowest + 0.02F) continue;
                ASSERT_NEAR(winding(f.wardrobe[0], p), 1, 1e-2) << height << ": the neck's end shows";
            }
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
    EXPECT_NEAR(luminous(f.skin[1]), 0.30, 1e-3);
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
