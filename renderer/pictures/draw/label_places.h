// Where labels may stand on a crowded drawing: beside their sign if there is room, else farther off on a leader line.
#pragma once

#include "pictures/draw/paper.h"

#include <optional>
#include <vector>

namespace rushlight {

class LabelPlaces {
public:
    explicit LabelPlaces(const PaperBox& area) : area_(area) {}

    /// What is drawn already. Words are never put on the first five if there is any other place; on a line or a wall
    /// only where the better places are far off. A leader goes round signs, edges and words, and crosses no other
    /// leader.
    enum class What { sign, edge, words, dimension, leader, line, wall };
    void keep_off(const PaperBox& box, What what) { taken_.push_back({box, what}); }
    void keep_off_line(Point from, Point to, What what);

    struct Leader {
        Point from, to;  // from the words to the edge of the sign that they name
    };
    struct Found {
        PaperBox box;
        std::optional<Leader> leader = {};  // it stands so far off that a line must say whose it is
        double cost = 0;                    // what it covers and crosses, and how far off it stands
    };
    enum class Wanted {
        always,  // there is no leaving it out
        clear,   // nothing where it would cover a sign, words or a dimension, or where its leader would cross one
        free     // nothing where it would cover anything, or needed a leader
    };
    /// The best of some hundreds of places round `at`, whose sign reaches `reach` points, at most `farthest` points
    /// off; taken from then on.
    std::optional<Found> place(Point at, double reach, PaperSize size, Wanted wanted, double farthest = 280);

    struct Taken {
        PaperBox box;
        What what;
    };
    const std::vector<Taken>& taken() const { return taken_; }
    const std::vector<Leader>& leaders() const { return leaders_; }

private:
    struct Cost {
        double hard = 0, soft = 0;  // square points
    };
    Cost cost_of(const PaperBox& box) const;
    double cost_of(const Leader& leader, Point sign) const;
    Leader leader_to(Point at, const PaperBox& words) const;
    PaperBox area_;
    std::vector<Taken> taken_;
    std::vector<Leader> leaders_;
};

/// The part of the way from `a` to `b` that lies in the box, as shares of it; nothing where it passes by.
std::optional<std::pair<double, double>> within(const PaperBox& box, Point a, Point b);

}  // namespace rushlight
