#include "setup/plain/shot.h"

#include "quantity/units.h"
#include "setup/plain/face.h"
#include "setup/text/trade_words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr double per_metre = 1000;  // mm

Vec3 level(const Vec3& v) {
    return {v.x, v.y, 0};
}

}  // namespace

const std::vector<ShotSize>& shot_sizes() {
    static const std::vector<ShotSize> sizes{
        {"full", "full figure", 2.2},
        {"medium full", "knees up", 1.4},
        {"medium", "waist up", 0.95},
        {"medium close-up", "chest up", 0.60},
        {"close-up", "head and shoulders", 0.41},
        {"extreme close-up", "face", 0.25},
    };
    return sizes;
}

const ShotSize* shot_size(std::string_view name) {
    const auto named = [](std::string_view wanted) -> const ShotSize* {
        for (const ShotSize& s : shot_sizes())
            if (s.name == wanted || s.also == wanted) return &s;
        return nullptr;
    };
    if (const ShotSize* size = named(name)) return size;
    for (std::size_t i = 0; const auto other = meaning(std::string(name), i); ++i)
        if (const ShotSize* size = named(*other)) return size;
    return nullptr;
}

void place_for_shot(Camera& camera, const Mark& of, const ShotSize& size, const Vec3& toward_lens, double height) {
    const Vec3 face = face_of(of);
    const double eyes = static_cast<double>(face.z);
    const double top = std::min(eyes + size.height / 3, eyes + build_of(of.person).eyes_under_crown + size.height / 8);
    Vec3 middle = face;
    middle.z = static_cast<float>(top - size.height / 2);
    // Object distance of a thin lens that shows `height` on what is delivered of its sensor: s = f (1 + height / that).
    const double away = camera.lens / per_metre * (1 + size.height * per_metre / camera.delivered_height());
    const double rise = height - static_cast<double>(middle.z);
    const double along = std::sqrt(std::max(away * away - rise * rise, 0.01 * away * away));
    camera.at = middle + level(toward_lens).normalized() * static_cast<float>(along);
    camera.at.z = static_cast<float>(height);
    camera.look_at = middle;
    camera.of = of.name;
}

double LineOfAction::off(const Vec3& p) const {
    const Vec3 along = level(to - from).normalized();
    const Vec3 d = level(p - from);
    return static_cast<double>(along.x * d.y - along.y * d.x);
}

std::optional<LineOfAction> line_of_action(const std::vector<Mark>& marks) {
    const float facing = std::sqrt(0.5F);  // cosine of 45 degrees
    for (std::size_t i = 0; i < marks.size(); ++i)
        for (std::size_t j = i + 1; j < marks.size(); ++j) {
            const Vec3 between = level(marks[j].at - marks[i].at);
            if (between.length() < 0.05F) continue;
            const Vec3 way = between.normalized();
            if (facing_of(marks[i]).dot(way) > facing && facing_of(marks[j]).dot(-way) > facing)
                return LineOfAction{i, j, level(marks[i].at), level(marks[j].at)};
        }
    return std::nullopt;
}

void mirror_across(Camera& camera, const Mark& now, const Mark& then) {
    const Vec3 was = face_of(now);
    const Vec3 is = face_of(then);
    const Vec3 way = level(is - was);
    if (way.length() < 0.05F) return;
    const Vec3 along = way.normalized();
    const Vec3 middle = (was + is) * 0.5F;
    const auto mirrored = [&](const Vec3& p) {
        Vec3 q = p - along * (2 * (p - middle).dot(along));
        q.z = p.z + is.z - was.z;
        return q;
    };
    camera.at = mirrored(camera.at);
    camera.look_at = mirrored(camera.look_at);
    camera.roll = -camera.roll;
    camera.of = then.name;
}

}  // namespace rushlight
