#include "scene/person/mix.h"

#include "scene/surface/chance.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace rushlight {

namespace {

/// About a bell curve of spread 1, cut off at 1.7.
float leaning(std::uint32_t i, std::uint32_t which) {
    const float sum = chance(i, 3 * which) + chance(i, 3 * which + 1) + chance(i, 3 * which + 2);
    return std::clamp(2 * (sum - 1.5F), -1.7F, 1.7F);
}

/// Two targets that pull apart, and how far a face may go along them: faces of people, not caricatures.
struct Trait {
    const char *less, *more;
    float much;
};
constexpr std::array traits{
    Trait{"head-fat-decr", "head-fat-incr", 0.09F},
    Trait{"head-scale-horiz-decr", "head-scale-horiz-incr", 0.09F},
    Trait{"head-scale-vert-decr", "head-scale-vert-incr", 0.09F},
    Trait{"head-back-scale-depth-decr", "head-back-scale-depth-incr", 0.09F},
    Trait{"head-oval", "head-rectangular", 0.07F},
    Trait{"head-round", "head-square", 0.04F},
    Trait{"head-triangular", "head-invertedtriangular", 0.06F},
    Trait{"forehead-scale-vert-decr", "forehead-scale-vert-incr", 0.12F},
    Trait{"forehead-nubian-decr", "forehead-nubian-incr", 0.12F},
    Trait{"forehead-temple-decr", "forehead-temple-incr", 0.12F},
    Trait{"chin-bones-decr", "chin-bones-incr", 0.20F},
    Trait{"chin-height-decr", "chin-height-incr", 0.16F},
    Trait{"chin-width-decr", "chin-width-incr", 0.20F},
    Trait{"chin-prominent-decr", "chin-prominent-incr", 0.20F},
    Trait{"chin-prognathism-decr", "chin-prognathism-incr", 0.10F},
    Trait{"nose-scale-depth-decr", "nose-scale-depth-incr", 0.22F},
    Trait{"nose-scale-horiz-decr", "nose-scale-horiz-incr", 0.22F},
    Trait{"nose-scale-vert-decr", "nose-scale-vert-incr", 0.20F},
    Trait{"nose-hump-decr", "nose-hump-incr", 0.28F},
    Trait{"nose-curve-concave", "nose-curve-convex", 0.28F},
    Trait{"nose-point-down", "nose-point-up", 0.24F},
    Trait{"nose-base-down", "nose-base-up", 0.20F},
    Trait{"nose-volume-decr", "nose-volume-incr", 0.20F},
    Trait{"nose-width1-decr", "nose-width1-incr", 0.24F},
    Trait{"nose-width2-decr", "nose-width2-incr", 0.24F},
    Trait{"nose-point-width-decr", "nose-point-width-incr", 0.24F},
    Trait{"mouth-scale-horiz-decr", "mouth-scale-horiz-incr", 0.20F},
    Trait{"mouth-upperlip-volume-decr", "mouth-upperlip-volume-incr", 0.24F},
    Trait{"mouth-lowerlip-volume-decr", "mouth-lowerlip-volume-incr", 0.24F},
    Trait{"mouth-upperlip-height-decr", "mouth-upperlip-height-incr", 0.20F},
    Trait{"mouth-lowerlip-height-decr", "mouth-lowerlip-height-incr", 0.20F},
    Trait{"mouth-angles-down", "mouth-angles-up", 0.18F},
    Trait{"mouth-philtrum-volume-decr", "mouth-philtrum-volume-incr", 0.24F},
    Trait{"eyebrows-angle-down", "eyebrows-angle-up", 0.24F},
    Trait{"?-cheek-bones-decr", "?-cheek-bones-incr", 0.28F},
    Trait{"?-cheek-volume-decr", "?-cheek-volume-incr", 0.22F},
    Trait{"?-cheek-inner-decr", "?-cheek-inner-incr", 0.20F},
    Trait{"?-eye-corner1-down", "?-eye-corner1-up", 0.20F},
    Trait{"?-eye-corner2-down", "?-eye-corner2-up", 0.20F},
    Trait{"?-eye-eyefold-concave", "?-eye-eyefold-convex", 0.24F},
    Trait{"?-eye-eyefold-down", "?-eye-eyefold-up", 0.24F},
    Trait{"?-eye-height2-decr", "?-eye-height2-incr", 0.16F},
    Trait{"?-eye-push1-in", "?-eye-push1-out", 0.16F},
    Trait{"?-ear-scale-decr", "?-ear-scale-incr", 0.20F},
    Trait{"?-ear-wing-decr", "?-ear-wing-incr", 0.24F},
    Trait{"?-ear-lobe-decr", "?-ear-lobe-incr", 0.28F},
    Trait{"?-ear-rot-backward", "?-ear-rot-forward", 0.20F},
};

void add_both_sides(Points& shape, std::string name, float share) {
    if (name[0] != '?') return add_target(shape, name, share);
    for (const char side : {'l', 'r'}) {
        name[0] = side;
        add_target(shape, name, share);
    }
}

void add_expression(Points& shape, Expression e) {
    const auto face = [&](const char* name, float share) { add_target(shape, "face " + std::string(name), share); };
    const auto both = [&](const std::string& before, const std::string& after, float share) {
        for (const char* side : {"left", "right"}) add_target(shape, "face " + before + side + after, share);
    };
    // The body at rest looks half asleep: an open eye's upper lid leaves the pupil free and covers a millimetre or two
    // of the iris (any text on portrait drawing).
    if (e != Expression::closed) both("eye-", "-closure", -0.14F);
    switch (e) {
        case Expression::neutral:
            return;
        case Expression::listening:
            both("eyebrows-", "-inner-up", 0.45F);
            both("eyebrows-", "-up", 0.30F);
            return face("mouth-corner-puller", 0.20F);
        case Expression::smiling:
            face("mouth-corner-puller", 0.65F);
            face("mouth-upward-retraction", 0.12F);
            return both("eye-", "-slit", 0.40F);
        case Expression::worried:
            both("eyebrows-", "-inner-up", 0.80F);
            both("eyebrows-", "-down", 0.35F);
            both("eye-", "-slit", 0.15F);
            return face("mouth-depression", 0.30F);
        case Expression::closed:
            return both("eye-", "-closure", 1);
    }
}

}  // namespace

/// Skin says a little of where the shape comes from; a face's number says the rest, and nobody is all of one.
Looks looks_of(const StandIn& person) {
    Looks l;
    const auto number = static_cast<std::uint32_t>(person.face);
    l.woman = person.sex == Sex::woman ? 0.97F : 0.04F;
    l.age = static_cast<float>(person.age);
    l.weight = person.build == Physique::slim     ? -0.55F
               : person.build == Physique::sturdy ? 0.32F
               : person.build == Physique::heavy  ? 0.75F
                                                  : -0.08F;
    const float deep = std::clamp((0.28F - static_cast<float>(person.skin)) / 0.20F, 0.0F, 1.0F);
    const float african = 0.06F + 0.66F * deep * deep;
    const float asian = (1 - african) * (0.08F + 0.42F * chance(number, 901));
    l.roots = {african, asian, 1 - african - asian};
    l.face = number;
    l.expression = person.expression;
    return l;
}

Points mixed_body(const Looks& looks) {
    Points shape = body_data().base;
    // The shapes given are of 10, 25 and 90 years; what is younger is a child of ten, made smaller elsewhere.
    constexpr float child_until = 10, young = 25, old = 90;
    const float aged = std::clamp((looks.age - young) / (old - young), 0.0F, 1.0F);
    const float childlike = std::clamp((young - looks.age) / (young - child_until), 0.0F, 1.0F);
    const std::array<std::pair<const char*, float>, 3> ages{
        {{"child", childlike}, {"young", (1 - aged) * (1 - childlike)}, {"old", aged}}};
    const std::array<std::pair<const char*, float>, 2> sexes{{{"female", looks.woman}, {"male", 1 - looks.woman}}};
    const std::array<const char*, 3> roots{"african", "asian", "caucasian"};
    for (const auto& [sex, of_sex] : sexes)
        for (const auto& [age, of_age] : ages) {
            for (std::size_t r = 0; r < roots.size(); ++r)
                add_target(shape, std::string(roots.at(r)) + "-" + sex + "-" + age,
                           of_sex * of_age * looks.roots.at(r));
            const char* grown = std::string(age) == "old" ? "old" : "young";
            add_target(shape,
                       std::string("universal-") + sex + "-" + grown + "-averagemuscle-" +
                           (looks.weight < 0 ? "minweight" : "maxweight"),
                       of_sex * of_age * std::abs(looks.weight));
        }
    // A child's face is still to be formed.
    const float formed = 1 - 0.6F * childlike;
    for (std::uint32_t i = 0; i < traits.size(); ++i) {
        const Trait& t = traits.at(i);
        const float share = formed * t.much * leaning(looks.face, i);
        add_both_sides(shape, share < 0 ? t.less : t.more, std::abs(share));
    }
    add_target(shape, "head-age-incr", 0.5F * std::clamp((looks.age - 40) / 50, 0.0F, 1.0F));
    add_expression(shape, looks.expression);
    return shape;
}

}  // namespace rushlight
