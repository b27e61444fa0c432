// A lamp as a photometric file describes it: LM-63 (all editions from 1986 to 2019) or EULUMDAT.
// How broken files are met: docs/luminaire-files.md.
#pragma once

#include "setup/luminaire/intensity_table.h"

#include <string>
#include <utility>
#include <vector>

namespace rushlight {

/// The opening that light leaves by. All zero: the file gives none, and the lamp is a point.
struct LuminousOpening {
    bool round = false;  // then length and width are the diameter
    double length = 0;   // m, across
    double width = 0;    // m, up
    double depth = 0;    // m, along the aim, where it shines sideways too

    bool given() const { return length > 0 || width > 0; }
};

struct Luminaire {
    std::string format;        // "LM-63-2002, type C"
    IntensityTable intensity;  // at full, burning straight down
    LuminousOpening opening;
    double lamp_lumens = 0;                       // of the bare lamps as the file says; 0: not told
    double watts = 0;                             // 0: not told
    std::vector<std::pair<double, double>> tilt;  // degrees off straight down, share of the light
    std::string colour;                           // as the file words it; may be empty
    std::vector<std::string> remarks;             // what was guessed or looks odd, each with its line

    // Found from the table.
    double lumens = 0;
    struct Width {
        double along = 0, across = 0;  // degrees, in the planes of the length and of the width of the opening
        double wider() const { return along > across ? along : across; }
    };
    Width beam, field;         // full widths at 50 % and 10 % of the peak
    bool shines_back = false;  // more than a thousandth of the peak behind the plane of the opening

    /// Share of the light left when the aim is `degrees` off straight down: 1 unless the file has a tilt table.
    double tilt_share(double degrees) const;
};

inline constexpr std::size_t largest_luminaire_file = 4'000'000;  // bytes

/// Throws InputError("file:line:column: found ..., expected ...").
Luminaire read_luminaire(const std::string& path);
/// The same from text. A tilt table in a file of its own is looked for beside `path`.
Luminaire luminaire_from_text(const std::string& text, const std::string& path);

}  // namespace rushlight
