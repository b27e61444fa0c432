// All that is wrong with a set-up file, instead of the first thing only.
#pragma once

#include "setup/text/where.h"

#include <toml++/toml.h>

#include <functional>
#include <string>

namespace rushlight {

/// Reads the file again and again, each time without the value that was refused last, and gathers what is said: one
/// line an error, in the order of the file. `first` is what the file was refused with; `read` reads a tree and throws
/// the next InputError. What is only wrong because something was left out is not told. Stops where a value cannot be
/// left out, after twenty errors, or after half a second.
InputError every_error(const std::string& text, const std::string& path, const InputError& first,
                       const std::function<void(toml::table root)>& read);

}  // namespace rushlight
