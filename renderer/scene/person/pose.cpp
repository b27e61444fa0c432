#include "scene/person/pose.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

const Vec3 ahead(1, 0, 0), leftward(0, 1, 0), up(0, 0, 1);

int bone(const char* name, int side = 0) {
    return body_data().bone(side == 0 ? std::string(name) : std::string(name) + (side > 0 ? ".L" : ".R"));
}

/// How much of a corner goes with the head when that is made larger or smaller: all of the head, less down the neck.
float share_of_head(std::size_t corner) {
    static const std::array<int, 3> which{bone("head"), bone("neck03"), bone("neck02")};
    constexpr std::array<float, 3> much{1, 0.7F, 0.35F};
    const BodyData::Carried& c = body_data().carried[corner];
    float share = 0;
    for (std::size_t k = 0; k < 4; ++k)
        for (std::size_t i = 0; i < which.size(); ++i)
            if (c.bone.at(k) == which.at(i)) share += much.at(i) * static_cast<float>(c.much.at(k)) / 255;
    return share;
}

float lowest_shoe(const Points& rest) {
    float low = std::numeric_limits<float>::max();
    for (const Vec3& p : fitted_on(body_data().fitted.at("shoes"), rest, rest)) low = std::min(low, p.z);
    return low;
}

}  // namespace

/// The crown's height over the eyes is that of the head's scale and the eyes stand where the measures say: two sizes,
/// of head and body, follow from two lengths.
SizedBody sized_body(const Looks& looks, const Build& stature) {
    SizedBody b;
    b.rest = mixed_body(looks);
    const BodyData& data = body_data();
    const Vec3 eyes = (mean_of(b.rest, data.eyes[0]) + mean_of(b.rest, data.eyes[1])) * 0.5F;
    float crown = 0;
    for (const Quad& q : data.skin) crown = std::max(crown, b.rest[q[0]].z);
    const Skeleton bones(b.rest);
    const Vec3 pivot = bones.head_at_rest(bone("head"));
    // Legs that stand straight and a little apart, instead of astride as they are given.
    const Vec3 hip = bones.head_at_rest(bone("upperleg01", 1)), knee = bones.head_at_rest(bone("lowerleg01", 1)),
               ankle = bones.head_at_rest(bone("foot", 1));
    const float straighter = 0.995F * ((hip - knee).length() + (knee - ankle).length()) - (hip.z - ankle.z);
    const float under = pivot.z - lowest_shoe(b.rest) + straighter;
    const float head = static_cast<float>(stature.eyes_under_crown) / (crown - eyes.z);
    const float body = (static_cast<float>(stature.standing_eyes) - head * (eyes.z - pivot.z)) / under;
    const float larger = head / body;
    for (std::size_t i = 0; i < b.rest.size(); ++i) {
        Vec3& p = b.rest[i];
        const float share = share_of_head(i), above = (p.z - eyes.z) * head / 0.050F;
        const Vec3 off = p - pivot;
        // The heads given are long and narrow: skulls measure 195 by 155 mm (docs/people.md).
        const float wide = 1.05F + 0.05F * std::clamp(above, 0.0F, 1.0F);
        const Vec3 shaped(off.x * 0.95F, off.y * wide, off.z);
        // The shoulders given are broad for the height: 465 mm of a man of 1.74 m (docs/people.md), and cloth on them.
        const Vec3 slender(off.x, off.y * 0.955F, off.z);
        p = (pivot + (slender + (shaped * larger - slender) * share)) * body;
    }
    b.sole = lowest_shoe(b.rest);
    b.head_scale = static_cast<float>(stature.head_scale);
    for (const int side : {0, 1}) {
        const auto& eye = data.eyes.at(static_cast<std::size_t>(side));
        Vec3& centre = b.eyes.at(static_cast<std::size_t>(side));
        centre = mean_of(b.rest, eye);
        float sum = 0;
        for (const std::uint16_t c : eye) sum += (b.rest[c] - centre).length();
        b.eye_radius = sum / static_cast<float>(eye.size());
    }
    b.eye_middle = (b.eyes[0] + b.eyes[1]) * 0.5F;
    b.frame_origin = b.eye_middle - ahead * (0.070F * b.head_scale);
    return b;
}

PosedBody::PosedBody(const SizedBody& body, const Doing& doing) : body_(body), bones_(body.rest) {
    bones_.shift(-up * body_.sole);
    if (doing.pose == Pose::seated)
        sit(doing);
    else
        stand(doing);
    rest_hands(doing);
    points_ = bones_.posed(body_.rest);
}

/// The spine bends evenly from the hips to the chest, and the neck back to the level.
void PosedBody::trunk(float hips, float chest) {
    const auto lean = [&](const char* name, float angle) { bones_.turn(bone(name), turn_about(leftward, angle)); };
    lean("root", hips);
    int i = 1;
    for (const char* name : {"spine05", "spine04", "spine03", "spine02", "spine01"})
        lean(name, hips + (chest - hips) * static_cast<float>(i++) / 5);
    chest_ = chest;
    turn_head(bones_, {});
}

void PosedBody::turn_head(Skeleton& s, const HeadTurn& head) const {
    const auto turned = [&](float share, float lean) {
        return turn_about(up, head.turn * share) * turn_about(leftward, lean - head.tilt * share);
    };
    s.turn(bone("neck01"), turned(0.10F, chest_ * 0.8F));
    s.turn(bone("neck02"), turned(0.35F, chest_ * 0.5F));
    s.turn(bone("neck03"), turned(0.65F, chest_ * 0.2F));
    s.turn(bone("head"), turned(1, 0));
}

/// Bends the trunk until the hips lie as far under the eyes as they must.
void PosedBody::slump(float hip_under_eyes, float hips_share, float chest_share, float from, float to) {
    const int head = bone("head"), leg = bone("upperleg01", 1);
    const auto under = [&](float much) {
        trunk(hips_share * much, chest_share * much);
        return bones_.moved(head, body_.eye_middle).z - bones_.head(leg).z;
    };
    for (int i = 0; i < 24; ++i) {
        const float middle = (from + to) / 2;
        (under(middle) > hip_under_eyes ? from : to) = middle;
    }
    under((from + to) / 2);
}

void PosedBody::head_over_the_mark(float eyes) {
    const Vec3 origin = bones_.moved(bone("head"), body_.frame_origin);
    bones_.shift(Vec3(-origin.x, -origin.y, eyes - origin.z));
}

void PosedBody::leg(int side, const Vec3& ankle, const Vec3& knee_way, float toes_out, float heel_up) {
    const int thigh = bone("upperleg01", side), shin = bone("lowerleg01", side), foot = bone("foot", side);
    const Vec3 hip = bones_.head(thigh);
    const Vec3 rest_thigh = bones_.head_at_rest(shin) - bones_.head_at_rest(thigh);
    const Vec3 rest_shin = bones_.head_at_rest(foot) - bones_.head_at_rest(shin);
    const float a = rest_thigh.length(), b = rest_shin.length();
    const Vec3 way = (ankle - hip).normalized();
    const float d = std::clamp((ankle - hip).length(), std::abs(a - b) * 1.02F, 0.999F * (a + b));
    const float along = (a * a - b * b + d * d) / (2 * d);
    const Vec3 out = (knee_way - way * way.dot(knee_way)).normalized();
    const Vec3 knee = hip + way * along + out * std::sqrt(std::max(0.0F, a * a - along * along));
    const Vec3 foot_at = hip + way * d;
    bones_.turn(thigh, turn_of_frames(rest_thigh, ahead, knee - hip, out));
    bones_.turn(shin, turn_of_frames(rest_shin, ahead, foot_at - knee, out));
    bones_.turn(foot, turn_about(up, toes_out * static_cast<float>(side)) * turn_about(leftward, heel_up));
}

void PosedBody::arm(int side, const Vec3& wrist_at, const Vec3& elbow_way, const Vec3& fingers, const Vec3& palm,
                    float curl) {
    const int upper = bone("upperarm01", side), lower = bone("lowerarm01", side), wrist = bone("wrist", side);
    const auto rest = [&](int b) { return bones_.head_at_rest(b); };
    const Vec3 shoulder = bones_.head(upper), rest_upper = rest(lower) - rest(upper),
               rest_lower = rest(wrist) - rest(lower), whole = rest(wrist) - rest(upper);
    const Vec3 rest_out = rest_upper - whole * (rest_upper.dot(whole) / whole.length2());
    const float a = rest_upper.length(), b = rest_lower.length();
    const Vec3 way = (wrist_at - shoulder).normalized();
    const float d = std::clamp((wrist_at - shoulder).length(), std::abs(a - b) * 1.05F + 0.02F, 0.995F * (a + b));
    const float along = (a * a - b * b + d * d) / (2 * d);
    const Vec3 out = (elbow_way - way * way.dot(elbow_way)).normalized();
    const Vec3 elbow = shoulder + way * along + out * std::sqrt(std::max(0.0F, a * a - along * along));
    const Vec3 hand_at = shoulder + way * d;
    const Turn carried = bones_.turn_of(bone("shoulder01", side));
    const Turn whole_upper = turn_of_frames(rest_upper, rest_out, elbow - shoulder, out);
    const Turn swing =
        turn_between(turned_by(carried, rest_upper).normalized(), (elbow - shoulder).normalized()) * carried;
    bones_.turn(upper, Imath::slerpShortestArc(swing, whole_upper, 0.4F));
    bones_.turn(bone("upperarm02", side), whole_upper);
    const Turn whole_lower = turn_of_frames(rest_lower, rest_out, hand_at - elbow, out);
    bones_.turn(lower, whole_lower);

    const Vec3 rest_fingers = rest(bone("finger3-1", side)) - rest(wrist);
    Vec3 rest_palm = (rest(bone("finger2-1", side)) - rest(wrist)).cross(rest(bone("finger5-1", side)) - rest(wrist));
    if (rest_palm.dot(Vec3(0, -static_cast<float>(side), -0.5F)) < 0) rest_palm = -rest_palm;
    const Turn hand = turn_of_frames(rest_fingers, rest_palm, fingers, palm);
    // The forearm takes up most of the hand's twist.
    const Vec3 lower_way = (hand_at - elbow).normalized();
    const Turn twisted = turn_between(turned_by(hand, rest_lower.normalized()), lower_way) * hand;
    bones_.turn(bone("lowerarm02", side), Imath::slerpShortestArc(whole_lower, twisted, 0.6F));
    bones_.turn(wrist, hand);
    const Vec3 axis = rest_fingers.cross(rest_palm);
    for (const char finger : {'2', '3', '4', '5'})
        for (const char joint : {'1', '2', '3'}) {
            const float more = 1 + 0.12F * static_cast<float>(finger - '2');
            bones_.turn(bone((std::string("finger") + finger + "-" + joint).c_str(), side),
                        hand * turn_about(axis, curl * more * static_cast<float>(joint - '0')));
        }
    for (const char joint : {'2', '3'})
        bones_.turn(bone((std::string("finger1-") + joint).c_str(), side),
                    hand * turn_about(axis, 0.3F * curl * static_cast<float>(joint - '1')));
}

void PosedBody::stand(const Doing& doing) {
    const Vec3 ankle_at_rest = bones_.head_at_rest(bone("foot", 1));
    const float ankle = ankle_at_rest.z - body_.sole;
    const Vec3 hip_at_rest = bones_.head_at_rest(bone("upperleg01", 1));
    const float length = (hip_at_rest - bones_.head_at_rest(bone("lowerleg01", 1))).length() +
                         (bones_.head_at_rest(bone("lowerleg01", 1)) - ankle_at_rest).length();
    if (doing.pose == Pose::leaning) {
        slump(doing.eyes - ankle - 0.985F * length, 0.55F, 1, 0, 1.3F);
    } else {
        trunk(0, 0);
    }
    head_over_the_mark(doing.eyes);
    const float apart = 1.05F * hip_at_rest.y;
    for (const int side : {1, -1}) {
        const Vec3 hip = bones_.head(bone("upperleg01", side));
        const auto s = static_cast<float>(side);
        if (doing.pose == Pose::walking) {
            const bool fore = side > 0;
            leg(side, Vec3(hip.x + (fore ? 0.30F : -0.34F) * length, s * 0.8F * apart, ankle + (fore ? 0 : 0.07F)),
                ahead, 0.05F, fore ? -0.12F : 0.55F);
        } else {
            const float back = doing.pose == Pose::leaning ? 0.0F : 0.01F * s;  // one foot a little before the other
            leg(side, Vec3(hip.x + back, s * apart, ankle), ahead + leftward * (0.12F * s), 0.12F, 0);
        }
    }
}

void PosedBody::sit(const Doing& doing) {
    const Vec3 hip_at_rest = bones_.head_at_rest(bone("upperleg01", 1)),
               knee = bones_.head_at_rest(bone("lowerleg01", 1)), foot = bones_.head_at_rest(bone("foot", 1));
    const float thigh = (knee - hip_at_rest).length(), shin = (foot - knee).length(), ankle = foot.z - body_.sole;
    // What lies between the hip's joint and the seat is found by sitting down twice.
    float flesh = 0.2F * thigh;
    for (int time = 0; time < 3; ++time) {
        slump(doing.eyes - doing.seat - flesh, -0.75F, 0.45F, -0.25F, 0.9F);
        head_over_the_mark(doing.eyes);
        for (const int side : {1, -1}) {
            const Vec3 hip = bones_.head(bone("upperleg01", side));
            const auto s = static_cast<float>(side);
            const float drop = hip.z - ankle;
            const float forward = drop < shin ? std::sqrt(shin * shin - drop * drop) : 0;
            // On a seat that is a little high the thighs slope down to the knees until the feet stand.
            const float z = std::max(ankle, hip.z - 0.99F * shin - 0.24F * thigh);
            const float fore = side > 0 ? 0.02F : -0.02F;
            leg(side, Vec3(hip.x + 0.97F * thigh + 0.85F * forward + fore, s * 1.15F * std::abs(hip.y), z),
                up + ahead * 0.6F + leftward * (0.1F * s), 0.1F, 0);
        }
        seat_until_ = bones_.head(bone("upperleg01", 1)).x + 0.75F * thigh;
        if (time == 2) break;
        points_ = bones_.posed(body_.rest);
        const Vec3 hip = bones_.head(bone("upperleg01", 1));
        float low = hip.z;
        for (const Quad& q : body_data().skin) {
            const Vec3& p = points_[q[0]];
            if (p.x < hip.x + 0.5F * thigh) low = std::min(low, p.z);
        }
        flesh = hip.z - low + 0.004F;  // and cloth
    }
}

float PosedBody::lowest_of_hand(int side) const {
    const Points now = bones_.posed(body_.rest);
    const int wrist = bone("wrist", side);
    const auto& bones = body_data().bones;
    float low = std::numeric_limits<float>::max();
    for (const Quad& q : body_data().skin) {
        int b = body_data().carried[q[0]].bone[0];
        while (b >= 0 && b != wrist) b = bones[static_cast<std::size_t>(b)].parent;
        if (b == wrist) low = std::min(low, now[q[0]].z);
    }
    return low;
}

void PosedBody::rest_hands(const Doing& doing) {
    const bool seated = doing.pose == Pose::seated;
    const Hands hands = doing.pose == Pose::leaning             ? Hands::table
                        : seated && doing.hands == Hands::sides ? Hands::lap
                        : !seated && doing.hands == Hands::lap  ? Hands::sides
                                                                : doing.hands;
    const Vec3 shoulder = bones_.head(bone("upperarm01", 1));
    const Vec3 elbow_at_rest = bones_.head_at_rest(bone("lowerarm01", 1));
    const float reach = (elbow_at_rest - bones_.head_at_rest(bone("upperarm01", 1))).length() +
                        (bones_.head_at_rest(bone("wrist", 1)) - elbow_at_rest).length();
    for (const int side : {1, -1}) {
        const auto s = static_cast<float>(side);
        const Vec3 at = bones_.head(bone("upperarm01", side));
        const auto hang = [&](float forward) {
            arm(side, at + Vec3(forward + 0.03F * reach, s * 0.07F * reach, -0.97F * reach), {-1, s * 0.35F, 0.1F},
                {0.18F + forward, -s * 0.05F, -1}, {-0.25F, -s, 0}, 0.22F);
        };
        const auto on_the_table = [&](const Vec3& where, float inward) {
            Vec3 wrist = where;
            const auto lay = [&] {
                arm(side, wrist, {-0.2F, s, -0.6F}, {1 - inward, -s * inward, -0.04F}, {0, 0, -1}, 0.13F);
            };
            lay();
            for (int i = 0; i < 2; ++i) {  // lowered until the hand touches
                wrist.z += doing.table + 0.003F - lowest_of_hand(side);
                lay();
            }
        };
        const bool right = side < 0;
        if (hands == Hands::sides) {
            hang(doing.pose == Pose::walking ? -0.25F * reach * s : 0);
        } else if (hands == Hands::table) {
            const bool leaning = doing.pose == Pose::leaning;
            const float down = std::max(0.0F, at.z - doing.table - 0.03F);
            const float most = std::sqrt(std::max(0.01F, 0.97F * reach * reach - down * down));
            on_the_table({at.x + std::min(leaning ? 0.12F : 0.75F * reach, most), s * (leaning ? 0.22F : 0.13F),
                          doing.table + 0.03F},
                         leaning ? 0.25F : 0.55F);
        } else if (hands == Hands::lap) {
            const Vec3 hip = bones_.head(bone("upperleg01", side)), knee = bones_.head(bone("lowerleg01", side));
            const Vec3 thigh = hip + (knee - hip) * (0.50F + 0.04F * s);
            arm(side, Vec3(thigh.x, thigh.y * 0.75F, thigh.z + 0.115F * reach / 0.5F), {-0.35F, s, -0.2F},
                {0.80F, -s * 0.55F, -0.30F}, {0, -0.15F * s, -1}, 0.20F);
        } else if (hands == Hands::book || right) {
            // What is held stands before the breastbone.
            const bool book = hands == Hands::book;
            const Vec3 held(shoulder.x + 0.62F * reach, 0, shoulder.z - (book ? 0.42F : 0.48F) * reach);
            const Vec3 wrist = book ? held + Vec3(-0.09F, s * 0.11F, -0.06F) : held + Vec3(-0.10F, -0.055F, -0.01F);
            arm(side, wrist, {-0.2F, s * 0.7F, -1}, book ? Vec3(0.85F, -s * 0.25F, 0.35F) : Vec3(0.93F, 0.35F, 0.05F),
                book ? Vec3(0, -s * 0.6F, 0.8F) : Vec3(-0.1F, 1, 0), book ? 0.18F : 0.42F);
        } else if (seated) {
            const Vec3 hip = bones_.head(bone("upperleg01", side)), knee = bones_.head(bone("lowerleg01", side));
            const Vec3 thigh = hip + (knee - hip) * 0.55F;
            arm(side, Vec3(thigh.x, thigh.y * 0.8F, thigh.z + 0.115F * reach / 0.5F), {-0.3F, s, -0.2F},
                {0.85F, -s * 0.5F, -0.25F}, {0, 0, -1}, 0.20F);
        } else {
            hang(0);
        }
    }
}

Points PosedBody::with_head(const HeadTurn& head) const {
    if (head == HeadTurn{}) return points_;
    Skeleton turned = bones_;
    turn_head(turned, head);
    return turned.posed(body_.rest);
}

Placement PosedBody::skull(const HeadTurn& head) const {
    Skeleton turned = bones_;
    turn_head(turned, head);
    const int b = bone("head");
    const Turn& t = turned.turn_of(b);
    return {turned_by(t, ahead), turned_by(t, leftward), turned_by(t, up), body_.head_scale / 1000,
            turned.moved(b, body_.frame_origin)};
}

}  // namespace rushlight
