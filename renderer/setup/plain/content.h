// The content that a set-up's layers depend on, as bytes to be fingerprinted: everything that is traced. Levels and
// gels are left out, because they are put on the layers afterwards; of every lamp it only counts whether it burns at
// all.
#pragma once

#include "quantity/content.h"
#include "setup/plain/setup.h"

namespace rushlight {

/// Adds place, day, people, lamps and panels. Cameras and meters are not in it: whoever measures adds its own points.
/// A struct that gets a field more stops this from compiling until it is said here whether the light depends on it.
void add_content(Content& content, const Setup& setup);
void add_content(Content& content, const Finish& finish);
void add_content(Content& content, const OpeningPatch& opening);

}  // namespace rushlight
