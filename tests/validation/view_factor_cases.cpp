// Shares of the flux of one surface that land on another, counted where light paths end.
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

const std::string section = "View factors";
const std::string catalogue =
    "open catalogue of radiation configuration factors, 3rd ed. (formula from memory, confirmed by closure)";

/// Shares of the light paths that end on each part; error by the binomial law. Shares are of what lands anywhere but on
/// `not_counted`, or of all paths where that is -1.
std::vector<Measured> shares(const Scene& s, std::uint32_t paths, int not_counted = -1) {
    std::vector<double> landed(s.rays.part_count());
    double all = not_counted < 0 ? paths : 0;
    for (const Vertex& v : trace_light_paths(s, 3, 0, paths, 1).vertices) {
        landed[v.part] += 1;
        if (not_counted >= 0 && static_cast<int>(v.part) != not_counted) all += 1;
    }
    std::vector<Measured> out;
    for (const double n : landed) {
        const double p = n / all;
        out.push_back({p, std::sqrt(p * (1 - p) / all)});
    }
    return out;
}

/// A black box whose floor shines.
auto box_shares(const Vec3& size) {
    return once([size] {
        Scene s;
        add_box(s, size, matt(0));
        const float gap = 1e-4F;
        // A lamp that aims straight up has its width along x.
        add_lamp(s, lamp(LampShape::box, {size.x / 2, size.y / 2, gap}, {0, 0, 1}, size.x - 2 * gap, size.y - 2 * gap,
                         1000));
        finish(s);
        return shares(s, 1'000'000);
    });
}

}  // namespace

Cases view_factor_cases() {
    Cases all;
    const auto add_row = [&](const char* id, const char* what, double want, std::function<Measured()> measure) {
        all.push_back({id, section, what, catalogue, want, "", 0.01, std::move(measure)});
    };
    const auto cube = box_shares({2, 2, 2});
    const auto room = box_shares({4, 3, 2.5F});
    constexpr auto ceiling = static_cast<std::size_t>(Wall::ceiling), near = static_cast<std::size_t>(Wall::near),
                   left = static_cast<std::size_t>(Wall::left);
    add_row("1.5-1", "cube, opposite face", .1998249, [=] { return cube()[ceiling]; });
    add_row("1.5-2", "cube, face at a right angle", .2000438, [=] { return cube()[near]; });
    add_row("1.5-3", "floor 4 × 3 m to ceiling 2.5 m up", .2920740, [=] { return room()[ceiling]; });
    add_row("1.5-4", "floor 4 × 3 m to a wall 4 × 2.5 m", .2035247, [=] { return room()[near]; });
    add_row("1.5-5", "floor 4 × 3 m to a wall 3 × 2.5 m", .1504383, [=] { return room()[left]; });

    const auto discs = [](double r1, double r2) {
        return once([=] {
            Scene s;
            const float side = 8, high = 1;
            const auto o = static_cast<double>(side) / 2, reach = 1.01 * r1;
            auto openings = add_room(s, {side, side, high + 1e-4F},
                                     {hole(Wall::ceiling, o - reach, o + reach, o - reach, o + reach)});
            const auto mask = add(s, round_mask({side / 2, side / 2, high}, r1));
            const auto target = add(s, disc({side / 2, side / 2, 1e-5F}, r2));
            s.lights.add("sky", SkyLight(by_hand::outside(1000, 1000), openings));
            finish(s);
            return shares(s, 1'000'000, static_cast<int>(mask))[target];
        });
    };
    const auto two = discs(0.3, 0.5);
    const auto same = discs(1, 1);
    add_row("1.5-6", "coaxial discs, radii .3 and .5 m, 1 m apart", .1889655, [=] { return two(); });
    add_row("1.5-7", "coaxial discs, radii and gap 1 m", .3819660, [=] { return same(); });

    const auto ball = [](double r) {
        return once([=] {
            Scene s;
            const auto target = add(s, disc({0, 0, 0}, r));
            add_lamp(s, lamp(LampShape::ball, {0, 0, 1}, {0, 0, -1}, 0.6, 0.6, 1000));
            finish(s);
            return shares(s, r < 1 ? 3'000'000 : 1'000'000)[target];
        });
    };
    const auto small_disc = ball(0.5), large_disc = ball(1);
    add_row("1.5-8", "ball to coaxial disc of .5 m radius, 1 m off", .0527864, [=] { return small_disc(); });
    add_row("1.5-9", "ball to coaxial disc of 1 m radius, 1 m off", .1464466, [=] { return large_disc(); });
    return all;
}

}  // namespace rushlight::validation
