// A file that is read as a whole, before anybody looks at what is in it.
#pragma once

#include <cstddef>
#include <string>

namespace rushlight {

/// Why `path` is no plain file that can be read: "there is no such file", "this is a folder"; "" when it is one.
std::string trouble_with_file(const std::string& path);
inline constexpr const char* no_such_file = "there is no such file";

/// Bytes of the plain file `path`, which is an input of this run from now on (inputs.h). Throws InputError as
/// whole_file() does, without reading anything.
std::size_t file_size_within(const std::string& path, std::size_t most, const std::string& expected);

/// All bytes of a plain file. Throws InputError for what is not there, is a folder, pipe or device, cannot be read or
/// has more than `most` bytes; `expected` names what belongs there: "a set-up file".
std::string whole_file(const std::string& path, std::size_t most, const std::string& expected);

}  // namespace rushlight
