// A PNG file (ISO/IEC 15948) looked through before the library gets it: the library prints what it does not like.
#pragma once

#include <string>

namespace rushlight {

bool is_png(const std::string& bytes);

/// The same picture with the chunks alone that its pixels are made of. `trouble` says what is wrong where it is cut off
/// or damaged, and is "" elsewhere.
std::string plain_png(const std::string& bytes, std::string& trouble);

}  // namespace rushlight
