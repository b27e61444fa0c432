// Where labels may stand on a crowded drawing: beside their sign if there is room, else farther off on a leader line.
#pragma once

#include "pictures/draw/paper.h"

#include <optional>
#include <vector>

namespace rushlight {

class LabelPlaces {
public:
    explicit LabelPlaces(const PaperBox& area) : area_(area) {}
    /// Areas that labels keep off: 1 for a sign or another label, less for lines that may be crossed.
    void keep_off(const PaperBox& box, double weight = 1) { taken_.push_back({box, weight}); }
    void keep_off_line(Point from, Point to, double weight);

    struct Found {
        PaperBox box;
        bool leader = false;  // it stands so far off that a line must say whose it is
    };
    /// The best of some hundred places round `at`, whose sign reaches `reach` points; taken from then on. Nothing where
    /// even the best would cover something, unless it `must` be there.
    std::optional<Found> place(Point at, double reach, PaperSize size, bool must);

private:
    struct Taken {
        PaperBox box;
        double weight;
    };
    double cost_of(const PaperBox& box) const;
    PaperBox area_;
    std::vector<Taken> taken_;
};

}  // namespace rushlight
