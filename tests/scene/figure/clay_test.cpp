// The clay that figures are modelled in, and the triangles laid over it.
#include "scene/figure/body.h"
#include "scene/figure/head.h"
#include "scene/figure/skin.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <memory>

namespace rushlight {
namespace {

/// How often a distance is asked for.
struct Counted {
    Distance distance;
    std::shared_ptr<std::size_t> asked = std::make_shared<std::size_t>(0);
    float operator()(const Vec3& p) const {
        ++*asked;
        return distance(p);
    }
};

// Blocks of the grid far from the surface are left out; measuring every node must give the very same mesh.
TEST(StandInClay, LeavingOutWhatIsFarAwayChangesNothing) {
    BodyShape standing, seated;
    seated.pose = Pose::seated;
    seated.floor = -1010;
    seated.seat = -540;
    struct Part {
        const char* name;
        Distance distance;
        ClayGrid grid;
    };
    const auto head = [](float step) {
        return ClayGrid{grid_axis(-128, {{130, step}}), grid_axis(-110, {{110, step}}), grid_axis(-270, {{122, step}})};
    };
    const auto body = [](float step) {
        return ClayGrid{grid_axis(-190, {{700, step}}), grid_axis(-310, {{310, step}}),
                        grid_axis(-1480, {{100, step}})};
    };
    ClayGrid coarse_behind = head(3);
    coarse_behind.coarse = [](const Vec3& p) { return p.x < 20; };
    const Distance closed_head = [](const Vec3& p) { return std::max(head_skin(p), -262 - p.z); };
    for (const Part& part :
         {Part{"head", closed_head, head(3)}, Part{"head, odd steps", closed_head, head(4.1F)},
          Part{"head, coarse behind", closed_head, coarse_behind}, Part{"standing", Clothes(standing), body(14)},
          Part{"seated", Clothes(seated), body(14)}, Part{"hands", Hands(seated), body(6)}}) {
        const Counted few{part.distance}, all{part.distance};
        const Mesh a = skin_over(few, part.grid), b = skin_over(all, part.grid, Search::everywhere);
        ASSERT_GT(a.triangles.size(), 1000U) << part.name;
        ASSERT_EQ(a.positions.size(), b.positions.size()) << part.name;
        EXPECT_TRUE(a.triangles == b.triangles) << part.name;
        for (std::size_t i = 0; i < a.positions.size(); ++i)
            ASSERT_TRUE(a.positions[i] == b.positions[i]) << part.name << " " << i;
        EXPECT_LT(3 * *few.asked, *all.asked) << part.name;
    }
}

TEST(StandInClay, EveryCornerLiesOnTheClay) {
    // 0.05 mm on the head, which is less than a sheet of paper and far less than its grid's step.
    const Distance closed = [](const Vec3& p) { return std::max(head_skin(p), -262 - p.z); };
    const Mesh m =
        skin_over(closed, {grid_axis(-128, {{130, 2}}), grid_axis(-110, {{110, 2}}), grid_axis(-270, {{122, 2}})});
    std::size_t off = 0;
    for (const Vec3& p : m.positions) off += std::abs(closed(p)) > 0.05F;
    EXPECT_LT(off, m.positions.size() / 100);  // the creases between lips and lids are sharper than the grid
}

}  // namespace
}  // namespace rushlight
