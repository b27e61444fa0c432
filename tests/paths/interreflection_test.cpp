// Light that was bounced, scattered, mirrored or cut off on its way, against closed forms and balances that hold
// whatever the shape. Both sharings of work must give the same answers.
#include "outside_by_hand.h"
#include "paths/field.h"
#include "paths/small_scenes.h"

#include <atomic>

namespace rushlight {
namespace {

using namespace small;

MeterPoint flat(Vec3 at, Vec3 facing) {
    return {MeterKind::flat, at, facing.normalized()};
}

Rectangle rectangle(Vec3 centre, Vec3 normal, double width, double height) {
    return facing_rectangle(centre, normal, 0, width, height);
}

/// The inner faces of a box from the origin to `size`, by Wall.
std::array<Rectangle, 6> faces_of(Vec3 size) {
    const auto face = [&](Vec3 normal) {
        const Vec3 centre = size * 0.5F - Vec3(normal.x * size.x, normal.y * size.y, normal.z * size.z) * 0.5F;
        Rectangle r = facing_level(normal);
        r.centre = centre;
        r.half_width = 0.5F * std::abs(r.across.dot(size));
        r.half_height = 0.5F * std::abs(r.up.dot(size));
        return r;
    };
    return {face({0, 1, 0}), face({0, -1, 0}), face({1, 0, 0}), face({-1, 0, 0}), face({0, 0, 1}), face({0, 0, -1})};
}

/// Walls, floor and ceiling, each of its own finish.
void add_box(Scene& s, Vec3 size, const std::array<Finish, 6>& finish) {
    Room room;
    room.width = size.x;
    room.depth = size.y;
    room.height = size.z;
    room.finish = finish;
    for (int w = 0; w < 6; ++w) add(s, wall_mesh(room, static_cast<Wall>(w)));
}

class Interreflection : public testing::TestWithParam<bool> {
protected:
    Sharing sharing(const Scene& s, std::uint32_t light_paths, std::uint32_t camera_paths) const {
        return GetParam() ? sharing_for(s, 7, light_paths, camera_paths) : Sharing::meters_alone(camera_paths);
    }
    MeterResults run(const Scene& s, const std::vector<MeterPoint>& m, double error) const {
        return measure(s, m, effort(error), sharing(s, 64, GetParam() ? 16 : 64));
    }
};

/// Sum over the faces of weight times the area mean of the illuminance: a meter at a new place of its own cell in every
/// pass. The number of passes is fixed, for ending when the noise is low would favour dark runs; the error is that
/// between runs, as the points of one run share its light paths.
Measured balance(const Scene& s, const Sharing& sharing, const std::vector<Rectangle>& faces,
                 const std::vector<double>& weight, int passes) {
    constexpr std::size_t cells = 8;
    constexpr std::uint64_t runs = 20;
    const auto collect = [&](std::size_t p, const LightPaths& pool, const Sharing& how, Sampler& sampler,
                             std::span<Spectrum> layers, SplitLight&) {
        const Rectangle& face = faces[p / (cells * cells)];
        const std::size_t cell = p % (cells * cells);
        const float u = (static_cast<float>(cell % cells) + sampler.next()) / cells;
        const float v = (static_cast<float>(cell / cells) + sampler.next()) / cells;
        const MeterPoint meter{MeterKind::flat, face.at(u, v) + face.normal * 2e-5F, face.normal};
        collect_at_meter(s, meter, pool, how, sampler, layers);
    };
    std::vector<double> sums;
    for (std::uint64_t seed = 1; seed <= runs; ++seed) {
        std::atomic<bool> enough = false;
        int done = 0;
        Effort e = effort(1e-9, seed);
        e.stop = &enough;
        e.tell = [&](const Progress&) { enough = ++done == passes; };
        const Field field = trace_field(s, faces.size() * cells * cells, false, collect, e, sharing.for_fields());
        double sum = 0;
        for (std::size_t p = 0; p < field.points; ++p)
            sum += weight[p / (cells * cells)] * static_cast<double>(field.mean[p]) / (cells * cells);
        sums.push_back(sum);
    }
    return mean_of(sums);
}

// Energy balance of any closed room: what the faces keep, sum (1 - rho) E A, is what the lamp gives (first law;
// heat-transfer texts). Box 4 x 3 x 2.5 m, ceiling .7, walls .5, floor .2, a ball lamp off the middle.
TEST_P(Interreflection, ClosedRoomKeepsItsLight) {
    const std::array<double, 6> rho{0.5, 0.5, 0.5, 0.5, 0.2, 0.7};
    Scene s;
    std::array<Finish, 6> finishes;
    for (std::size_t i = 0; i < 6; ++i) finishes[i] = matt(rho[i]);
    add_box(s, {4, 3, 2.5F}, finishes);
    add_lamp(s, lamp(LampShape::ball, {1.4F, 1.2F, 1.6F}, {0, 0, -1}, 0.02, 0.02, 12'000));
    finish(s);
    const auto faces = faces_of({4, 3, 2.5F});
    std::vector<double> weight;
    for (std::size_t i = 0; i < 6; ++i) weight.push_back((1 - rho[i]) * faces[i].area());
    const Measured kept = balance(s, sharing(s, 256, 1), {faces.begin(), faces.end()}, weight, 40);
    EXPECT_LT(kept.relative_error(), 0.003) << "too noisy to prove anything";
    EXPECT_NEAR(kept.value, 12'000, 4 * kept.error + 0.0003 * 12'000);  // the black lamp keeps .0002 of it
}

// The same balance with every kind of surface at once: gloss and metal too keep what they do not send on. Only their
// share of the light is not a constant, so here they send on all of it, and the matt faces must keep the whole.
TEST_P(Interreflection, GlossAndMirrorsLoseNothing) {
    Scene s;
    Finish mirror = matt(0);
    mirror.metal = Spectrum{1.0F};
    mirror.roughness = 0.02F;
    Finish cloth = matt(0.5);
    cloth.through = Spectrum{0.3F};
    cloth.straight = Spectrum{0.2F};
    add_box(s, {4, 3, 2.5F}, {matt(0.5), mirror, matt(1.0), matt(0.3), matt(0.2), matt(0.7)});
    Mesh screen = rectangle_mesh(rectangle({2.2F, 1.5F, 1.2F}, {1, 0.4F, 0.1F}, 1.2, 1.2), cloth);
    add(s, screen);
    add_lamp(s, lamp(LampShape::box, {1.0F, 1.2F, 1.6F}, {0.6F, 0.5F, -0.3F}, 0.4, 0.3, 5000));
    finish(s);
    const auto faces = faces_of({4, 3, 2.5F});
    const std::array<double, 6> keeps{0.5, 0, 0, 0.7, 0.8, 0.3};
    // The black face and back of the box lamp keep light as well.
    Rectangle front = rectangle({1.0F, 1.2F, 1.6F}, Vec3(0.6F, 0.5F, -0.3F).normalized(), 0.4, 0.3);
    Rectangle back = front;
    back.normal = -front.normal;
    const Measured kept = balance(s, sharing(s, 256, 1), {faces[0], faces[3], faces[4], faces[5], front, back},
                                  {keeps[0] * faces[0].area(), keeps[3] * faces[3].area(), keeps[4] * faces[4].area(),
                                   keeps[5] * faces[5].area(), front.area(), back.area()},
                                  200);
    EXPECT_LT(kept.relative_error(), 0.008) << "too noisy to prove anything";
    EXPECT_NEAR(kept.value, 5000, 4 * kept.error + 0.0005 * 5000);
}

// Sphere of two finishes (CIE 84; exact, as in a sphere every part sees every other alike): rho .9 over three
// quarters, .2 over a cap of one quarter, source in the centre, R .5, 1000 lm: indirect phi r / (A (1 - r)) with r the
// mean by area; 839.18 lx for r = .725.
TEST_P(Interreflection, PatchworkSphere) {
    const Mesh all = icosphere({0, 0, 0}, 0.5F, 5);
    Mesh bright = all, dark = all;
    bright.triangles.clear();
    dark.triangles.clear();
    bright.finish = matt(0.9);
    dark.finish = matt(0.2);
    double bright_area = 0, dark_area = 0;
    for (const auto& t : all.triangles) {
        const Vec3 a = all.positions[t[0]], b = all.positions[t[1]], c = all.positions[t[2]];
        const double area = 0.5 * static_cast<double>((b - a).cross(c - a).length());
        const bool cap = (a + b + c).z / 3 > 0.25F;
        (cap ? dark : bright).triangles.push_back(t);
        (cap ? dark_area : bright_area) += area;
    }
    const double area = bright_area + dark_area;
    const double r = (0.9 * bright_area + 0.2 * dark_area) / area;
    EXPECT_NEAR(r, 0.725, 0.002);
    Scene s;
    add(s, bright);
    add(s, dark);
    add_lamp(s, lamp(LampShape::ball, {0, 0, 0}, {0, 0, -1}, 0.004, 0.004, 1000));
    finish(s);
    const auto got =
        run(s, {flat({0, 0, 0.499F}, {0, 0, -1}), flat({0, 0, -0.499F}, {0, 0, 1}), flat({0.499F, 0, 0}, {-1, 0, 0})},
            0.003);
    const double want = 1000 * r / (area * (1 - r)) + 1000 / (4 * pi * 0.499 * 0.499);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_LE(got.all(i).relative_error(), 0.003);
        EXPECT_NEAR(got.all(i).value, want, 4 * got.all(i).error + 0.001 * want);
    }
}

/// E at the origin, facing up, from a parallel rectangle of luminance `l`, x0..x1 by y0..y1, at height h: four corner
/// terms L/2 [ a / A atan(b / A) + b / B atan(a / B) ] (configuration-factor catalogues).
double parallel_rectangle(double l, double x0, double x1, double y0, double y1, double h) {
    const auto corner = [&](double a, double b) {
        const double p = std::sqrt(a * a + h * h), q = std::sqrt(b * b + h * h);
        return l / 2 * (a / p * std::atan(b / p) + b / q * std::atan(a / q));
    };
    return corner(x1, y1) - corner(x0, y1) - corner(x1, y0) + corner(x0, y0);
}

// Penumbra w = s b / a (similar triangles): square lamp of s = .6 m, a straight edge 2 m under it, 1 m over the floor:
// w = .3 m. Beyond the edge by x / w = -1/3, -1/6, 0, 1/6, 1/3: .1636 .3309 .5 .6691 .8364 of the lamp at 3 m.
TEST_P(Interreflection, PenumbraOfASoftBox) {
    Scene s;
    add_lamp(s, lamp(LampShape::box, {0, 0, 3}, {0, 0, -1}, 0.6, 0.6, pi * 8000 * 0.36));
    add(s, rectangle_mesh(rectangle({-5, 0, 1}, {0, 0, 1}, 10, 10), matt(0)));  // a flag over all of x < 0
    finish(s);
    const std::array<double, 5> across{-1.0 / 3, -1.0 / 6, 0, 1.0 / 6, 1.0 / 3};
    const std::array<double, 5> rounded{0.1636, 0.3309, 0.5000, 0.6691, 0.8364};
    std::vector<MeterPoint> meters;
    for (const double x : across) meters.push_back(flat({static_cast<float>(0.3 * x), 0, 0}, {0, 0, 1}));
    const auto r = run(s, meters, 0.004);
    for (std::size_t i = 0; i < across.size(); ++i) {
        // From the floor point x the edge at 0, 1 m up, covers the lamp up to -2x at 3 m: the rest is a rectangle.
        const double x = 0.3 * across[i];
        const double lit = parallel_rectangle(8000, -2 * x - x, 0.3 - x, -0.3, 0.3, 3);
        const double whole = parallel_rectangle(8000, -0.3 - x, 0.3 - x, -0.3, 0.3, 3);
        EXPECT_NEAR(lit / whole, rounded[i], 2e-4);
        expect_reading(r.all(i), lit, 0.004);
    }
}

// Image source (geometric optics): E = rho I / (d1 + d2)^2 square to the ray: I 800, d1 1.5, d2 2.5, rho .9: 45.00 lx.
// The source is a ball, of which that is exact at any size; so large, for walks from the meter alone must meet it.
TEST_P(Interreflection, MirrorImage) {
    const double angle = radians(Degree{30});
    Finish mirror = matt(0);
    mirror.metal = Spectrum{0.9F};
    mirror.roughness = 0.01F;
    Scene s;
    add(s, rectangle_mesh(rectangle({0, 0, 0}, {0, 0, 1}, 3, 3), mirror));
    const auto at = [&](double d, double side) {
        return Vec3(static_cast<float>(side * d * std::sin(angle)), 0, static_cast<float>(d * std::cos(angle)));
    };
    Lamp l = lamp(LampShape::ball, at(1.5, -1), {0, 0, -1}, 0.5, 0.5, 800);
    l.output = Lamp::Output::candela;
    add_lamp(s, l);
    add(s, rectangle_mesh(rectangle({0, 0, 2}, {1, 0, 0}, 3, 2.4), matt(0)));  // no straight way from lamp to meter
    finish(s);
    const double error = 0.01;
    const auto r = run(s, {flat(at(2.5, 1), Vec3(0, 0, 0) - at(2.5, 1))}, error);
    // Schlick's rise at 30 degrees adds .00004 to the .9; the facets' spread of .01 rad blurs the image by .1 %.
    EXPECT_LE(r.all(0).relative_error(), error);
    EXPECT_NEAR(r.all(0).value, 45.00, 4 * r.all(0).error + 0.001 * 45);
}

// Cloth as an ideal diffuser (definition of diffuse transmittance): 4000 lx on it, tau .5, L = E tau / pi; 1 x 1 m at
// 3 m: 68.214 lx. What passes unbent keeps the sun's shadow edge: k E in its beam, nothing beside it.
TEST_P(Interreflection, ClothInTheSun) {
    const double error = GetParam() ? 0.003 : 0.012;
    for (const float straight : {0.0F, 0.25F}) {
        Finish cloth = matt(0.2);
        cloth.through = Spectrum{0.5F};
        cloth.straight = Spectrum{straight};
        Scene s;
        add(s, rectangle_mesh(rectangle({0, 0, 3}, {0, 0, 1}, 1, 1), cloth));
        // A black sheet with a hole of the cloth's size keeps the sun off the rest.
        for (const float side : {-1.0F, 1.0F}) {
            add(s, rectangle_mesh(rectangle({side * 5.5F, 0, 3.01F}, {0, 0, 1}, 10, 20), matt(0)));
            add(s, rectangle_mesh(rectangle({0, side * 5.5F, 3.01F}, {0, 0, 1}, 1.02, 10), matt(0)));
        }
        auto openings = std::make_shared<Openings>();
        openings->rectangles.push_back(rectangle({0, 0, 3.02F}, {0, 0, -1}, 1.2, 1.2));
        s.lights.add("sun", SunLight(by_hand::outside(0, 0, 4000), openings));
        finish(s);
        const auto r = run(s, {flat({0, 0, 0}, {0, 0, 1}), flat({0.8F, 0, 0}, {0, 0, 1})}, error);
        const double l = 4000 * 0.5 / pi;
        EXPECT_NEAR(parallel_rectangle(l, -0.5, 0.5, -0.5, 0.5, 3), 68.214, 1e-3);
        expect_reading(r.all(0), straight * 4000 + 68.214, error);
        expect_reading(r.all(1), parallel_rectangle(l, -1.3, -0.3, -0.5, 0.5, 3), error);
    }
}

// Two cloths close together, endless: tau2 = tau^2 / (1 - rho^2) (geometric series): rho .4, tau .5: .29762.
TEST_P(Interreflection, TwoClothsInSeries) {
    Finish cloth = matt(0.4);
    cloth.through = Spectrum{0.5F};
    Scene s;
    for (const float z : {3.0F, 3.01F}) add(s, rectangle_mesh(rectangle({0, 0, z}, {0, 0, 1}, 6, 6), cloth));
    auto openings = std::make_shared<Openings>();
    openings->rectangles.push_back(rectangle({0, 0, 3.05F}, {0, 0, -1}, 6, 6));
    s.lights.add("sun", SunLight(by_hand::outside(0, 0, 4000), openings));
    finish(s);
    const auto r = run(s, {{MeterKind::spot, {0.3F, 0.1F, 1}, {0, 0, 1}, 0.01F}}, 0.002);
    expect_reading(r.all(0), 4000 * 0.29762 / pi, 0.002);
}

// A lamp a hand's breadth over a table, far from the place's corner: the table's luminance is rho E / pi, E by the
// parallel rectangle's closed form. The start of a ray is lifted off its surface by more than the ray ends short of
// the lamp: the lamp must not stop its own light.
TEST_P(Interreflection, LampCloseToATable) {
    for (const float up : {0.05F, 0.2F, 0.6F}) {
        Scene s;
        add(s, rectangle_mesh(rectangle({7, 6, 0.8F}, {0, 0, 1}, 2, 2), matt(0.8)));
        add_lamp(s, lamp(LampShape::box, {7, 6, 0.8F + up}, {0, 0, -1}, 0.3, 0.3, pi * 5000 * 0.09));
        finish(s);
        const auto r =
            run(s, {{MeterKind::spot, {7.3F, 6, 0.8F + 0.5F * up}, Vec3(-0.3F, 0, -0.5F * up).normalized(), 0.001F}},
                0.003);
        const double e = parallel_rectangle(5000, -0.15, 0.15, -0.15, 0.15, up);
        EXPECT_LE(r.all(0).relative_error(), 0.003);
        EXPECT_NEAR(r.all(0).value, 0.8 * e / pi, 4 * r.all(0).error + 5e-4 * e / pi) << up << " m";
    }
}

// Two boards face to face, a hand's breadth apart, lit from the side: between them light must go to and fro by every
// kind of walk. No closed form; the balance of a closed box so flat has one.
TEST_P(Interreflection, FlatBoxKeepsItsLight) {
    Scene s;
    const Vec3 low(6, 5, 1), high(7, 6, 1.08F);
    Box box;
    box.centre = (low + high) * 0.5F;
    box.size = high - low;
    Mesh walls = box_mesh(box);
    walls.finish = matt(0.6);
    add(s, walls);
    add_lamp(s, lamp(LampShape::ball, {6.4F, 5.6F, 1.04F}, {0, 0, -1}, 0.004, 0.004, 500));
    finish(s);
    std::vector<Rectangle> faces;
    for (Rectangle r : faces_of(high - low)) {
        r.centre += low;
        faces.push_back(r);
    }
    std::vector<double> weight;
    for (const Rectangle& r : faces) weight.push_back(0.4 * r.area());
    const Measured kept = balance(s, sharing(s, 256, 1), faces, weight, 60);
    EXPECT_LT(kept.relative_error(), 0.008) << "too noisy to prove anything";
    EXPECT_NEAR(kept.value, 500, 4 * kept.error + 0.001 * 500);
}

// What bricks and boards take in is what the lamp gives: a pattern moves light about, and neither makes nor loses any.
TEST_P(Interreflection, PatternedWallsKeepTheLight) {
    const Vec3 size(4, 3, 2.5F);
    for (const PatternKind kind : {PatternKind::brick, PatternKind::wood}) {
        Scene s;
        Finish finish_of_all = matt(0.6);
        finish_of_all.pattern = kind;
        small::add_box(s, size, finish_of_all);
        add_lamp(s, lamp(LampShape::ball, {2, 1.5F, 1.3F}, {0, 0, -1}, 0.1, 0.1, 500));
        finish(s);
        const auto all = faces_of(size);
        const std::vector<Rectangle> faces(all.begin(), all.end());
        std::vector<double> weight;
        for (const Rectangle& r : faces) weight.push_back(0.4 * r.area());
        const Measured kept = balance(s, sharing(s, 256, 1), faces, weight, 60);
        EXPECT_LT(kept.relative_error(), 0.008) << "too noisy to prove anything";
        EXPECT_NEAR(kept.value, 500, 4 * kept.error + 0.002 * 500);
    }
}

INSTANTIATE_TEST_SUITE_P(Sharings, Interreflection, testing::Bool(),
                         [](const auto& p) { return p.param ? "both_walks" : "meter_walks"; });

// View factors (web catalogue of radiation configuration factors, confirmed by closure), by counting where light
// paths land: floor 4 x 3 m to ceiling 2.5 m up .2920740, to a 4 m wall .2035247, to a 3 m wall .1504383.
TEST(ViewFactors, BoxFromItsFloor) {
    Scene s;
    small::add_box(s, {4, 3, 2.5F}, matt(0));
    add_lamp(s, lamp(LampShape::box, {2, 1.5F, 1e-4F}, {0, 0, 1}, 4 - 2e-4, 3 - 2e-4, 1000));
    finish(s);
    constexpr std::uint32_t count = 1'000'000;
    std::array<double, 6> share{};
    for (const Vertex& v : trace_light_paths(s, 3, 0, count, 1).vertices)
        share.at(v.part) += photometric(v.throughput) / 1000 / count;
    // A lamp that aims straight up has its width along x.
    const std::array<double, 6> want{0.2035247, 0.2035247, 0.1504383, 0.1504383, 0, 0.2920740};
    for (std::size_t i = 0; i < 6; ++i)
        EXPECT_NEAR(share[i], want[i], 4 * std::sqrt(want[i] * (1 - want[i]) / count) + 2e-4) << "wall " << i;
}

// Sphere to a coaxial disc, any size of sphere: F = [1 - 1 / sqrt(1 + (r / h)^2)] / 2: r .5, h 1: .0527864; r = h:
// .1464466.
TEST(ViewFactors, BallToDisc) {
    for (const auto& [radius, want] : std::array<std::array<double, 2>, 2>{{{0.5, 0.0527864}, {1.0, 0.1464466}}}) {
        Scene s;
        Mesh disc;
        disc.finish = matt(0);
        constexpr std::uint32_t corners = 256;
        disc.positions.push_back({0, 0, 0});
        for (std::uint32_t i = 0; i < corners; ++i) {
            const double a = 2 * pi * i / corners;
            disc.positions.push_back(
                {static_cast<float>(radius * std::cos(a)), static_cast<float>(radius * std::sin(a)), 0});
            disc.triangles.push_back({0, 1 + i, 1 + (i + 1) % corners});
        }
        add(s, disc);
        add_lamp(s, lamp(LampShape::ball, {0, 0, 1}, {0, 0, -1}, 0.6, 0.6, 1000));
        finish(s);
        constexpr std::uint32_t count = 500'000;
        double share = 0;
        for (const Vertex& v : trace_light_paths(s, 3, 0, count, 1).vertices)
            share += photometric(v.throughput) / 1000 / count;
        EXPECT_NEAR(share, want, 4 * std::sqrt(want * (1 - want) / count) + 2e-4 * want);
    }
}

}  // namespace
}  // namespace rushlight
