#include "setup/model/material_file.h"

#include "setup/model/lines.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <optional>

namespace rushlight {

namespace {

/// The shares after Kd; nothing where they are no numbers, such as a spectrum in a file of its own.
std::optional<std::array<float, 3>> shares_of(std::string_view line, std::size_t at) {
    std::array<float, 3> shares{};
    for (std::size_t i = 0; i < 3; ++i) {
        const std::string_view word = next_word(line, at).text;
        if (i == 1 && word.empty()) {  // one number stands for all three
            shares[1] = shares[2] = shares[0];
            break;
        }
        float share = 0;
        const auto [end, problem] = std::from_chars(word.data(), word.data() + word.size(), share);
        if (problem != std::errc{} || end != word.data() + word.size() || !std::isfinite(share)) return std::nullopt;
        shares[i] = std::clamp(share, 0.0F, 1.0F);
    }
    return shares;
}

}  // namespace

void read_materials(const std::string& path, const Patience& patience, const TakeColour& take) {
    std::filebuf file;
    if (file.open(path, std::ios::in | std::ios::binary) == nullptr) return;
    std::string name;
    CheckedLines lines(file, path, [&](std::string_view line, int number) {
        patience.look(static_cast<std::size_t>(number));
        std::size_t at = 0;
        const std::string_view keyword = next_word(line, at).text;
        if (keyword == "newmtl") {
            name = trimmed(line.substr(at));
        } else if (keyword == "Kd" && !name.empty()) {
            if (const auto shares = shares_of(line, at)) take(name, *shares);
        }
        return false;
    });
    lines.finish();
}

}  // namespace rushlight
