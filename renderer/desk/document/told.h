// What pages are told of paths.
#pragma once

#include <filesystem>
#include <string>

namespace rushlight::desk {

/// `line` with every path as it is seen from `folder`, an absolute one: "place.toml" for "/a/b/place.toml" and
/// "../x.obj" for "/a/x.obj", where `folder` is /a/b. A page may be looked at from another machine, and this one's
/// folders are nobody's business there.
std::string told_from(const std::filesystem::path& folder, const std::string& line);

}  // namespace rushlight::desk
