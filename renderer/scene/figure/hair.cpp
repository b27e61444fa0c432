#include "scene/figure/hair.h"

#include "quantity/kept.h"
#include "quantity/units.h"
#include "scene/figure/clay.h"
#include "scene/surface/chance.h"
#include "scene/person/head.h"
#include "scene/person/kept_shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <utility>

namespace rushlight {

using namespace clay;

namespace {

float either_way(std::uint32_t i, std::uint32_t which) {
    return 2.0F * chance(i, which) - 1.0F;
}

/// The line on the head that it was drawn on.
float behind_hairline(const Vec3& p) {
    const float side = std::abs(p.y);
    // A plane that falls from the brow to the back, pushed up at the temples.
    const float over_brow = (p.x - 82) * -0.50F + (p.z - 68) * 0.866F - 7 * bell((side - 44) * (side - 44) / 256) +
                            3 * bell(side * side / 300);
    // The nape's line is highest behind the ears.
    const float nape = p.z + 84 - 0.35F * ramp(10, 60, side) * side;
    const float behind_ear = common(p.x + 30 - 0.25F * (p.z + 20), -nape, 16);
    const float sideburn = joined(joined(25 - p.x, p.x + 12, 10), p.z + 20, 8);
    return -joined(joined(-over_brow, behind_ear, 14), -sideburn, 16);
}

/// What distinguishes one cut from another, in millimetres.
struct Cut {
    std::uint32_t tried;  // roots all round the head, of which some half lie on the scalp
    float width;          // of a fibre
    float top, side;      // lengths
    float piece;          // between two points of a fibre
    float thick;          // of the whole on the head
    float rise;           // how steeply it leaves the skin, 0..1
    float back, across, down;
};

const Cut& cut_of(HairCut cut) {
    static const Cut cropped{94000, 0.38F, 11, 8, 4.2F, 8, 0.62F, 0.5F, 0.3F, 0.5F};
    static const Cut shorter{56000, 0.30F, 74, 30, 8, 17, 0.40F, 0.62F, 0.75F, 0.45F};
    static const Cut bob{40000, 0.36F, 225, 165, 13, 15, 0.25F, 0.42F, 0.80F, 0.9F};
    static const Cut loose{32000, 0.40F, 430, 400, 19, 14, 0.25F, 0.50F, 0.75F, 0.9F};
    static const Cut tied{76000, 0.47F, 240, 240, 12, 7, 0.12F, 1, 0, 0};
    switch (cut) {
        case HairCut::cropped:
            return cropped;
        case HairCut::shorter:
            return shorter;
        case HairCut::bob:
            return bob;
        case HairCut::loose:
            return loose;
        case HairCut::tied:
            break;
    }
    return tied;
}

/// What hair lies on: the head, with its ears or behind them, and shoulders with what is worn there.
float lain_on(const HeadField& head, const Vec3& p, bool over_ears) {
    return (over_ears && p.x < 30) || p.z < -130 ? head.all(p) : head.bare(p);
}

struct Ground {
    float distance;
    Vec3 out;
};
Ground ground_at(const HeadField& head, const Vec3& p, bool over_ears = true) {
    constexpr float h = 2;
    const auto distance = [&](const Vec3& q) { return lain_on(head, q, over_ears); };
    const float d = distance(p);
    const Vec3 slope(distance(p + Vec3(h, 0, 0)) - d, distance(p + Vec3(0, h, 0)) - d, distance(p + Vec3(0, 0, h)) - d);
    return {d, slope.length2() > 0 ? slope.normalized() : Vec3(0, 0, 1)};
}

/// Which way hair is combed at a point.
Vec3 combed(const Cut& cut, const Vec3& p, const Vec3& knot) {
    if (cut.across == 0) return (knot - p).normalized();
    constexpr float parting = 30;
    const float aside = std::clamp((p.y - parting) / 6, -1.0F, 1.0F);
    const float top = ramp(20, 95, p.z);
    // Off the brow: in front it goes back before it goes down; beside the face it keeps clear of it.
    const float front = ramp(10, 70, p.x);
    const Vec3 to_side(0, aside * cut.across * top, 0);
    const float beside_the_face = ramp(12, 45, p.x) * ramp(65, 25, p.z);
    const Vec3 backward(-cut.back * (0.35F + front) - 1.1F * beside_the_face, 0, 0);
    const Vec3 downward(0, 0, -cut.down * (1 - 0.85F * front * top) * (1.2F - 0.6F * top));
    return (to_side + backward + downward).normalized();
}

class Grower {
public:
    Grower(const Cut& cut, float wave, const OwnHead& head)
        : cut_(cut),
          wave_(wave),
          field_(head_field(head.of)),
          head_(*field_),
          line_(head),
          knot_(line_.back() - 4, 0, 28) {}

    Fibres grow() {
        fibres_.name = "hair";
        for (std::uint32_t i = 0; i < cut_.tried; ++i) {
            // Points of a golden spiral, each as often as its share of the scalp asks.
            const float z = 1.0F - (2.0F * static_cast<float>(i) + 1.0F) / static_cast<float>(cut_.tried);
            const double turns = 0.618033988749895 * i;
            const float turn = static_cast<float>(2 * pi * (turns - std::floor(turns)));
            const float r = std::sqrt(1 - z * z);
            const Vec3 out(r * std::cos(turn), r * std::sin(turn), z);
            if (out.z < -0.85F) continue;
            const auto root = root_along(out);
            if (!root) continue;
            const Ground g = ground_at(head_, *root, false);
            // Where the distance jumps there is no skin but the hole that an ear was taken from.
            if (std::abs(head_.bare(*root - g.out * rooted)) > 2) continue;
            const float reach = (*root - middle).length();
            const float wanted = reach * reach / std::max(out.dot(g.out), 0.35F) / 12000.0F;
            if (chance(i, 1) > wanted) continue;
            const float edge = line_.behind(*root) + 2.5F * either_way(i, 2);
            if (edge < 0) continue;
            grow_one(*root, g.out, edge, i);
        }
        if (cut_.across == 0) grow_tail();
        return std::move(fibres_);
    }

private:
    static inline const Vec3 middle{-9, 0, 15};
    static constexpr float rooted = 0.6F;  // mm under the skin

    std::optional<Vec3> root_along(const Vec3& out) const {
        float r = 128;
        for (int i = 0; i < 24; ++i) {
            const float d = head_.bare(middle + out * r);
            if (std::abs(d) < 0.08F) return middle + out * r;
            r -= 0.9F * d;
            if (r < 40 || r > 200) return std::nullopt;
        }
        return std::nullopt;
    }

    /// Hairs that grow together lie together: numbers that neighbours have in common.
    static std::uint32_t lock_of(const Vec3& root, float size) {
        const auto cell = [size](float x) { return static_cast<std::uint32_t>(std::lround(x / size + 64)); };
        return cell(root.x + 0.4F * root.z) * 16384U + cell(root.y) * 128U + cell(root.z - 0.3F * root.y);
    }

    void grow_one(const Vec3& root, const Vec3& out, float edge, std::uint32_t number) {
        const std::uint32_t lock = lock_of(root, 11), strand = lock_of(root, 4.5F);
        const float top = ramp(25, 80, root.z);
        float length = cut_.side + (cut_.top - cut_.side) * top;
        length *= (0.86F + 0.14F * chance(number, 3)) * (0.94F + 0.12F * chance(lock, 4));
        // The first hairs behind the hairline are short and lie close.
        const float full = ramp(-4, 22, edge);
        if (cut_.top < 100) length *= 0.5F + 0.5F * full;
        const float height = cut_.thick * (0.25F + 0.75F * full) * (0.45F + 0.55F * top) *
                             std::pow(chance(number, 5), 0.6F) * (0.82F + 0.36F * chance(lock, 6));
        const float swerve =
            0.16F * either_way(lock, 7) + 0.12F * either_way(strand, 8) + 0.10F * either_way(number, 9);

        Vec3 p = root - out * rooted, way;
        const Vec3 first = combed(cut_, root, knot_);
        way = ((first - out * first.dot(out)).normalized() * (1 - cut_.rise) + out * cut_.rise).normalized();
        const float phase = 2 * pi_f * (chance(lock, 10) + 0.25F * chance(strand, 11));
        begin();
        add(p);
        float gone = 0;
        while (gone < length && fibres_.points.size() - fibres_.roots.back() < most_points) {
            const float step = std::min(cut_.piece, length - gone);
            const Vec3 before = p;
            p += way * step;
            gone += step;
            const Ground g = ground_at(head_, p, cut_.across > 0);
            if (g.distance < 0.4F) p += g.out * (0.4F - g.distance);
            if (cut_.across == 0 && (p - knot_).length() < 24) {
                add(knot_ + (p - knot_) * 0.35F);
                break;
            }
            const bool on_the_face = p.x > 42 && p.z < 55 && g.distance < 14 && line_.behind(p) < -16;
            const bool astray = cut_.across == 0 && g.distance > 20 && (p - knot_).length() > 60;
            if (on_the_face || astray) break;
            add(waved(p, before, g.out, gone, phase));
            Vec3 next = combed(cut_, p, knot_);
            next = next * std::cos(swerve) + g.out.cross(next) * std::sin(swerve);
            const float target = height * (1 - std::exp(-gone / 18));
            float near = ramp(30, 8, g.distance - target);         // lies on something, or hangs
            if (g.distance > target) near *= ramp(-85, -15, p.z);  // under the ears nothing draws it in
            const float into = next.dot(g.out);
            if (cut_.top < 20) {
                next = next * 0.55F + g.out * 0.45F;  // too short to lie down
            } else {
                next -= g.out * (into * near);
                next += g.out * std::clamp((target - g.distance) / 14, -0.5F, 0.8F) * near;
                if (cut_.across > 0) next += Vec3(0, 0, -0.9F) * (1 - near);
            }
            const float stiff = std::exp(-step / 12);
            way = (way * stiff + next.normalized() * (1 - stiff)).normalized();
        }
        finish();
    }

    /// The tail behind the knot.
    void grow_tail() {
        const std::uint32_t hairs = 1500;
        for (std::uint32_t i = 0; i < hairs; ++i) {
            const std::uint32_t n = i + 1000000;
            const float r = 13 * std::sqrt(chance(n, 1)), turn = 2 * pi_f * chance(n, 2);
            const Vec3 start = knot_ + Vec3(-2, r * std::cos(turn), r * std::sin(turn));
            const float length = 190 * (0.7F + 0.3F * chance(n, 3));
            const Vec3 fan(-1.0F - 0.02F * r * std::sin(turn), 0.05F * r * std::cos(turn) * 1.2F, 0.1F);
            Vec3 p = start, way = fan.normalized();
            begin();
            add(p);
            for (float gone = 0; gone < length;) {
                const Vec3 before = p;
                p += way * cut_.piece;
                gone += cut_.piece;
                Ground g = ground_at(head_, p);
                if (g.distance < 3) p += g.out * (3 - g.distance);
                add(waved(p, before, g.out, gone, 2 * pi_f * chance(i / 60, 4)));
                const Vec3 spread(-0.05F, 0.012F * r * std::cos(turn), -1);
                way = (way * 0.72F + spread * 0.28F + 0.03F * Vec3(either_way(n, 5), either_way(n, 6), 0)).normalized();
            }
            finish();
        }
    }

    Vec3 waved(const Vec3& p, const Vec3& before, const Vec3& out, float gone, float phase) const {
        if (!(wave_ > 0) || cut_.top < 20) return p;
        const Vec3 along = (p - before).normalized();
        Vec3 side = along.cross(out);
        side = side.length2() > 1e-6F ? side.normalized() : Vec3(0, 1, 0);
        const float turn = 2 * pi_f * gone / wavelength() + phase;
        const float much = wave_ * ramp(5, 70, gone) * (cut_.top < 100 ? 4.0F : 9.0F);
        return p + (side * std::sin(turn) + out * (0.5F + 0.5F * std::cos(turn)) * 0.7F) * much;
    }
    float wavelength() const { return std::max(cut_.top < 100 ? 45.0F : 85.0F - 35.0F * wave_, 4 * cut_.piece); }

    void begin() { fibres_.roots.push_back(static_cast<std::uint32_t>(fibres_.points.size())); }
    void add(const Vec3& p) { fibres_.points.push_back(p); }
    /// Thinner to the tip; a hair that did not get anywhere is dropped.
    void finish() {
        const std::size_t root = fibres_.roots.back(), count = fibres_.points.size() - root;
        if (count < 2) {
            fibres_.points.resize(root);
            fibres_.roots.pop_back();
            return;
        }
        for (std::size_t i = 0; i < count; ++i) {
            const float t = static_cast<float>(i) / static_cast<float>(count - 1);
            fibres_.radii.push_back(0.5F * cut_.width * (1 - 0.55F * t * t * t));
        }
    }

    static constexpr std::size_t most_points = 32;
    const Cut& cut_;
    float wave_;
    std::shared_ptr<const HeadField> field_;
    const HeadField& head_;
    Hairline line_;
    Vec3 knot_;  // where tied hair comes together
    Fibres fibres_;
};

/// A short stiff hair of three points that bends from one way into another.
void add_bristle(Fibres& f, const Vec3& root, const Vec3& way, const Vec3& bend, float length, float width) {
    f.roots.push_back(static_cast<std::uint32_t>(f.points.size()));
    for (const float t : {0.0F, 0.5F, 1.0F}) {
        f.points.push_back(root + way * (length * t) + bend * (length * t * t));
        f.radii.push_back(0.5F * width * (1 - 0.7F * t));
    }
}

/// Brows grow all over the sheets that lie on them: up at the nose, then along the bone.
void grow_brows(Fibres& f, const OwnHead& head, const HeadField& field) {
    const auto& faces = body_data().fitted.find("brows")->second.faces;
    std::array<float, 2> inner{1e9F, 1e9F}, outer{0, 0};
    const auto side_of = [](const Vec3& p) { return p.y > 0 ? 0U : 1U; };
    for (const Vec3& p : head.brows) {
        inner.at(side_of(p)) = std::min(inner.at(side_of(p)), std::abs(p.y));
        outer.at(side_of(p)) = std::max(outer.at(side_of(p)), std::abs(p.y));
    }
    std::vector<float> sum{0};
    for (std::size_t q = 0; q + 3 < faces.size(); q += 4) {
        const Vec3 a = head.brows[faces[q]], b = head.brows[faces[q + 1]], c = head.brows[faces[q + 2]];
        sum.push_back(sum.back() + (b - a).cross(c - b).length());
    }
    constexpr std::uint32_t hairs = 900;
    for (std::uint32_t i = 0; i < hairs; ++i) {
        const auto face = static_cast<std::size_t>(
            std::upper_bound(sum.begin() + 1, sum.end() - 1, chance(i, 20) * sum.back()) - sum.begin() - 1);
        const float u = chance(i, 21), v = chance(i, 22);
        const auto corner = [&](std::size_t k) { return head.brows[faces[4 * face + k]]; };
        const Vec3 low = corner(0) + (corner(1) - corner(0)) * u, high = corner(3) + (corner(2) - corner(3)) * u;
        Vec3 at = low + (high - low) * v;
        const std::size_t side = side_of(at);
        const float along = (std::abs(at.y) - inner.at(side)) / std::max(1.0F, outer.at(side) - inner.at(side));
        if (chance(i, 24) > 1.1F - 0.7F * along * along) continue;  // thinner to the temple
        const Ground g = ground_at(field, at, false);
        at -= g.out * (g.distance + 0.2F);
        const float left = at.y > 0 ? 1.0F : -1.0F;
        Vec3 way(0.05F, left * (0.25F + 0.9F * along), 0.85F - 1.15F * along + 0.25F * either_way(i, 25));
        way = (way - g.out * way.dot(g.out)).normalized() + g.out * 0.22F;
        const Vec3 bend(0, left * 0.2F, -0.12F * (1 + along));
        add_bristle(f, at, way.normalized(), bend, 7.0F * (0.6F + 0.4F * chance(i, 23)), 0.14F);
    }
}

/// Lashes stand on the lids' edges, from the nearer rim of their sheets to the farther.
void grow_lashes(Fibres& f, const OwnHead& head) {
    const auto& faces = body_data().fitted.find("lashes")->second.faces;
    for (std::uint32_t q = 0; q + 3 < faces.size(); q += 4) {
        std::array<Vec3, 4> c;
        for (std::size_t k = 0; k < 4; ++k) c.at(k) = head.lashes[faces[q + k]];
        const Vec3& eye = head.eyes[c[0].y > 0 ? 0 : 1];
        const auto off = [&](const Vec3& a, const Vec3& b) { return ((a + b) * 0.5F - eye).length(); };
        // Which of the four edges is nearest to the eyeball.
        std::size_t root = 0;
        for (std::size_t k = 1; k < 4; ++k)
            if (off(c.at(k), c.at((k + 1) % 4)) < off(c.at(root), c.at((root + 1) % 4))) root = k;
        if (off(c.at(root), c.at((root + 1) % 4)) > head.eye_radius * 1.32F) continue;
        const Vec3 a = c.at(root), b = c.at((root + 1) % 4), over_b = c.at((root + 2) % 4),
                   over_a = c.at((root + 3) % 4);
        const bool upper = (a + b).z > 2 * eye.z;
        const std::uint32_t hairs = upper ? 3 : 1;
        for (std::uint32_t i = 0; i < hairs; ++i) {
            const float t = (static_cast<float>(i) + chance(q + i, 30)) / static_cast<float>(hairs);
            const Vec3 at = a + (b - a) * t, tip = over_a + (over_b - over_a) * t;
            const Vec3 way = (tip - at).normalized();
            add_bristle(f, at, way, Vec3(-0.1F, 0, upper ? 0.45F : -0.2F),
                        (upper ? 6.5F : 3.0F) * (0.8F + 0.2F * chance(q + i, 31)), upper ? 0.12F : 0.08F);
        }
    }
}

}  // namespace

Hairline::Hairline(const OwnHead& head) {
    // Three lengths of this head over those of the head that the line was drawn on.
    float front = 0, half = 0;
    for (const Vec3& p : head.skin.positions) {
        if (std::abs(p.y) < 12 && p.z > 40 && p.z < 70) front = std::max(front, p.x);
        if (p.z > 25 && std::abs(p.x) < 40) half = std::max(half, std::abs(p.y));
        if (p.z > 0) back_ = std::min(back_, p.x);
    }
    front_ = front / 86.0F;
    width_ = half / 75.0F;
}

float Hairline::behind(const Vec3& p) const {
    return behind_hairline({p.x > 0 ? p.x / front_ : p.x * -99 / back_, p.y / width_, p.z});
}

Fibres grow_hair(HairCut cut, double wave, const OwnHead& head) {
    return Grower(cut_of(cut), static_cast<float>(std::clamp(wave, 0.0, 1.0)), head).grow();
}

std::shared_ptr<const GrownHair> grown_hair(HairCut cut, double wave, const std::shared_ptr<const OwnHead>& head) {
    static DerivedFrom<OwnHead, GrownHair, std::pair<HairCut, int>> grown;
    const int tenths = static_cast<int>(std::lround(10 * std::clamp(wave, 0.0, 1.0)));
    return grown.get(head,
                     [&] {
                         auto hair = std::make_shared<GrownHair>();
                         hair->fibres = kept_fibres(Content() << "hair" << head->of << cut << tenths,
                                                    [&] { return grow_hair(cut, tenths / 10.0, *head); });
                         for (const Vec3& p : hair->fibres.points)
                             if (p.z > -90) hair->reach = std::max(hair->reach, (p - head_centre).length());
                         return hair;
                     },
                     {cut, tenths});
}

std::shared_ptr<const Fibres> brows_and_lashes(const std::shared_ptr<const OwnHead>& head) {
    static DerivedFrom<OwnHead, Fibres> grown;
    return grown.get(head, [&] {
        return std::make_shared<const Fibres>(kept_fibres(Content() << "brows and lashes" << head->of, [&] {
            Fibres f;
            f.name = "brows and lashes";
            grow_brows(f, *head, *head_field(head->of));
            grow_lashes(f, *head);
            return f;
        }));
    });
}

}  // namespace rushlight
