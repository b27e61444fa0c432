// Small pictures of measured points over exact curves, for the validation page.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace rushlight::validation {

struct Plot {
    std::string file, caption;
};

/// Measures what they show, writes them as PNG, tells what they are.
std::vector<Plot> write_plots(const std::filesystem::path& folder);

}  // namespace rushlight::validation
