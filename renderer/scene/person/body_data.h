// The open human body that every figure is mixed from: one mesh of a person, offsets that make it older, heavier, a
// woman, a man or somebody else, the bones that carry it, and clothes that hang on it. Public domain (CC0 1.0);
// docs/people.md names the source, tools/pack_people makes the file.
#pragma once

#include "quantity/space.h"

#include <array>
#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <vector>

namespace rushlight {

/// Offsets of some or all corners of the body.
struct ShapeTarget {
    std::span<const std::uint16_t> at;  // which corners; empty: all of them
    std::span<const std::int16_t> off;  // three a corner
    float scale = 0;                    // m a step
};

struct BoneAtRest {
    std::string name;
    int parent = -1;                  // a bone before it; -1: none
    std::vector<std::uint16_t> head;  // corners whose mean is where it begins
};

/// What is worn over the body or grows on it: each corner hangs on three of the body's.
struct Fitted {
    std::span<const std::uint16_t> faces;  // four corners each; a triangle repeats its last
    std::span<const std::uint8_t> part;    // one a face: 0 the thing itself, 1 the shirt under it
    std::span<const std::uint16_t> on;     // three corners of the body for each of its own
    std::span<const std::int16_t> weights, off;
    float weight_scale = 0, off_scale = 0;
    std::array<std::array<std::uint16_t, 2>, 3> measured{};  // by these pairs of corners its offsets grow, x, y, z
    std::array<float, 3> over{1, 1, 1};                      // their distance at the size it was made for, m
    std::span<const std::uint16_t> hides;                    // corners of the body that nobody sees under it

    std::size_t count() const { return on.size() / 3; }
};

using Points = std::vector<Vec3>;
using Quad = std::array<std::uint32_t, 4>;

/// Metres; x to the front, y to the person's left, z up.
struct BodyData {
    Points base;
    std::vector<Quad> skin;  // closed but for the sockets of the eyes
    std::array<std::vector<std::uint16_t>, 2> eyes;
    std::map<std::string, ShapeTarget, std::less<>> targets;
    std::map<std::string, Fitted, std::less<>> fitted;
    std::vector<BoneAtRest> bones;  // parents first
    struct Carried {
        std::array<std::uint8_t, 4> bone, much;  // sums to about 255
    };
    std::vector<Carried> carried;

    int bone(std::string_view name) const;
};
const BodyData& body_data();

/// The mean of some corners of a body.
Vec3 mean_of(const Points& shape, const std::vector<std::uint16_t>& corners);

/// Moves `shape` by `share` of a target. A name that is not there is a mistake in the program.
void add_target(Points& shape, std::string_view name, float share);

/// The corners of what is worn on a body of this shape. `sized`: the body before it was posed, for a bent arm is not a
/// shorter one.
Points fitted_on(const Fitted& thing, const Points& body, const Points& sized);

}  // namespace rushlight
