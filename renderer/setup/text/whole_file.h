// A file that is read as a whole, before anybody looks at what is in it.
#pragma once

#include <cstddef>
#include <string>

namespace rushlight {

/// All bytes of a plain file. Throws InputError for what is not there, is a folder, cannot be read or has more than
/// `most` bytes; `expected` names what belongs there: "a set-up file".
std::string whole_file(const std::string& path, std::size_t most, const std::string& expected);

}  // namespace rushlight
