#include "setup/plain/face.h"

#include "quantity/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

struct Median {
    double stature, value;
};

template <std::size_t n>
double between(const std::array<Median, n>& table, double stature) {
    if (stature <= table.front().stature) return table.front().value * stature / table.front().stature;
    for (std::size_t i = 1; i < n; ++i)
        if (stature <= table[i].stature) {
            const double t = (stature - table[i - 1].stature) / (table[i].stature - table[i - 1].stature);
            return table[i - 1].value + t * (table[i].value - table[i - 1].value);
        }
    return table.back().value;
}

/// Chin to crown over 230 mm. A child's head is nearly grown.
constexpr std::array<Median, 6> head_share{
    {{1.05, 0.83}, {1.16, 0.85}, {1.50, 0.91}, {1.61, 0.935}, {1.74, 1.0}, {1.95, 1.035}}};
/// Sitting height as a share of stature.
constexpr std::array<Median, 4> sitting_share{{{1.05, 0.55}, {1.16, 0.54}, {1.50, 0.52}, {1.74, 0.523}}};

}  // namespace

Vec3 facing_of(const Mark& mark) {
    const double a = radians(Degree{mark.facing + mark.head_turn}), up = radians(Degree{mark.head_tilt});
    return {static_cast<float>(std::cos(up) * std::cos(a)), static_cast<float>(std::cos(up) * std::sin(a)),
            static_cast<float>(std::sin(up))};
}

Build build_of(const StandIn& person) {
    Build b;
    b.stature = std::max(0.4, person.height - shoe_sole);
    b.head_scale = between(head_share, b.stature);
    b.eyes_under_crown = b.head_scale * static_cast<double>(crown_over_eyes) / 1000;
    b.seat = person.seat;
    const double share = b.stature < 1.05 ? sitting_share.front().value : between(sitting_share, b.stature);
    b.standing_eyes = shoe_sole + b.stature - b.eyes_under_crown;
    switch (person.pose) {
        case Pose::standing:
            b.eyes = b.standing_eyes;
            break;
        case Pose::walking:  // common practice, no source: a stride takes the body down by a hundredth of its height
            b.eyes = b.standing_eyes - 0.01 * b.stature;
            break;
        case Pose::leaning:  // both hands on a table, the back some 35 degrees off upright
            b.eyes = 0.88 * b.standing_eyes;
            break;
        case Pose::seated:
            b.eyes = b.seat + share * b.stature - b.eyes_under_crown - slump;
            break;
    }
    return b;
}

double eye_height(const StandIn& person) {
    return build_of(person).eyes;
}

Vec3 face_of(const Mark& mark) {
    constexpr float before = 0.09F;
    return mark.at + facing_of(mark) * before + Vec3(0, 0, static_cast<float>(eye_height(mark.person)));
}

}  // namespace rushlight
