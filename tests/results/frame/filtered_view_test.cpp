// What mist and graduated ND make of spot readings: no light lost, and the same as in the picture.
#include "results/frame/filtered_view.h"
#include "results/frame/frames.h"
#include "results/frame/lens_filters.h"
#include "results/rooms.h"
#include "results/readings/spots.h"

#include "paths/measure.h"

#include <cmath>
#include <numbers>

namespace rushlight {
namespace {

Setup through(const std::string& filter) {
    std::string text = rooms::two_lamps;
    const std::string lens = "lens = 50\n";
    text.insert(text.find(lens) + lens.size(), filter);
    return rooms::setup_of(text);
}

// A scattering filter without absorption: an even wall reads through it as without, and over a whole picture the mean
// stays.
TEST(FilteredView, LosesNoLight) {
    const auto s = through("mist = 0.2\nmist_core = 1\nmist_skirt = 8\n");
    const Camera& camera = *s.its_camera();
    constexpr int width = 64, height = 36;
    const std::vector<float> no_error(width * height, 0.0F);
    const CameraView view(camera, width, height);
    const auto spot_on = [&](int x, int y) {
        return MeterPoint{MeterKind::spot, view.at(),
                          view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F).direction, 0.001F};
    };
    const std::vector<Tristimulus> wall(width * height, Tristimulus{7, 7, 7});
    const FilteredView even(camera, width, height, wall, no_error);
    for (const auto& [x, y] : {std::pair{0, 0}, {63, 35}, {30, 20}})
        EXPECT_NEAR(even.on_sensor(spot_on(x, y), {7, 0.1}).value, 7, 1e-4);

    std::vector<Tristimulus> uneven = wall;
    for (int x = 20; x < 30; ++x)
        for (int y = 10; y < 16; ++y) uneven[static_cast<std::size_t>(y * width + x)] = {500, 500, 500};
    const FilteredView lit(camera, width, height, uneven, no_error);
    double before = 0, after = 0, far = 0;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const double here = uneven[static_cast<std::size_t>(y * width + x)].y;
            const double there = lit.on_sensor(spot_on(x, y), {here, 0}).value;
            before += here;
            after += there;
            if (x == 40 && y == 12) far = there;
        }
    EXPECT_NEAR(after, before, 1e-4 * before);
    EXPECT_GT(far, 7.5);  // veiled by what shines beside it
    EXPECT_NEAR(lit.mean_veil(), 0.2 * before / (width * height), 1e-6 * before);
}

/// Of a picture's pixels within a spot: their mean with its error, and how much of it was spread there.
struct InPicture {
    Measured all;
    double veil = 0;
};
InPicture in_picture(const LayeredFrame& frame, const Camera& camera, const std::vector<Tristimulus>& bare,
                     const std::vector<Tristimulus>& filtered, const MeterPoint& spot) {
    const CameraView view(camera, frame.width, frame.height);
    float x = 0, y = 0;
    view.project(spot.at + spot.facing, x, y);
    const double reach = std::max(0.8, static_cast<double>(spot.spot_radius * view.pixels_per_tangent()));
    double sum = 0, squares = 0, veil = 0, count = 0;
    for (int j = 0; j < frame.height; ++j)
        for (int i = 0; i < frame.width; ++i) {
            if (std::hypot(i + 0.5 - static_cast<double>(x), j + 0.5 - static_cast<double>(y)) > reach) continue;
            const std::size_t p = frame.at(i, j);
            const double passes = (1 - camera.mist.share) *
                                  graduated_share(camera.graduated, frame.width, frame.height, i + 0.5, j + 0.5);
            sum += filtered[p].y;
            veil += filtered[p].y - passes * bare[p].y;
            squares += std::pow(static_cast<double>(frame.error[p]), 2);
            count += 1;
        }
    return {{sum / count, std::sqrt(squares) / count}, veil / count};
}

// The picture spreads a frame of its own, finer and with other random numbers; the reading takes a meter's luminance
// and the veil of a coarse one.
TEST(FilteredView, ReadsWhatThePictureShows) {
    const auto plain = rooms::setup_of(rooms::two_lamps);
    const Scene scene = build_scene(plain);
    const LayeredFrame frame = trace_frame(plain, scene, 240, 135, rooms::effort(0.12, 11));
    std::vector<Tristimulus> on_filters(frame.error.size());
    for (std::size_t p = 0; p < on_filters.size(); ++p) {
        Spectrum sum;
        for (const auto& layer : frame.layers) sum += layer[p];
        on_filters[p] = tristimulus(sum);
    }
    const PersonSpots spots = place_spots(plain, scene, CameraView(frame.camera, 1600, 900), 0);
    ASSERT_GE(spots.seen.size(), 4U);
    std::vector<MeterPoint> points;
    for (const PlacedSpot& p : spots.seen) points.push_back(p.point);
    const MeterResults measured = measure(scene, points, rooms::effort(0.02));

    for (const char* filter : {"mist = 0.15\n", "mist = \"half\"\ngraduated = 0.6\ngraduated_edge = 0.5\n"}) {
        const auto s = through(filter);
        KeptLight none;
        const auto filtered = look_through_filters(s, scene, rooms::effort(0.01), none);
        ASSERT_TRUE(filtered);
        std::vector<Tristimulus> light = on_filters;
        through_filters(light, frame.width, frame.height, *s.its_camera());
        for (std::size_t i = 0; i < points.size(); ++i) {
            const InPicture shown = in_picture(frame, *s.its_camera(), on_filters, light, points[i]);
            const Measured got = filtered->on_sensor(points[i], measured.all(i));
            EXPECT_NEAR(got.value, shown.all.value, 4 * std::hypot(got.error, shown.all.error))
                << spots.seen[i].name << " through " << filter;
            // What the mist lays over it hangs on no single pixel, and is known better.
            const Measured veil = filtered->on_sensor(points[i], {0, 0});
            EXPECT_NEAR(veil.value, shown.veil, 4 * std::numbers::sqrt2 * veil.error)
                << spots.seen[i].name << " through " << filter;
            EXPECT_LT(veil.error, 0.05 * veil.value) << "too noisy to prove anything";
        }
    }
}

TEST(FilteredView, IsNotAskedForWithoutAFilter) {
    const auto s = rooms::setup_of(rooms::two_lamps);
    KeptLight none;
    EXPECT_FALSE(look_through_filters(s, build_scene(s), rooms::effort(0.1), none));
    const Sheet sheet = take_readings(s, build_scene(s), rooms::effort(0.05));
    ASSERT_EQ(sheet.people.size(), 1U);
    for (const SpotReading& spot : sheet.people[0].spots) EXPECT_FALSE(spot.on_sensor);
}

// Two stops of mist-free separation shrink when both sides get the same veil: (a + v) : (b + v) is nearer to one.
TEST(FilteredView, VeilsTheSheet) {
    const auto s = through("mist = 0.15\n");
    const Sheet sheet = take_readings(s, build_scene(s), rooms::effort(0.05));
    ASSERT_FALSE(sheet.separations.empty());
    for (const Separation& p : sheet.separations) {
        ASSERT_TRUE(p.stops_on_sensor);
        EXPECT_LT(std::abs(p.stops_on_sensor->value), std::abs(p.stops.value) + 3 * p.stops.error);
    }
    ASSERT_TRUE(sheet.camera && sheet.camera->lift);
    EXPECT_GT(sheet.camera->lift->stops.value, 0.02);
    const auto& rows = sheet.people[0].key_to_fill;
    EXPECT_TRUE(
        std::any_of(rows.begin(), rows.end(), [](const Ratio& r) { return r.name == "the same through the mist"; }));
}

}  // namespace
}  // namespace rushlight
