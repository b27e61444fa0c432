// The plan of a set-up, to scale: walls, openings, furniture, people, lamps, boards and camera, each with its own sign
// and with what a crew must know of it in words. Up on the paper is into the room.
#pragma once

#include "pictures/draw/label_places.h"
#include "pictures/draw/paper.h"
#include "pictures/words/brief_units.h"
#include "setup/plain/setup.h"

#include <string>

namespace rushlight {

struct PlanLook {
    BriefUnits units = BriefUnits::metric;
    bool words = true;     // heights, tilts, distances; else names alone, for a small plan beside others
    bool tables = false;   // levels, gels and sizes are in tables beside it
    double letters = 6.6;  // pt
    int scale = 0;         // 1 : scale; 0: the largest usual one that fits
};

/// The scale that a plan of this set-up is drawn at in a box of this size, in points.
int plan_scale(const Setup& setup, const PaperSize& box, const PlanLook& look);

/// The height that it needs of a box this high or less, at the scale that such a box lets it have.
double plan_height(const Setup& setup, const PaperSize& box, const PlanLook& look);

/// Draws it into the box; returns what lies where on it.
LabelPlaces draw_plan(Paper& paper, const PaperBox& box, const Setup& setup, const PlanLook& look);

/// By itself, as SVG of this size in points.
std::string plan_svg(const Setup& setup, const PaperSize& size, const PlanLook& look);

/// How far a point is from the two walls that it is nearest to, one each way: "left 0.80 m, near 1.20 m". Empty in a
/// place that is no room.
std::string from_walls(const Setup& setup, const Vec3& at, BriefUnits units);

/// The plan in words, for those who cannot see it.
std::string plan_in_words(const Setup& setup, const PlanLook& look);

}  // namespace rushlight
