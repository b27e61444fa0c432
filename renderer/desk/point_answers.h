// Answers about a point that somebody pointed at: a meter's reading, and the meter's view.
#pragma once

#include "desk/answer.h"
#include "desk/light/live_light.h"

namespace rushlight::desk {

/// {at: {frame: [u, v]} | {plan: [x, y], height}} -> {where, at, lux, error, sources, luminance, over_grey}.
JsonValue reading_at(const LiveLight::Lit& lit, const JsonValue& asked);
/// The sphere of light that a reading's meter sees, by the reading's name, as a PNG.
Answer sphere_of_light(const LiveLight::Lit& lit, const std::string& reading);

}  // namespace rushlight::desk
