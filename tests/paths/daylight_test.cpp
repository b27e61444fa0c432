// Sky, ground and sun through openings, against closed forms. Walls of no thickness, so that an opening is the plane
// figure that the formulas know. Both sharings of work must give the same answers.
#include "outside_by_hand.h"
#include "paths/small_scenes.h"

namespace rushlight {
namespace {

using namespace small;
using by_hand::outside;

Opening hole(Wall wall, double from, double to, double sill, double head) {
    Opening o;
    o.wall = wall;
    o.from = from;
    o.to = to;
    o.sill = sill;
    o.head = head;
    o.glazed = false;
    return o;
}

Room room(double width, double depth, double height, std::vector<Opening> openings, const Finish& finish = matt(0)) {
    Room r;
    r.width = width;
    r.depth = depth;
    r.height = height;
    r.wall_thickness = 0;
    r.finish.fill(finish);
    r.openings = std::move(openings);
    return r;
}

/// Walls, and panes in the holes that ask for one.
std::shared_ptr<Openings> add_room(Scene& s, const Room& r) {
    auto openings = std::make_shared<Openings>();
    openings->upper = Vec3(static_cast<float>(r.width), static_cast<float>(r.depth), static_cast<float>(r.height));
    openings->closed = true;
    for (int w = 0; w < 6; ++w) add(s, wall_mesh(r, static_cast<Wall>(w)));
    for (const Opening& o : r.openings) {
        openings->rectangles.push_back(opening_rectangle(r, o));
        if (r.wall_thickness > 0) add(s, reveal_mesh(r, o));
        if (!o.glazed) continue;
        Finish glass;
        glass.pane = true;
        add(s, rectangle_mesh(openings->rectangles.back(), glass));
    }
    return openings;
}

class DaylightClosedForms : public testing::TestWithParam<bool> {
protected:
    MeterResults run(const Scene& s, const std::vector<MeterPoint>& m, double error) const {
        const Effort e = effort(error);
        return measure(s, m, e, GetParam() ? sharing_for(s, e.seed, 64, 16) : Sharing::meters_alone(64));
    }
};

MeterPoint flat(Vec3 at, Vec3 facing) {
    return {MeterKind::flat, at, facing.normalized()};
}

/// E of a rectangle whose luminance depends on the direction, by midpoints over its area: the definition of
/// illuminance. `luminance(toward, cosine with the rectangle's normal)`.
template <class Luminance>
double illuminance(const Rectangle& r, const Vec3& at, const Vec3& facing, const Luminance& luminance) {
    constexpr int steps = 500;
    double sum = 0;
    for (int i = 0; i < steps; ++i)
        for (int j = 0; j < steps; ++j) {
            const Vec3 d = r.at((static_cast<float>(i) + 0.5F) / steps, (static_cast<float>(j) + 0.5F) / steps) - at;
            const double d2 = d.length2();
            const Vec3 toward = d.normalized();
            const double cosine = std::abs(static_cast<double>(toward.dot(r.normal)));
            sum += luminance(toward, cosine) * std::max(0.0, static_cast<double>(toward.dot(facing))) * cosine / d2;
        }
    return sum * static_cast<double>(r.area()) / (steps * steps);
}

// Sky component of a window 2.0 m wide, .1 to 1.4 m above the desk, even sky, no ground: the perpendicular
// rectangle's closed form (configuration-factor catalogues), per cent of the open sky's pi L.
TEST_P(DaylightClosedForms, EvenSkyThroughAWindow) {
    Scene s;
    const auto openings = add_room(s, room(6, 8, 3, {hole(Wall::near, 2, 4, 0.9, 2.2)}));
    s.lights.add("sky", SkyLight(outside(1000, 0), openings));
    finish(s);
    const auto r = run(s,
                       {flat({3, 1, 0.8F}, {0, 0, 1}), flat({3, 2, 0.8F}, {0, 0, 1}), flat({3, 3, 0.8F}, {0, 0, 1}),
                        flat({3, 4, 0.8F}, {0, 0, 1})},
                       0.002);
    const std::array<double, 4> per_cent{15.0560, 4.5862, 1.7692, 0.8312};
    for (std::size_t i = 0; i < 4; ++i) expect_reading(r.all(i), pi * 1000 * per_cent[i] / 100, 0.002);
}

// The same window lights a ceiling from the ground as it lights a desk from the sky: the figure turned upside down.
TEST_P(DaylightClosedForms, EvenGroundThroughAWindow) {
    Scene s;
    const auto openings = add_room(s, room(6, 8, 3.2, {hole(Wall::near, 2, 4, 0.8, 2.1)}));
    s.lights.add("sky", SkyLight(outside(0, 300), openings));
    finish(s);
    const auto r =
        run(s, {flat({3, 1, 2.2F}, {0, 0, -1}), flat({3, 3, 2.2F}, {0, 0, -1}), flat({3, 1, 0.5F}, {0, 0, 1})}, 0.002);
    expect_reading(r.all(0), pi * 300 * 0.150560, 0.002);
    expect_reading(r.all(1), pi * 300 * 0.017692, 0.002);
    EXPECT_EQ(r.all(2).value, 0.0);
}

// Roof holes 3 m above the point, even sky (parallel rectangle's closed form): 1 x 1 m 3.41068 %, 4 x 4 m 35.7685 %.
TEST_P(DaylightClosedForms, EvenSkyThroughRoofHoles) {
    for (const auto& [size, per_cent] : std::array<std::array<double, 2>, 2>{{{1, 3.41068}, {4, 35.7685}}}) {
        Scene s;
        const auto openings =
            add_room(s, room(6, 6, 3.5, {hole(Wall::ceiling, 3 - size / 2, 3 + size / 2, 3 - size / 2, 3 + size / 2)}));
        s.lights.add("sky", SkyLight(outside(5000, 0), openings));
        finish(s);
        expect_reading(run(s, {flat({3, 3, 0.5F}, {0, 0, 1})}, 0.002).all(0), pi * 5000 * per_cent / 100, 0.002);
    }
}

// ISO 15469:2004 skies 1 (overcast) and 12 (clear, the sun at 45 degrees facing the window) through the window:
// the standard's formula integrated over the window's solid angle here.
TEST_P(DaylightClosedForms, GeneralSkiesThroughAWindow) {
    const Vec3 sun = Vec3(0.3F, -1, 1).normalized();
    for (const auto& g :
         {std::array<double, 5>{4.0, -0.70, 0, -1.0, 0}, std::array<double, 5>{-1.0, -0.32, 10, -3.0, 0.45}}) {
        const auto relative = [&](const Vec3& toward) {
            const double up = static_cast<double>(toward.z);
            const double chi = std::acos(std::clamp(static_cast<double>(toward.dot(sun)), -1.0, 1.0));
            return (up > 0 ? 1 + g[0] * std::exp(g[1] / up) : 1.0) *
                   (1 + g[2] * (std::exp(g[3] * chi) - std::exp(g[3] * pi / 2)) + g[4] * std::cos(chi) * std::cos(chi));
        };
        Daylight d = outside(2000, 0, 0, sun);
        d.sky = GeneralSky(g, sun);
        Scene s;
        const auto openings = add_room(s, room(6, 8, 3, {hole(Wall::near, 2, 4, 0.9, 2.2)}));
        s.lights.add("sky", SkyLight(d, openings));
        finish(s);
        const std::vector<MeterPoint> meters{flat({3, 1, 0.8F}, {0, 0, 1}), flat({2.2F, 2.5F, 1.5F}, {0.3F, -1, 0.2F})};
        const auto r = run(s, meters, 0.004);
        for (std::size_t i = 0; i < 2; ++i) {
            const double want =
                illuminance(openings->rectangles[0], meters[i].at, meters[i].facing, [&](const Vec3& to, double) {
                    return to.z > 0 ? 2000 * relative(to) / relative({0, 0, 1}) : 0.0;
                });
            expect_reading(r.all(i), want, 0.004);
        }
    }
}

// CIE 171:2006 case 5.5 and 5.10 in kind: a clear pane of n 1.52 in a roof hole and a window, even sky; the integrand
// times the pane's T(i) from Fresnel's equations, per polarisation, worked here in double.
TEST_P(DaylightClosedForms, EvenSkyThroughGlass) {
    const auto transmittance = [](double c) {
        const double n = 1.52, ct = std::sqrt(1 - (1 - c * c) / (n * n)), t = std::pow(0.95, 1 / ct);
        double sum = 0;
        for (const double r0 : {(c - n * ct) / (c + n * ct), (n * c - ct) / (n * c + ct)}) {
            const double r = r0 * r0;
            sum += 0.5 * (1 - r) * (1 - r) * t / (1 - r * r * t * t);
        }
        return sum;
    };
    EXPECT_NEAR(transmittance(0.5), 0.79112, 1e-5);
    Opening window = hole(Wall::near, 2, 4, 0.9, 2.2);
    Opening roof = hole(Wall::ceiling, 1, 2, 6, 7);
    window.glazed = roof.glazed = true;
    Scene s;
    const auto openings = add_room(s, room(6, 8, 3, {window, roof}));
    s.lights.add("sky", SkyLight(outside(2000, 0), openings));
    finish(s);
    const std::vector<MeterPoint> meters{flat({3, 0.3F, 0.8F}, {0, 0, 1}), flat({3, 2, 0.8F}, {0, 0, 1}),
                                         flat({0.4F, 0.5F, 1.2F}, {1, -0.2F, 0}), flat({1.5F, 6.5F, 0.5F}, {0, 0, 1})};
    const auto r = run(s, meters, 0.002);
    for (std::size_t i = 0; i < meters.size(); ++i) {
        double want = 0;
        for (const Rectangle& p : openings->rectangles)
            want += illuminance(p, meters[i].at, meters[i].facing,
                                [&](const Vec3& to, double c) { return to.z > 0 ? 2000 * transmittance(c) : 0.0; });
        expect_reading(r.all(i), want, 0.002);
    }
}

// CIE 171:2006 case 5.4 in kind: flux through a 1 x 1 m hole in a 4 x 4 m ceiling, 3 m up, luminance 1000 behind:
// floor centre 107.150, corner 31.390 lx; of pi L A = 3141.59 lm the floor gets 1106.90 (its view factor, .352336),
// the walls the rest.
TEST_P(DaylightClosedForms, FluxThroughARoofHole) {
    Scene s;
    const auto openings = add_room(s, room(4, 4, 3, {hole(Wall::ceiling, 1.5, 2.5, 1.5, 2.5)}));
    s.lights.add("sky", SkyLight(outside(1000, 0), openings));
    finish(s);
    const float up = 1e-5F;  // this near the floor it gets 7e-6 more than on it
    const auto r = run(s, {flat({2, 2, up}, {0, 0, 1}), flat({up, up, up}, {0, 0, 1})}, 0.002);
    expect_reading(r.all(0), 107.150, 0.002);
    expect_reading(r.all(1), 31.390, 0.002);

    // Flux by light paths, where they land.
    if (!GetParam()) return;
    constexpr std::uint32_t count = 400'000;
    const LightPaths paths = trace_light_paths(s, 5, 0, count, 1);
    double floor = 0, walls = 0;
    for (const Vertex& v : paths.vertices)
        (v.part == static_cast<std::uint32_t>(Wall::floor) ? floor : walls) += photometric(v.throughput);
    const double share = 0.352336;
    EXPECT_NEAR(floor / count, 1106.90, 4 * 3141.59 * std::sqrt(share * (1 - share) / count));
    EXPECT_NEAR((floor + walls) / count, 3141.59, 0.5);
}

// An open vertical face: half the sky, half the ground, E = pi (L_sky + L_ground) / 2; with an endless black mask of
// profile angle b before it the sky gives (1 - sin b) / 2 of its horizontal illuminance (elementary integral).
TEST_P(DaylightClosedForms, OpenFacadeAndFacingMask) {
    Scene open;
    open.lights.add("sky", SkyLight(outside(3000, 600), std::make_shared<Openings>()));
    finish(open);
    const auto r = run(open, {flat({0, 0, 1}, {0, -1, 0}), flat({0, 0, 1}, {0, 0, 1})}, 0.002);
    expect_reading(r.all(0), pi * 3600 / 2, 0.002);
    expect_reading(r.all(1), pi * 3000, 0.002);

    Scene masked;
    Box mask;
    const double height = 10 * std::tan(radians(Degree{30}));
    mask.centre = Vec3(0, -10.5F, static_cast<float>(1 + height / 2 - 50));
    mask.size = Vec3(4000, 1, static_cast<float>(height + 100));
    Mesh m = box_mesh(mask);
    m.finish = matt(0);
    add(masked, m);
    masked.lights.add("sky", SkyLight(outside(3000, 0), std::make_shared<Openings>()));
    finish(masked);
    expect_reading(run(masked, {flat({0, 0, 1}, {0, -1, 0})}, 0.002).all(0), pi * 3000 * 0.25, 0.002);
}

// A room's own layers: the sky's and the sun's stay apart and sum to all. Sun through an opening: E_n cos on the
// patch, nothing beside it.
TEST_P(DaylightClosedForms, SunPatch) {
    Scene s;
    const Vec3 sun = Vec3(0.2F, -1, 0.8F).normalized();
    const Daylight d = outside(1000, 0, 60'000, sun);
    const auto openings = add_room(s, room(6, 8, 3, {hole(Wall::near, 2, 4, 0.9, 2.2)}));
    s.lights.add("sun", SunLight(d, openings));
    s.lights.add("sky", SkyLight(d, openings));
    finish(s);
    // Where the middle of the window throws the sun on the desk plane, and half a metre beside the patch.
    const float t = 0.75F / sun.z;
    const Vec3 middle = Vec3(3, 0, 1.55F) - sun * t;
    const auto r =
        run(s, {flat(middle, {0, 0, 1}), flat(middle, sun), flat(middle + Vec3(1.6F, 0, 0), {0, 0, 1})}, 0.001);
    const std::array<double, 2> want{60'000 * static_cast<double>(sun.z), 60'000};
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_LE(r.of(i, 0).relative_error(), 0.002);
        EXPECT_NEAR(r.of(i, 0).value, want[i], 4 * r.of(i, 0).error + 5e-5 * want[i]);  // float directions
    }
    EXPECT_EQ(r.of(2, 0).value, 0.0);
    EXPECT_GT(r.of(2, 1).value, 0.0);
    EXPECT_NEAR(r.of(0, 0).value + r.of(0, 1).value, r.all(0).value, 1e-4 * r.all(0).value);
}

// Penumbra of the sun, diameter .533 degrees, behind an edge 3 m away: 27.9 mm wide; across it the part of a disc
// beyond a straight edge, 1/2 + (s sqrt(1 - s^2) + asin s) / pi (circular segment).
TEST_P(DaylightClosedForms, PenumbraOfTheSun) {
    Scene s;
    const auto openings = add_room(s, room(4, 4, 3.5, {hole(Wall::ceiling, 1.5, 2.5, 1.5, 2.5)}));
    s.lights.add("sun", SunLight(outside(0, 0, 100'000), openings));
    finish(s);
    const double width = 2 * 3 * std::tan(radians(Degree{sun_angular_diameter / 2}));
    EXPECT_NEAR(width, 0.0279, 5e-5);
    const std::array<double, 5> across{-0.6, -0.3, 0, 0.3, 0.6};
    std::vector<MeterPoint> meters;
    for (const double a : across) meters.push_back(flat({static_cast<float>(1.5 + a * width / 2), 2, 0.5F}, {0, 0, 1}));
    meters.push_back(flat({static_cast<float>(1.5 - 1.02 * width / 2), 2, 0.5F}, {0, 0, 1}));
    const auto r = run(s, meters, 0.008);
    for (std::size_t i = 0; i < across.size(); ++i) {
        const double a = across[i];
        expect_reading(r.all(i), 100'000 * (0.5 + (a * std::sqrt(1 - a * a) + std::asin(a)) / pi), 0.008);
    }
    EXPECT_EQ(r.all(5).value, 0.0);
}

// CIE 171:2006 cases 5.6 and 5.7 in kind (computed by Lambert's polygon formula, not copied): a patch .5 x .5 m on the
// floor, its centre 1 m from the wall, lit to 5000 lx, rho .8. Straight behind it on the wall at .5, 1, 1.5 m: 104.259,
// 77.842, 43.965 lx; 3 m above it 35.043. A thin screen that hides just half of it: 38.921 at 1 m.
TEST_P(DaylightClosedForms, SunPatchLightsTheWall) {
    // A walk from the meter finds so small a patch by luck: it may be less sure.
    const double error = GetParam() ? 0.003 : 0.01;
    for (const bool screened : {false, true}) {
        Room black = room(4, 4, 3.2, {hole(Wall::ceiling, 1.75, 2.25, 0.75, 1.25)});
        black.finish[static_cast<std::size_t>(Wall::floor)] = matt(0.8);
        Scene s;
        const auto openings = add_room(s, black);
        s.lights.add("sun", SunLight(outside(0, 0, 5000), openings));
        if (screened) {
            Rectangle screen;
            screen.centre = {2, 0.36F, 1.5F};
            screen.across = {0, 1, 0};
            screen.up = {0, 0, 1};
            screen.normal = {1, 0, 0};
            screen.half_width = 0.36F;
            screen.half_height = 1.5F;
            add(s, rectangle_mesh(screen, matt(0)));
        }
        finish(s);
        const float by = 2e-4F;
        if (screened) {
            expect_reading(run(s, {flat({2 + by, by, 1}, {0, 1, 0})}, error).all(0), 38.921, error);
            continue;
        }
        const auto r = run(s,
                           {flat({2, by, 0.5F}, {0, 1, 0}), flat({2, by, 1}, {0, 1, 0}), flat({2, by, 1.5F}, {0, 1, 0}),
                            flat({1.7F, 1, 3}, {0, 0, -1})},
                           error);
        expect_reading(r.all(0), 104.259, error);
        expect_reading(r.all(1), 77.842, error);
        expect_reading(r.all(2), 43.965, error);
    }
}

INSTANTIATE_TEST_SUITE_P(Sharings, DaylightClosedForms, testing::Bool(),
                         [](const auto& p) { return p.param ? "both_walks" : "meter_walks"; });

// A furnished day: deep reveals, glass, grey walls, sun and sky. No closed form, but one truth: however the work is
// shared, it must come out alike.
TEST(Daylight, SharingsAgreeInAGreyRoom) {
    Scene s;
    Opening window = hole(Wall::near, 1, 2.4, 0.9, 2.2);
    window.glazed = true;
    Room grey = room(4, 5, 2.7, {window, hole(Wall::right, 3, 3.8, 0, 2)}, matt(0.5));
    grey.finish[static_cast<std::size_t>(Wall::ceiling)] = matt(0.8);
    grey.finish[static_cast<std::size_t>(Wall::floor)].gloss = 0.04F;
    grey.wall_thickness = 0.25;
    const auto openings = add_room(s, grey);
    const Daylight d = outside(4000, 1500, 50'000, {0.3F, -0.8F, 0.9F});
    s.lights.add("sun", SunLight(d, openings));
    s.lights.add("sky", SkyLight(d, openings));
    finish(s);
    const std::vector<MeterPoint> meters{
        flat({2, 4, 1.2F}, {0, -1, 0}),
        flat({0.5F, 3, 0.8F}, {0, 0, 1}),
        {MeterKind::dome, {3, 2, 1.4F}, Vec3(-1, -0.4F, 0).normalized()},
        {MeterKind::spot, {3.5F, 4.5F, 1.5F}, Vec3(-1, -1, -0.3F).normalized(), 0.02F}};
    const auto alone = measure(s, meters, effort(0.007), Sharing::meters_alone(64));
    const auto both = measure(s, meters, effort(0.007, 8), sharing_for(s, 8, 64, 16));
    for (std::size_t m = 0; m < meters.size(); ++m)
        for (std::size_t k = 0; k < 2; ++k) {
            const Measured a = alone.of(m, k), b = both.of(m, k);
            EXPECT_LE(std::max(a.relative_error(), b.relative_error()), 0.016) << "too noisy to prove anything";
            EXPECT_NEAR(a.value, b.value, 4 * std::hypot(a.error, b.error)) << "meter " << m << ", source " << k;
        }
}

}  // namespace
}  // namespace rushlight
