// Light as it is kept: every lamp at full and without its gel, so that no level and no gel asks for tracing again.
#pragma once

#include "setup/setup.h"

#include <string>
#include <vector>

namespace rushlight::desk {

/// The set-up with all lamps on, at full, ungelled.
Setup bare(Setup setup);
/// Fingerprint of what its light hangs on; cameras and meters do not count.
std::string light_key(const Setup& bare);

/// What the scout's readings hang on: they were taken with nobody on the marks and nothing put up.
std::string scales_key(Setup setup);

/// A lamp's part in the light, source by source: what it gives now of what it gives bare. 1 for sun and sky.
std::vector<Spectrum> now_of_bare(const Setup& setup, const std::vector<std::string>& sources);

}  // namespace rushlight::desk
