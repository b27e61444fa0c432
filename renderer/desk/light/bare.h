// Light as it is kept: every lamp at full and without its gel, so that no level and no gel asks for tracing again.
#pragma once

#include "setup/plain/setup.h"

#include <string>

namespace rushlight::desk {

/// The set-up with all lamps on, at full, ungelled.
Setup bare(Setup setup);
/// Fingerprint of what its light hangs on; cameras and meters do not count.
std::string light_key(const Setup& bare);

}  // namespace rushlight::desk
