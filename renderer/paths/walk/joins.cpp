#include "paths/walk/joins.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

float promise_of_join(const Vertex& v, const Vertex& y, float connections) {
    const Vec3 between = y.position - v.position;
    const float d2 = std::max(between.length2(), 1e-8F);
    const float d = std::sqrt(d2);
    const Vec3 toward = between / d;
    // Hair sends light all round.
    const auto share = [](const Vertex& at, const Vec3& normal, const Vec3& to) {
        if (at.surface->fibre) return at.surface->largest_share() / 4.0F;
        const bool same_side = normal.dot(to) * normal.dot(at.from) > 0;
        if (!same_side) return at.surface->through_share;
        // On a rounded body, what lies on one side of the face may lie on either side of the normal it is shaded by.
        const bool either = at.surface->through_share > 0 && at.frame.kind == HitFrame::Kind::rounded;
        return at.surface->matt_share + at.surface->coat + (either ? at.surface->through_share : 0.0F);
    };
    const Vec3 normal_v = v.frame.kind == HitFrame::Kind::rounded ? v.facing(v.from) : v.normal;
    const float cos_v = v.is_fibre() ? v.cosine(toward) : std::abs(normal_v.dot(toward));
    const float cos_y = std::abs(y.normal.dot(toward));
    const float share_v = share(v, normal_v, toward), share_y = share(y, y.normal, -toward);
    const float geometry = cos_v * cos_y / d2;
    const float walked = geometry / pi_f * (v.weight_of_others(cos_v / pi_f) + y.weight_of_others(cos_y / pi_f));
    return y.light * share_v * share_y * geometry / (connections + walked);
}

}  // namespace rushlight
