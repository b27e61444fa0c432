#include "scene/person/skeleton.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// The three ways of a frame whose first is `way`.
std::array<Vec3, 3> frame_of(const Vec3& way, const Vec3& side) {
    const Vec3 x = way.normalized();
    Vec3 y = side - x * x.dot(side);
    y = y.length2() > 1e-10F ? y.normalized() : Frame(x).x;
    return {x, y, x.cross(y)};
}

}  // namespace

Turn turn_about(const Vec3& axis, float angle) {
    return Turn(std::cos(angle / 2), axis.normalized() * std::sin(angle / 2));
}

Turn turn_between(const Vec3& from, const Vec3& to) {
    const float c = from.dot(to);
    if (c < -0.9999F) return turn_about(Frame(from).x, 3.14159265F);
    const Vec3 axis = from.cross(to);
    return Turn(1 + c, axis).normalized();
}

Turn turn_of_frames(const Vec3& way, const Vec3& side, const Vec3& new_way, const Vec3& new_side) {
    const auto a = frame_of(way, side), b = frame_of(new_way, new_side);
    const Turn first = turn_between(a[0], b[0]);
    const Vec3 carried = turned_by(first, a[1]);
    const float angle = std::atan2(carried.cross(b[1]).dot(b[0]), carried.dot(b[1]));
    return (turn_about(b[0], angle) * first).normalized();
}

Skeleton::Skeleton(const Points& rest) {
    for (const BoneAtRest& b : body_data().bones) head_.push_back(mean_of(rest, b.head));
    place_ = head_;
    turn_.assign(head_.size(), Turn());
}

void Skeleton::turn(int bone, const Turn& turn) {
    const auto& bones = body_data().bones;
    const auto first = static_cast<std::size_t>(bone);
    turn_[first] = turn;
    std::vector<bool> hangs(bones.size(), false);
    hangs[first] = true;
    for (std::size_t i = first + 1; i < bones.size(); ++i) {
        if (bones[i].parent < 0 || !hangs[static_cast<std::size_t>(bones[i].parent)]) continue;
        hangs[i] = true;
        turn_[i] = turn;
        place_[i] = moved(bones[i].parent, head_[i]);
    }
}

Vec3 Skeleton::moved(int bone, const Vec3& at_rest) const {
    const auto i = static_cast<std::size_t>(bone);
    return place_[i] + turned_by(turn_[i], at_rest - head_[i]);
}

void Skeleton::shift(const Vec3& by) {
    for (Vec3& p : place_) p += by;
}

Points Skeleton::posed(const Points& rest) const {
    struct Dual {
        Turn real, dual;
    };
    std::vector<Dual> duals;
    for (std::size_t i = 0; i < head_.size(); ++i) {
        const Vec3 move = place_[i] - turned_by(turn_[i], head_[i]);
        const Turn pure(0, move);
        duals.push_back({turn_[i], pure * turn_[i] * 0.5F});
    }
    Points out(rest.size());
    for (std::size_t i = 0; i < rest.size(); ++i) {
        const BodyData::Carried& c = body_data().carried[i];
        const Turn& lead = duals[c.bone[0]].real;
        Turn real(0, Vec3(0)), dual(0, Vec3(0));
        for (std::size_t k = 0; k < 4; ++k) {
            if (c.much.at(k) == 0) continue;
            const Dual& d = duals[c.bone.at(k)];
            const float share =
                (lead ^ d.real) < 0 ? -static_cast<float>(c.much.at(k)) : static_cast<float>(c.much.at(k));
            real = real + d.real * share;
            dual = dual + d.dual * share;
        }
        const float length = std::sqrt(real ^ real);
        real = real * (1 / length);
        dual = dual * (1 / length);
        const Vec3 move = (dual.v * real.r - real.v * dual.r + real.v.cross(dual.v)) * 2.0F;
        out[i] = turned_by(real, rest[i]) + move;
    }
    return out;
}

}  // namespace rushlight
