#include "desk/document/told.h"

#include <cctype>

namespace rushlight::desk {

namespace {

/// Whether a path may begin behind this letter.
bool begins_a_path(char before) {
    return std::isalnum(static_cast<unsigned char>(before)) == 0 && before != '/' && before != '.' && before != '_' &&
           before != '-';
}

void replace_paths(std::string& line, const std::string& folder, const std::string& by) {
    for (std::size_t at = 0; (at = line.find(folder, at)) != std::string::npos;) {
        if (at > 0 && !begins_a_path(line[at - 1])) {
            at += folder.size();
            continue;
        }
        line.replace(at, folder.size(), by);
        at += by.size();
    }
}

}  // namespace

std::string told_from(const std::filesystem::path& folder, const std::string& line) {
    std::string told = line, up;
    for (std::filesystem::path at = folder; at.has_relative_path(); at = at.parent_path(), up += "../") {
        replace_paths(told, at.string() + "/", up);
        replace_paths(told, "'" + at.string() + "'", up.empty() ? "'.'" : "'" + up.substr(0, up.size() - 1) + "'");
    }
    return told;
}

}  // namespace rushlight::desk
