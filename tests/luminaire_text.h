// Photometric files written from a formula. All are invented.
#pragma once

#include "quantity/units.h"

#include <cmath>
#include <cstdio>
#include <functional>
#include <string>
#include <utility>
#include <vector>

namespace rushlight::luminaire_text {

/// Distribution at vertical and horizontal angle, degrees.
using Distribution = std::function<double(double, double)>;

inline std::vector<double> steps(double from, double to, double step) {
    std::vector<double> all;
    for (int i = 0; from + i * step <= to + 1e-9; ++i) all.push_back(from + i * step);
    return all;
}

inline double cosine(double degrees) {
    return std::cos(radians(Degree{degrees}));
}

inline std::string number(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.9g", value);
    return text;
}

inline std::string row(const std::vector<double>& values) {
    std::string text;
    for (std::size_t i = 0; i < values.size(); ++i)
        text += (i == 0 ? "" : i % 10 == 0 ? "\n" : " ") + number(values[i]);
    return text + "\n";
}

struct Lm63 {
    std::string first = "IESNA:LM-63-2002", tilt = "TILT=NONE";
    double lumens = -1, multiplier = 1, ballast = 1, ballast_lamp = 1, watts = 100;
    int type = 1, units = 2;
    double width = 0, length = 0, height = 0;
    std::vector<double> vertical, horizontal{0};
    Distribution candela;

    std::string text() const {
        std::string s = (first.empty() ? "" : first + "\n") + "[TEST] invented for a test of rushlight\n" + tilt + "\n";
        s += "1 " + number(lumens) + " " + number(multiplier) + " " + std::to_string(vertical.size()) + " " +
             std::to_string(horizontal.size()) + " " + std::to_string(type) + " " + std::to_string(units) + " " +
             number(width) + " " + number(length) + " " + number(height) + "\n";
        s +=
            number(ballast) + " " + number(ballast_lamp) + " " + number(watts) + "\n" + row(vertical) + row(horizontal);
        for (const double h : horizontal) {
            std::vector<double> plane;
            for (const double v : vertical) plane.push_back(candela(v, h));
            s += row(plane);
        }
        return s;
    }
};

inline Lm63 lm63(int type, std::vector<double> vertical, std::vector<double> horizontal, Distribution candela) {
    Lm63 f;
    f.type = type;
    f.vertical = std::move(vertical);
    f.horizontal = std::move(horizontal);
    f.candela = std::move(candela);
    return f;
}

struct Eulumdat {
    int symmetry = 1;
    std::vector<double> all_planes{0}, written_planes{0}, gamma;
    double lumens = 1000, conversion = 1;
    int lamps = 1;
    bool decimal_commas = false;
    Distribution candela;  // for all of its lumens

    std::string text() const {
        std::string s = "invented for a test of rushlight\n1\n" + std::to_string(symmetry) + "\n" +
                        std::to_string(all_planes.size()) + "\n0\n" + std::to_string(gamma.size()) +
                        "\n0\nreport\nname\nnumber\nfile\ndate\n";
        s += "620\n320\n80\n600\n300\n0\n0\n0\n0\n100\n0\n" + number(conversion) + "\n0\n1\n";
        s += std::to_string(lamps) + "\ntype\n" + number(lumens) + "\nneutral\n80\n60\n";
        for (int i = 0; i < 10; ++i) s += "0.5\n";
        for (const double c : all_planes) s += number(c) + "\n";
        for (const double g : gamma) s += number(g) + "\n";
        for (const double c : written_planes)
            for (const double g : gamma) s += number(candela(g, c) * 1000 / lumens / conversion) + "\n";
        if (decimal_commas)
            for (char& c : s)
                if (c == '.') c = ',';
        return s;
    }
};

}  // namespace rushlight::luminaire_text
