// Light as the pages get it: against closed forms and against what `rushlight frame` writes.
#include "desk/desk_scratch.h"
#include "desk/light/at_full.h"
#include "desk/light/picture_light.h"
#include "desk/light/sheet_json.h"
#include "desk/light/smoothed_layers.h"
#include "desk/told.h"
#include "pictures/draw/image.h"
#include "results/frame/frames.h"
#include "results/frame/preview_filter.h"
#include "sanitized.h"

#include <OpenImageIO/imageio.h>
#include <half.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numeric>
#include <thread>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;
using testing_desk::small_place;

const std::string black_room = R"([place]
room = { width = 4, depth = 3, height = 2.6 }
[place.surfaces]
walls = 0
floor = 0
ceiling = 0
[day]
dark = true
[[lamp]]
name = "key"
shape = "ball"
at = [1.0, 1.5, 2.0]
size = 0.3
output = "900 lm"
level = "50%"
[[lamp]]
name = "far"
shape = "ball"
at = [3.0, 1.5, 2.0]
size = 0.2
output = "600 lm"
level = "-2 stops"
[[meter]]
name = "middle"
at = [2, 1, 0.8]
)";

/// An even sphere lights a receptor that sees all of it as a point of its candela would: E = I cos / d^2
/// (configuration factor of a sphere, any heat-transfer handbook). In a black room there is nothing else.
double closed_form(double lumen, double dx, double dy, double dz) {
    const double d2 = dx * dx + dy * dy + dz * dz;
    return lumen / (4 * pi) / d2 * dz / std::sqrt(d2);
}

TEST(Light, StagesRefineTowardsTheClosedForm) {
    const Scratch scratch;
    scratch.write("place.toml", black_room);
    const Document document(scratch.file());
    LiveLight light(document);
    const auto open_page = light.join({"as found", "as found", {}}, false);
    const JsonValue sheet = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["stage"] >= 4; });
    const JsonValue& reading = sheet["readings"][0];
    const double key = closed_form(900, 1, 0.5, 1.2), far = closed_form(600, 1, 0.5, 1.2);
    const JsonValue full = JsonValue::array_t(bands, 1.0);
    for (const auto& [s, expected] : {std::pair{0, key}, std::pair{1, far}}) {
        const double error = reading["errors"][s].get<double>();
        EXPECT_LT(error, 0.01);
        EXPECT_NEAR(lux_of(reading["layers"][s], full) / expected, 1, 4 * error + 2e-4) << s;
    }
    const double now = lux_of(reading["layers"][0], sheet["sources"][0]["now"]) +
                       lux_of(reading["layers"][1], sheet["sources"][1]["now"]);
    EXPECT_NEAR(now / (0.5 * key + 0.25 * far), 1, 0.02);
    EXPECT_NEAR(now / reading["lux"].get<double>(), 1, 1e-3);
}

TEST(Light, LevelsAndGelsAreAnsweredWithoutTracing) {
    const Scratch scratch;
    Document document(scratch.file());
    LiveLight light(document);
    const auto open_page = light.join({"as found", "as found", {}}, false);
    const JsonValue before = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["stage"] >= 2; });
    const std::string key = light_fingerprint(at_full(document.setup("as found", "as found")));
    const auto change = [&](const std::string& from, const std::string& to) {
        document.edit(document.state().revision, "",
                      [&](std::string text) { return text.replace(text.find(from), from.size(), to); });
        light.renew();
    };
    change("level = \"50%\"", "level = \"-3 stops\"");
    change("gel = \"quarter blue\"", "gel = [\"half orange\", \"nd 0.3\"]");
    EXPECT_EQ(light_fingerprint(at_full(document.setup("as found", "as found"))), key);
    const JsonValue after = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["revision"] == 3; });
    EXPECT_GE(after["stage"], before["stage"]);
    EXPECT_NEAR(after["sources"][0]["now"][7].get<double>(), 0.125, 1e-4);
    change("at = [1.0, 1.5, 2.0]", "at = [1.1, 1.5, 2.0]");
    EXPECT_NE(light_fingerprint(at_full(document.setup("as found", "as found"))), key);
    const JsonValue moved = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["revision"] == 4; });
    EXPECT_EQ(moved["stage"], 1);
    // What was traced before is still there.
    document.undo(4);
    light.renew();
    const JsonValue back = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["revision"] == 5; });
    EXPECT_GE(back["stage"], after["stage"]);
}

TEST(Light, AMeterThatStaysIsNotTracedAgain) {
    const Scratch scratch;
    scratch.write("place.toml", black_room + "[[meter]]\nname = \"second\"\nat = [1, 1, 0.8]\n");
    Document document(scratch.file());
    LiveLight light(document);
    const auto open_page = light.join({"as found", "as found", {}}, false);
    wait_for(open_page, "sheet", [](const JsonValue& s) { return s["stage"] >= 4; });
    document.edit(
        1, "", [&](std::string text) { return text.replace(text.find("at = [1, 1, 0.8]"), 16, "at = [1, 2, 0.8]"); });
    light.renew();
    const JsonValue sheet = wait_for(open_page, "sheet", [](const JsonValue& s) { return s["revision"] == 2; });
    // One has what was traced before, the other its first look alone.
    EXPECT_EQ(sheet["stage"], 1);
    EXPECT_GE(sheet["readings"][0]["stages"], 4);
    EXPECT_EQ(sheet["readings"][1]["stages"], 1);
}

LayeredFrame one_pass(const rushlight::Setup& setup, const Scene& scene, KeptLight& light) {
    Effort effort;
    effort.seconds = 1e-9;
    effort.seed = 5;
    return trace_frame(setup, scene, 64, 36, effort, light);
}

/// The page's own sum, from the half floats it gets, against the EXR of the frame command.
TEST(Light, LayersMixedByThePageAreTheFrame) {
    const Scratch scratch;
    const rushlight::Setup asked = SetupFile::read(scratch.file().string()).setup();
    const rushlight::Setup traced = at_full(asked);
    const Scene scene = build_scene(traced);
    KeptLight kept(traced, asked, LayerCache({})), none;
    write_exr(scratch.folder / "frame.exr", one_pass(asked, scene, kept));
    PictureLight picture;
    picture.add(one_pass(traced, scene, none));
    const PackedPicture packed = pack(picture, asked, View::Kind::frame, false);
    const std::vector<Spectrum> now = burning(asked, scene.lights.sources());
    const WhiteBalance balanced{Kelvin{asked.its_camera()->white_balance}, asked.its_camera()->tint};

    const auto in = OIIO::ImageInput::open((scratch.folder / "frame.exr").string());
    ASSERT_TRUE(in);
    const OIIO::ImageSpec& spec = in->spec();
    std::vector<float> pixels(static_cast<std::size_t>(spec.nchannels) * 64 * 36);
    ASSERT_TRUE(in->read_image(0, 0, 0, spec.nchannels, OIIO::TypeDesc::FLOAT, pixels.data()));
    const int red = spec.channelindex("R");
    ASSERT_GE(red, 0);
    const std::size_t count = 64 * 36;
    ASSERT_EQ(packed.bytes->size(), 2 * count * bands * now.size());
    int lit = 0;
    for (std::size_t p = 0; p < count; ++p) {
        double mixed = 0, size = 0;
        for (std::size_t s = 0; s < now.size(); ++s)
            for (std::size_t b = 0; b < bands; ++b) {
                std::uint16_t bits = 0;
                std::memcpy(&bits, packed.bytes->data() + 2 * (((s * 4 + b / 4) * count + p) * 4 + b % 4), 2);
                half h;
                h.setBits(bits);
                Spectrum one;
                one.band[b] = 1;
                const double part = static_cast<double>(static_cast<float>(h) * packed.scale * now[s].band[b]) *
                                    static_cast<double>(balanced(tristimulus(one)).r);
                mixed += part;
                size += std::abs(part);
            }
        const auto expected =
            static_cast<double>(pixels[p * static_cast<std::size_t>(spec.nchannels) + static_cast<std::size_t>(red)]);
        // Half floats have eleven bits; under 2^-14 of the scale they have fewer.
        EXPECT_NEAR(mixed, expected, size * std::exp2(-11) + 1e-4) << p;
        lit += size > 0.01 ? 1 : 0;
    }
    EXPECT_GT(lit, 1000);
}

/// Luminance of every pixel of a packed frame, all sources at full.
std::vector<double> luminance_of(const PackedPicture& packed, std::size_t count, std::size_t sources) {
    std::vector<double> all(count, 0.0);
    for (std::size_t s = 0; s < sources; ++s)
        for (std::size_t p = 0; p < count; ++p)
            for (std::size_t b = 0; b < bands; ++b) {
                half h;
                std::uint16_t bits = 0;
                std::memcpy(&bits, packed.bytes->data() + 2 * (((s * 4 + b / 4) * count + p) * 4 + b % 4), 2);
                h.setBits(bits);
                all[p] += luminous_efficacy * y_bar[b] * static_cast<double>(static_cast<float>(h) * packed.scale);
            }
    return all;
}

TEST(Light, WhatWasPackedIsPackedAgainOnlyWhenItHasGrown) {
    const Scratch scratch;
    const rushlight::Setup asked = SetupFile::read(scratch.file().string()).setup();
    const rushlight::Setup traced = at_full(asked);
    const Scene scene = build_scene(traced);
    KeptLight none;
    PictureLight picture;
    picture.add(one_pass(traced, scene, none));
    picture.packed = pack(picture, asked, View::Kind::frame, true);
    EXPECT_EQ(pack(picture, asked, View::Kind::frame, true).bytes, picture.packed.bytes);
    picture.add(one_pass(traced, scene, none));
    EXPECT_NE(pack(picture, asked, View::Kind::frame, true).bytes, picture.packed.bytes);
    EXPECT_GT(picture.bytes(), picture.packed.bytes->size()) << "what is kept is counted";
}

TEST(Light, MistIsInThePictureThatThePageGets) {
    const Scratch scratch;
    rushlight::Setup asked = SetupFile::read(scratch.file().string()).setup();
    const rushlight::Setup traced = at_full(asked);
    const Scene scene = build_scene(traced);
    KeptLight none;
    PictureLight picture;
    picture.add(one_pass(traced, scene, none));
    const auto show = [&] {
        return luminance_of(pack(picture, asked, View::Kind::frame, false), 64 * 36, scene.lights.count());
    };
    const View view{View::Kind::frame, 64, 1.2};
    const std::string key = view_fingerprint(asked, view);
    const auto clear = show();
    asked.rig.cameras[static_cast<std::size_t>(asked.camera)].mist = {0.2, 2, 15};
    const auto misty = show();
    EXPECT_NE(view_fingerprint(asked, view), key);
    const double sum = std::accumulate(clear.begin(), clear.end(), 0.0);
    EXPECT_NEAR(std::accumulate(misty.begin(), misty.end(), 0.0), sum, 2e-3 * sum);  // halves round
    const auto [dark, bright] = std::minmax_element(clear.begin(), clear.end());
    EXPECT_GT(misty[static_cast<std::size_t>(dark - clear.begin())], *dark + 0.01 * sum / (64 * 36));
    EXPECT_LT(misty[static_cast<std::size_t>(bright - clear.begin())], 0.95 * *bright);
}

TEST(Light, SmoothedLayersSumToTheSmoothedFrame) {
    const Scratch scratch;
    const rushlight::Setup traced = at_full(SetupFile::read(scratch.file().string()).setup());
    const Scene scene = build_scene(traced);
    KeptLight none;
    LayeredFrame frame = one_pass(traced, scene, none);
    const auto expect_alike = [&](const std::vector<Vec3>& correction) {
        const auto layers = smoothed_layers(frame);
        double moved = 0, off = 0, all = 0;
        for (std::size_t p = 0; p < correction.size(); ++p) {
            Spectrum before, after;
            for (std::size_t s = 0; s < layers.size(); ++s) before += frame.layers[s][p], after += layers[s][p];
            const double y = tristimulus(before).y + static_cast<double>(correction[p].y);
            off += std::abs(tristimulus(after).y - y);
            all += y;
            moved += static_cast<double>(std::abs(correction[p].y));
        }
        EXPECT_GT(moved, 0.05 * all);  // there was something to smooth
        EXPECT_LT(off, 0.02 * all);
    };
    // After one pass by the quick filter, after more as written pictures are.
    expect_alike(PreviewFilter(frame).correction(frame.bounced, frame.soft));
    frame.paths_per_pixel = 2;
    expect_alike(preview_correction(frame));
}

TEST(Light, WhatNobodyWantsEndsAtOnce) {
    const Scratch scratch;
    const rushlight::Setup traced = at_full(SetupFile::read(scratch.file().string()).setup());
    const Scene scene = build_scene(traced);
    std::atomic<bool> drop{false};
    Effort effort;
    effort.seconds = 60;
    effort.drop = &drop;
    std::thread other([&] {
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
        drop = true;
    });
    const Clock clock;
    KeptLight none;
    trace_frame(traced, scene, 1280, 720, effort, none);
    EXPECT_LT(clock.seconds(), sanitized ? 50 : 5);  // a pass alone takes longer on a slow machine
    other.join();
}

/// Both pages leave and the desk ends while the second one's picture is packed: nobody is left asleep. Where that fails
/// it hangs.
TEST(Light, EndsWhileAPictureIsPacked) {
    const Scratch scratch;
    const Document document(scratch.file());
    LiveLight light(document);
    const Wish wish{"as found", "as found", {View::Kind::frame, 480, 1.2}};
    const auto first = light.join(wish, false), second = light.join(wish, false);
    // Of the same picture the first is told, and the second's is begun at once.
    wait_for(first, "picture", [](const JsonValue& p) { return p["width"] == 480; });
    light.leave(first);
    light.leave(second);
    const Clock clock;
    light.end();
    EXPECT_LT(clock.seconds(), sanitized ? 50 : 5);
}

TEST(Light, AMoveIsSeenCoarseAtOnce) {
    const Scratch scratch;
    Document document(scratch.file());
    LiveLight light(document);
    const auto open_page = light.join({"as found", "as found", {View::Kind::frame, 480, 1.2}}, false);
    wait_for(open_page, "picture", [](const JsonValue& p) { return p["width"] == 480; });
    document.edit(1, "", [](std::string text) {
        return text.replace(text.find("at = [1.0, 1.5, 2.0]"), 20, "at = [1.2, 1.5, 2.0]");
    });
    const Clock clock;
    light.renew();
    wait_for(open_page, "sheet", [](const JsonValue& s) { return s["revision"] == 2 && s["stage"] >= 1; });
    const double sheet = clock.seconds();
    const JsonValue picture = wait_for(open_page, "picture", [](const JsonValue& p) { return p["revision"] == 2; });
    std::printf("sheet after %.2f s, %d pixels across after %.2f s\n", sheet, picture["width"].get<int>(),
                clock.seconds());
    EXPECT_LT(clock.seconds(), sanitized ? 50 : 5);  // 0.3 s on a machine that does nothing else
    EXPECT_EQ(light.picture(picture["id"])->size(), picture["bytes"]);
}

}  // namespace
}  // namespace rushlight::desk
