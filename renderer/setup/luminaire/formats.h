// The two formats: each turns text into the file's own grid and unfolds it.
#pragma once

#include "setup/luminaire/luminaire.h"
#include "setup/text/photometric_text.h"

namespace rushlight {

/// ANSI/IES LM-63, editions 1986 to 2019.
Luminaire read_lm63(const PhotometricText& text);
/// The line that the numbers follow, "TILT=...", or nothing: what tells this format.
std::optional<std::size_t> tilt_line(const PhotometricText& text);

/// EULUMDAT, the format of 1990 with one value a line.
Luminaire read_eulumdat(const PhotometricText& text);

/// "line 12: sentence".
std::string at_line(std::size_t line, const std::string& sentence);
/// Negative intensities are made dark, with a remark; refuses a table without any light.
void settle_intensities(std::vector<double>& candela, const PhotometricText& text, std::size_t first_line,
                        std::vector<std::string>& remarks);
/// Refuses a list that does not rise.
void check_rising(const std::vector<double>& angles, const char* which, const PhotometricText& text, std::size_t line);

}  // namespace rushlight
