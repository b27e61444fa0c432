// Spectral tables as the colord-data package installs them (text, one row a curve): outside references that
// are read where they lie and never copied.
#pragma once

#include "quantity/spectrum.h"

#include <cctype>
#include <cstddef>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

namespace rushlight {

struct SpectralTable {
    double from = 0, to = 0;                           // nm
    std::map<std::string, std::vector<double>> curve;  // by name, or "0", "1", ... in order

    bool found() const { return !curve.empty(); }
    double step(const std::vector<double>& c) const { return (to - from) / static_cast<double>(c.size() - 1); }

    /// Trapezium rule between two wavelengths that lie on the table's steps.
    double integral(const std::vector<double>& c, double low, double high) const {
        double sum = 0;
        for (std::size_t i = 0; i + 1 < c.size(); ++i) {
            const double nm = from + step(c) * static_cast<double>(i);
            if (nm > low - 1e-6 && nm + step(c) < high + 1e-6) sum += 0.5 * step(c) * (c[i] + c[i + 1]);
        }
        return sum;
    }
    /// Mean over each of the sixteen bands.
    Spectrum bands_of(const std::string& name) const {
        Spectrum s;
        for (int b = 0; b < bands; ++b) {
            const double low = first_band_from + band_width * b;
            s[b] = static_cast<float>(integral(curve.at(name), low, low + band_width) / band_width);
        }
        return s;
    }
};

inline SpectralTable spectral_table(const std::string& file) {
    SpectralTable table;
    std::ifstream in("/usr/share/colord/" + file);
    std::string line;
    bool data = false;
    while (std::getline(in, line)) {
        std::istringstream words(line);
        std::string word;
        if (!(words >> word)) continue;
        if (word == "SPECTRAL_START_NM") words >> table.from;
        if (word == "SPECTRAL_END_NM") words >> table.to;
        if (word == "END_DATA") break;
        if (data) {
            std::vector<double> values;
            std::string name = std::to_string(table.curve.size());
            if (std::isalpha(static_cast<unsigned char>(word[0]))) {
                name = word;
            } else {
                values.push_back(std::stod(word));
            }
            for (double v = 0; words >> v;) values.push_back(v);
            table.curve[name] = values;
        }
        if (word == "BEGIN_DATA") data = true;
    }
    return table;
}

}  // namespace rushlight
