// Meters that were typed at the height of what they lie on read what a meter that lies there reads.
#include "paths/put_down.h"
#include "paths/small_scenes.h"

namespace rushlight {
namespace {

using namespace small;

Scene room_with_a_table() {
    Scene s;
    add_box(s, {4, 3, 2.5F}, matt(0.5));
    Box table;
    table.centre = {2, 1.5F, 0.7F};
    table.size = {1.2F, 0.8F, 0.04F};
    table.finish = matt(0.3);
    add(s, box_mesh(table));
    add_lamp(s, lamp(LampShape::ball, {1.0F, 1.0F, 2.0F}, {0, 0, -1}, 0.3, 0.3, 3000));
    auto holes = std::make_shared<Openings>();
    holes->upper = {4, 3, 2.5F};
    s.holes = holes;
    finish(s);
    return s;
}

TEST(PutDown, OnFloorTableWallsAndCeiling) {
    const Scene s = room_with_a_table();
    const struct {
        Vec3 at, facing, expected;
    } lying[] = {{{1, 2, 0}, {0, 0, 1}, {1, 2, 0.003F}},
                 {{2, 1.5F, 0.72F}, {0, 0, 1}, {2, 1.5F, 0.723F}},
                 {{2, 1.5F, 0.719F}, {0, 0, 1}, {2, 1.5F, 0.723F}},
                 {{1, 0, 1.2F}, {0, 1, 0}, {1, 0.003F, 1.2F}},
                 {{1, 3, 1.2F}, {0, -1, 0}, {1, 2.997F, 1.2F}},
                 {{4, 1, 1.2F}, {-1, 0, 0}, {3.997F, 1, 1.2F}},
                 {{3, 1, 2.5F}, {0, 0, -1}, {3, 1, 2.497F}},
                 {{1, 2, 0}, {0, -1, 0}, {1, 2, 0.003F}},         // on the floor, looking along it
                 {{3, 1, 2.5F}, {1, 0, 0}, {3, 1, 2.497F}},       // under the ceiling
                 {{1, 2, 1}, {0, 0, 1}, {1, 2, 1}},               // in the hand
                 {{1, 2, 0.01F}, {0, 0, 1}, {1, 2, 0.01F}},       // a centimetre up
                 {{2, 1.5F, 0.7F}, {0, 0, 1}, {2, 1.5F, 0.7F}}};  // within the table
    for (const auto& l : lying) {
        const MeterPoint m = put_down(s, {MeterKind::flat, l.at, l.facing});
        EXPECT_LT((m.at - l.expected).length(), 2e-5F) << m.at << " for " << l.at;
    }
}

// The same to a part in a thousand as one held a millimetre off, where the light hardly changes with height.
TEST(PutDown, ReadsWhatAMeterThereReads) {
    const Scene s = room_with_a_table();
    const MeterPoint on_floor{MeterKind::flat, {1, 2, 0}, {0, 0, 1}}, off{MeterKind::flat, {1, 2, 0.001F}, {0, 0, 1}};
    const MeterResults r = measure(s, {put_down(s, on_floor), off}, effort(0.003));
    EXPECT_GT(r.all(0).value, 50);
    EXPECT_NEAR(r.all(0).value, r.all(1).value,
                4 * std::hypot(r.all(0).error, r.all(1).error) + 0.004 * r.all(1).value);
}

}  // namespace
}  // namespace rushlight
