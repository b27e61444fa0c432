// Sixteen bands against finer tables: whites, colour temperatures, adaptation, surfaces.
#include "quantity/colour.h"
#include "quantity/spectral_table.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

const std::string section = "Colour";
// The smallest difference seen side by side is about .002 in x, y (from memory); a fifth of that is allowed.
constexpr double band_tolerance = 0.0004;

Tristimulus from_uv(double u, double v) {
    const double sum = 6 / v, x = u * sum / 4;
    return {x, 1.0, (sum - x - 15) / 3};
}

void chromaticity_rows(Cases& all, const std::string& id, const std::string& what, const std::string& source,
                       const Spectrum& light, double x, double y) {
    all.push_back({id + "x", section, what + ": x", source, x, "", 0,
                   sure([=] { return chromaticity(tristimulus(light)).x; }), band_tolerance});
    all.push_back({id + "y", section, what + ": y", source, y, "", 0,
                   sure([=] { return chromaticity(tristimulus(light)).y; }), band_tolerance});
}

void whites(Cases& all) {
    for (const auto& [k, x, y] : std::array<std::array<double, 3>, 6>{{{2700, .45986, .41061},
                                                                       {2856, .44754, .40744},
                                                                       {3200, .42337, .39896},
                                                                       {4300, .36812, .36871},
                                                                       {5600, .33021, .33912},
                                                                       {6500, .31355, .32367}}}) {
        const std::string kelvins = std::to_string(static_cast<int>(k));
        chromaticity_rows(all, "5.1-" + kelvins, "black body of " + kelvins + " K",
                          "Planck, c2 .014388, 5 nm sums over CIE 1931", blackbody(Kelvin{k}), x, y);
    }
    struct White {
        const char* name;
        Spectrum light;
        double x, y, cct, duv;
    };
    const auto d = [](double nominal) { return daylight(Kelvin{nominal * 1.4388 / 1.4380}); };
    const White rows[] = {{"A", blackbody(Kelvin{2855.5}), .44758, .40745, 2855.5, 0},
                          {"D50", d(5000), .34567, .35851, 5002.2, .0032},
                          {"D55", d(5500), .33243, .34744, 5503.1, .0033},
                          {"D65", d(6500), .31272, .32903, 6504.4, .0032},
                          {"E", equal_energy(), 1.0 / 3, 1.0 / 3, 5456.0, -.0044}};
    for (const White& w : rows) {
        const std::string id = std::string("5.2-") + w.name, what = std::string("illuminant ") + w.name;
        chromaticity_rows(all, id, what, "CIE 15 (from memory)", w.light, w.x, w.y);
        const auto found = [=] { return colour_temperature(tristimulus(w.light)); };
        all.push_back({id + "k", section, what + ": colour temperature", "nearest point by search on a 5 nm locus",
                       w.cct, "K", 0.002, sure([=] { return found().cct.value; })});
        all.push_back({id + "d", section, what + ": Duv", "the same; sign of ANSI C78.377", w.duv, "", 0,
                       sure([=] { return found().duv; }), 1e-4});
    }
    const std::string ohno = "documented case of an open colour library, Ohno 2014";
    all.push_back({"5.3-1", section, "u .1978, v .3122: colour temperature", ohno, 6507.43, "K", 0,
                   sure([] { return colour_temperature(from_uv(.1978, .3122)).cct.value; }), 5});
    all.push_back({"5.3-2", section, "u .1978, v .3122: Duv", ohno, .00322369, "", 0,
                   sure([] { return colour_temperature(from_uv(.1978, .3122)).duv; }), 1e-4});
    double y_sum = 0;
    for (const double y : y_bar) y_sum += y;
    all.push_back({"5.1-s", section, "observer: sum of ȳ over the bands",
                   "CIE 1931 at 5 nm, 380 to 780 nm (the bands' tails reach further)", 106.8566, "nm", 1e-4,
                   sure([=] { return y_sum; })});
}

void adaptation(Cases& all) {
    const Tristimulus d65{95.047, 100, 108.883}, d50{96.422, 100, 82.521}, a{109.85, 100, 35.585};
    const Matrix to_d50{
        {{1.0478112, .0228866, -.0501270}, {.0295424, .9904844, -.0170491}, {-.0092345, .0150436, .7521316}}};
    const Matrix to_d65{
        {{.8446965, -.1179225, .3948108}, {-.1366303, 1.1041226, .1291718}, {.0798489, -.1348999, 3.1924009}}};
    const auto rows_of = [&](const char* id, const char* what, const Matrix& want, const Matrix& got) {
        for (std::size_t i = 0; i < 3; ++i)
            for (std::size_t j = 0; j < 3; ++j)
                all.push_back({std::string(id) + std::to_string(i + 1) + std::to_string(j + 1), section,
                               std::string("Bradford matrix ") + what + ", row " + std::to_string(i + 1) + ", column " +
                                   std::to_string(j + 1),
                               "ICC profile specification, annex E", want[i][j], "", 0,
                               sure([v = got[i][j]] { return v; }), 1e-6});
    };
    rows_of("5.4-d", "D65 to D50", to_d50, bradford(d65, d50));
    rows_of("5.4-a", "A to D65", to_d65, bradford(a, d65));
}

/// Reflectances of the colord-data package, read where they lie.
void surfaces(Cases& all) {
    struct Sample {
        const char* name;
        bool d65;  // else illuminant A
        double x, y, z, tolerance;
    };
    // A hundredth of a stop for skin by lamplight, a twentieth for a saturated red: what twenty nanometres may cost.
    const double hundredth = std::exp2(0.01) - 1, twentieth = std::exp2(0.05) - 1;
    const Sample rows[] = {
        {"TCS01", true, 33.02, 29.88, 24.59, .003},      {"TCS13", true, 58.98, 57.17, 41.33, .003},
        {"TCS15", true, 34.98, 32.72, 24.46, .003},      {"TCS13", false, 75.05, 61.39, 13.76, hundredth},
        {"TCS15", false, 46.18, 35.53, 8.28, hundredth}, {"TCS09", true, 20.60, 11.25, 4.34, twentieth}};
    for (const Sample& r : rows)
        for (int k = 0; k < 3; ++k) {
            const double want = std::array<double, 3>{r.x, r.y, r.z}[static_cast<std::size_t>(k)];
            all.push_back({std::string("5.4-") + r.name + (r.d65 ? "-D65-" : "-A-") + "XYZ"[k], section,
                           std::string("CIE test colour ") + r.name + " under " + (r.d65 ? "D65" : "A") + ": " +
                               "XYZ"[k] + ", white 100",
                           "5 nm sums of the colord-data tables", want, "", r.tolerance, sure([=] {
                               const SpectralTable samples = spectral_table("ref/CIE-TCS.sp");
                               if (!samples.found()) throw NotInstalled("colord-data is not installed");
                               const Spectrum light = r.d65 ? daylight(Kelvin{6503.6}) : blackbody(Kelvin{2855.5});
                               const Tristimulus t = tristimulus(samples.bands_of(r.name) * light * 100.0F);
                               return std::array<double, 3>{t.x, t.y, t.z}[static_cast<std::size_t>(k)];
                           }),
                           0.005});  // rounding of the expected value
        }
}

}  // namespace

Cases colour_cases() {
    Cases all;
    whites(all);
    adaptation(all);
    surfaces(all);
    return all;
}

}  // namespace rushlight::validation
