// Light as it is kept: every lamp at full and without its gel, so that no level and no gel asks for tracing again.
#pragma once

#include "setup/plain/setup.h"

#include <string>

namespace rushlight::desk {

/// The set-up with all lamps on, at full, without gels.
Setup at_full(Setup setup);
/// Fingerprint of everything that its light depends on; cameras and meters do not count.
std::string light_fingerprint(const Setup& at_full);

}  // namespace rushlight::desk
