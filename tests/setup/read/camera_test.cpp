// Shot sizes, reverses, the line of action, focus and filters, as written in a file.
#include "setup/read/typed_file.h"

#include "setup/advice/conversation.h"
#include "setup/plain/face.h"
#include "setup/plain/shot.h"
#include "setup/text/where.h"

#include <cmath>

namespace rushlight {
namespace {

const std::string two = small_room + R"([[mark]]
name = "A"
at = [1, 2]
facing = "B"
person = { pose = "seated" }
[[mark]]
name = "B"
at = [3.5, 2]
facing = "A"
)";

std::string camera(const std::string& name, const std::string& keys) {
    return "[[camera]]\nname = \"" + name + "\"\n" + keys + "\n";
}

std::string answer(const std::string& text) {
    try {
        SetupFile::from_text(text, "f.toml");
    } catch (const InputError& e) {
        return e.what();
    }
    return "";
}

/// Height of the picture where the camera looks, m, by similar triangles behind and before the lens.
double picture_height(const Camera& c) {
    return c.sensor_height * static_cast<double>((c.look_at - c.at).length()) / c.thin_lens().image_distance();
}

// Picture heights at the person (common practice, no source): full 2.0-2.4 m, knees 1.3-1.5, waist .9-1.0, chest
// .55-.65, head and shoulders .38-.45, face .25.
TEST(Shot, SizesAreTheHeightOfThePicture) {
    const struct {
        const char* word;
        double least, most;
    } sizes[] = {{"full", 2.0, 2.4},       {"knees up", 1.3, 1.5},
                 {"medium", 0.9, 1.0},     {"medium close-up", 0.55, 0.65},
                 {"close-up", 0.38, 0.45}, {"face", 0.24, 0.26}};
    for (const auto& size : sizes)
        for (const char* lens : {"35", "75"}) {
            const Camera c =
                first_of(two + camera("one", "shot = \"" + std::string(size.word) +
                                                 "\"\nof = \"B\"\noff_eyeline = 30\nfocus = 3\nlens = " + lens))
                    .rig.cameras.front();
            Camera focused = c;
            focused.focus = static_cast<double>((c.look_at - c.at).length());
            EXPECT_GT(picture_height(focused), size.least) << size.word;
            EXPECT_LT(picture_height(focused), size.most) << size.word;
        }
}

// 50 mm on a sensor 14 mm high, chest shot of .6 m: about 2.1 m away (height x focal length / sensor height = 2.14; a
// thin lens stands one focal length further off).
TEST(Shot, StandsWhereItsDirectionSays) {
    const auto s = first_of(two + camera("one", "shot = \"chest up\"\nof = \"B\"\noff_eyeline = 90\nlens = 50"));
    const Camera& c = s.rig.cameras.front();
    EXPECT_NEAR((c.look_at - c.at).length(), 2.143 + 0.05, 0.002);
    // B looks along -x; to the left of that is -y.
    const Vec3 face = face_of(named(s.rig.marks, "B"));
    EXPECT_NEAR(c.at.x, face.x, 1e-4);
    EXPECT_LT(c.at.y, face.y - 2);
    EXPECT_NEAR(c.at.z, face.z, 1e-5);  // at the height of the eyes
    EXPECT_EQ(c.of, "B");
    // Eyes on the upper third, more or less.
    const double up = static_cast<double>(face.z - c.look_at.z) / 0.6 + 0.5;
    EXPECT_GT(up, 0.6);
    EXPECT_LT(up, 0.75);
}

TEST(Shot, AReverseIsTheMirrorImageOnTheSameSideOfTheLine) {
    const auto s =
        first_of(two + camera("to A", "shot = \"close-up\"\nof = \"A\"\noff_eyeline = 25\nlens = 50\niso = 1600") +
                 camera("to B", "reverse_of = \"to A\"\nt_stop = 4"));
    const Camera &a = s.rig.cameras[0], &b = s.rig.cameras[1];
    const Vec3 middle = (face_of(s.rig.marks[0]) + face_of(s.rig.marks[1])) * 0.5F;
    EXPECT_NEAR(a.at.x + b.at.x, 2 * middle.x, 1e-4);
    EXPECT_NEAR(a.at.y, b.at.y, 1e-4);
    EXPECT_NEAR(b.at.z - a.at.z, face_of(s.rig.marks[1]).z - face_of(s.rig.marks[0]).z, 1e-4);
    EXPECT_EQ(b.of, "B");
    EXPECT_DOUBLE_EQ(b.lens, 50);
    EXPECT_DOUBLE_EQ(b.exposure.iso, 1600);
    EXPECT_DOUBLE_EQ(b.exposure.t_stop, 4);
    const auto line = line_of_action(s.rig.marks);
    ASSERT_TRUE(line);
    EXPECT_GT(line->off(a.at) * line->off(b.at), 0);
}

TEST(Conversation, SaysWhereTheLineIsCrossed) {
    const std::string cameras = camera("one", "at = [2, 0.5, 1.3]\nlook_at = \"A\"") +
                                camera("two", "at = [2.5, 0.6, 1.3]\nlook_at = \"B\"") +
                                camera("three", "at = [2.5, 3.5, 1.3]\nlook_at = \"B\"") +
                                camera("on it", "at = [4.5, 2.05, 1.3]\nlook_at = \"B\"");
    std::string setups;
    for (const char* name : {"one", "two", "three", "on it"})
        setups += "[[setup]]\nname = \"" + std::string(name) + "\"\ncamera = \"" + name + "\"\n";
    const SetupFile file = SetupFile::from_text(two + cameras + setups, "f.toml");
    std::vector<rushlight::Setup> all;
    for (const std::string& name : file.setup_names()) all.push_back(file.setup(name, "as found"));
    const auto say = crossed_line_remarks(all);
    ASSERT_EQ(say.size(), 1U);
    EXPECT_EQ(say.front().rfind("Camera 'three' of set-up 'three' stands across the line from 'A' to 'B'", 0), 0U);
}

TEST(Camera, FocusesOnWhatItLooksAt) {
    const std::string base = "at = [2, 0.5, 1.3]\n";
    const auto focus = [&](const std::string& keys) {
        return first_of(two + camera("c", base + keys)).rig.cameras[0].focus;
    };
    EXPECT_NEAR(focus("look_at = [2, 3, 1.3]"), 2.5, 1e-5);
    EXPECT_NEAR(focus("look_at = [2, 3, 1.3]\nfocus = 1.7"), 1.7, 1e-9);
    EXPECT_EQ(focus("look_at = \"A\"\nfocus = \"everything\""), 0);
    // Along the axis, not along the way to the point.
    EXPECT_NEAR(focus("look_at = [2, 3, 1.3]\nfocus = [4, 2, 1.3]"), 1.5, 1e-5);
}

TEST(Camera, FiltersAndSizesByName) {
    const auto s =
        first_of(two + camera("c",
                              "at = [2, 0.5, 1.3]\nlook_at = \"A\"\nsensor = \"full frame\"\nmist = \"quarter\"\n"
                              "polarizer = 20\ngraduated = 0.6\ntint = 0.003"));
    const Camera& c = s.rig.cameras.front();
    EXPECT_DOUBLE_EQ(c.sensor_width, 36);
    EXPECT_DOUBLE_EQ(c.mist.share, 0.045);
    EXPECT_DOUBLE_EQ(c.polarizer.value_or(0), 20);
    EXPECT_DOUBLE_EQ(c.exposure.filter_stops, 1.5);
    EXPECT_DOUBLE_EQ(c.graduated.density, 0.6);
    EXPECT_DOUBLE_EQ(c.tint, 0.003);
}

TEST(Camera, WrongWordsAreAnswered) {
    const std::string at = "at = [2, 0.5, 1.3]\nlook_at = \"A\"\n";
    const std::pair<std::string, std::string> wrong[] = {
        {"shot = \"medium closeup\"\nof = \"A\"\noff_eyeline = 0",
         "unknown shot 'medium closeup'; did you mean 'medium close-up'?"},
        {"shot = \"medium\"\noff_eyeline = 0", "a shot needs 'of', the name of a mark"},
        {"shot = \"medium\"\nof = \"A\"", "a shot needs a direction, 'off_eyeline' or 'at'"},
        {"at = [2, 0.5, 1.3]", "needs 'look_at', or a 'shot'"},
        {"look_at = \"A\"", "needs 'at'"},
        {"reverse_of = \"none\"", "no camera 'none' stands above it"},
        {at + "off_eyeline = 10", "means something for a shot only"},
        {at + "sensor = \"super 36\"", "unknown sensor size 'super 36'; did you mean 'super 35'?"},
        {at + "mist = \"eight\"", "unknown mist 'eight'; did you mean 'eighth'?"},
        {at + "polarizer_stops = 2", "needs polarizer"},
        {at + "focus = [2, -3, 1.3]", "is behind or in the lens"},
        {at + "focus = 0.02", "is nearer than a lens of this length can focus"},
    };
    for (const auto& [keys, says] : wrong) {
        const std::string said = answer(two + camera("c", keys));
        EXPECT_NE(said.find(says), std::string::npos) << keys << "\n" << said;
        EXPECT_EQ(said.rfind("f.toml:", 0), 0U) << said;
        EXPECT_EQ(said.find('\n'), std::string::npos);
    }
}

// One body for the file: what a camera does not say is the body's, and the other side of a conversation is the first's.
TEST(CameraBody, GivesWhatACameraDoesNotSay) {
    const std::string body =
        "[camera_body]\niso = 1250\nsensor = [28.2, 18.8]\nwhite_balance = 4300\ndelivery = \"2:1\"\n";
    const auto s =
        first_of(two + body + camera("to A", "shot = \"close-up\"\nof = \"A\"\noff_eyeline = 25\niso = 1600") +
                 camera("to B", "reverse_of = \"to A\"\nt_stop = 4") +
                 camera("wide", "at = [2.5, 3.8, 1.4]\nlook_at = [2.5, 2, 1.2]\ndelivery = 1.85"));
    const Camera &a = s.rig.cameras[0], &b = s.rig.cameras[1], &wide = s.rig.cameras[2];
    EXPECT_DOUBLE_EQ(a.exposure.iso, 1600);
    EXPECT_DOUBLE_EQ(b.exposure.iso, 1600);
    EXPECT_DOUBLE_EQ(wide.exposure.iso, 1250);
    for (const Camera* c : {&a, &b, &wide}) {
        EXPECT_DOUBLE_EQ(c->sensor_height, 18.8);
        EXPECT_DOUBLE_EQ(c->white_balance, 4300);
    }
    EXPECT_DOUBLE_EQ(a.delivery, 2);
    EXPECT_DOUBLE_EQ(wide.delivery, 1.85);
}

TEST(CameraBody, RefusesWhatIsNoBodys) {
    const std::string one = camera("one", "at = [2.5, 3.8, 1.4]\nlook_at = [2.5, 2, 1.2]");
    EXPECT_NE(answer(two + "[camera_body]\nlens = 50\n" + one).find("unknown key 'lens' in [camera_body]"),
              std::string::npos);
    EXPECT_NE(answer(two + "[[camera_body]]\niso = 800\n" + one).find("expected [camera_body] with one bracket"),
              std::string::npos);
    EXPECT_NE(answer(two + "[camera_body]\niso = 2\n" + one).find("f.toml:"), std::string::npos);
    // The place of what is missing is the camera's, not the body's.
    const std::string no_place = "[camera_body]\niso = 800\n" + two + camera("one", "lens = 50");
    EXPECT_NE(answer(no_place).find("[[camera]] 'one' needs 'at'"), std::string::npos);
    EXPECT_EQ(answer(no_place).find("f.toml:1:"), std::string::npos);
}

TEST(Delivery, IsWidthOverHeight) {
    const auto with = [&](const std::string& value) {
        return two + camera("one", "at = [2.5, 3.8, 1.4]\nlook_at = [2.5, 2, 1.2]\ndelivery = " + value);
    };
    const std::pair<const char*, double> sound[] = {
        {"2.39", 2.39}, {"\"2.39:1\"", 2.39}, {"\"16:9\"", 16.0 / 9}, {"\"9:16\"", 9.0 / 16}, {"\"1.85\"", 1.85}};
    for (const auto& [written, value] : sound)
        EXPECT_NEAR(first_of(with(written)).rig.cameras.front().delivery, value, 1e-9) << written;
    for (const char* wrong : {"\"wide\"", "0.1", "\"16:0\"", "\"1:\"", "true", "[16, 9]", "\"-2:1\"", "9"})
        EXPECT_NE(answer(with(wrong)).find("delivery"), std::string::npos) << wrong;
}

/// A chest shot shows .6 m within what is delivered, whatever the sensor records beyond it.
TEST(Delivery, ShotsAreFramedForIt) {
    const std::string shot = "shot = \"chest up\"\nof = \"B\"\noff_eyeline = 90\nlens = 50\nsensor = [24.9, 14]\n";
    const Camera c = first_of(two + camera("one", shot + "delivery = 2.39")).rig.cameras.front();
    // Thin lens: s = f (1 + H / h), h = 24.9 / 2.39 = 10.418 mm.
    EXPECT_NEAR((c.look_at - c.at).length(), 0.05 * (1 + 600 / 10.418), 0.002);
    // One that is higher than the sensor is wide loses nothing of its height.
    const Camera phone = first_of(two + camera("one", shot + "delivery = \"9:16\"")).rig.cameras.front();
    EXPECT_NEAR((phone.look_at - phone.at).length(), 0.05 * (1 + 600 / 14.0), 0.002);
}

}  // namespace
}  // namespace rushlight
