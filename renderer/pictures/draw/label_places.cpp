#include "pictures/draw/label_places.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

void LabelPlaces::keep_off_line(Point from, Point to, double weight) {
    constexpr double piece = 6;  // pt
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    const int pieces = std::clamp(static_cast<int>(length / piece), 1, 400);
    for (int i = 0; i < pieces; ++i) {
        const double a = (i + 0.5) / pieces, x = from.x + a * (to.x - from.x), y = from.y + a * (to.y - from.y);
        keep_off({x - piece / 2, y - piece / 2, x + piece / 2, y + piece / 2}, weight);
    }
}

double LabelPlaces::cost_of(const PaperBox& box) const {
    double cost = box.x0 < area_.x0 || box.y0 < area_.y0 || box.x1 > area_.x1 || box.y1 > area_.y1 ? 1e6 : 0;
    for (const Taken& t : taken_) cost += t.weight * box.shared_area(t.box);
    return cost;
}

std::optional<LabelPlaces::Found> LabelPlaces::place(Point at, double reach, PaperSize size, bool must) {
    // Under, over, right, left, and between; then the same farther off. Near ones cost least.
    constexpr int around = 16;
    constexpr double steps[] = {3, 9, 18, 30, 45, 65, 90, 120, 160, 210};
    constexpr double by_distance = 0.8, leader_from = 12;
    Found best;
    double least = 1e9, covered = 0;
    for (const double step : steps)
        for (int i = 0; i < around; ++i) {
            const double turn = 2 * pi * ((i * 5) % around) / around + pi / 2;
            const double c = std::cos(turn), s = std::sin(turn);
            // The box touches a circle round the sign at the side that looks to it.
            const Point middle{at.x + c * (reach + step) + std::clamp(c * 1.42, -1.0, 1.0) * size.width / 2,
                               at.y + s * (reach + step) + std::clamp(s * 1.42, -1.0, 1.0) * size.height / 2};
            const PaperBox box{middle.x - size.width / 2, middle.y - size.height / 2, middle.x + size.width / 2,
                               middle.y + size.height / 2};
            const double cover = cost_of(box);
            const double cost = cover + by_distance * step;
            if (cost >= least) continue;
            least = cost;
            covered = cover;
            best = {box, step > leader_from};
        }
    constexpr double may_cover = 12;  // square points, of what matters
    if (!must && covered > may_cover) return std::nullopt;
    keep_off(best.box);
    return best;
}

}  // namespace rushlight
