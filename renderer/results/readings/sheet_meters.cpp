#include "results/readings/sheet_meters.h"

#include "results/sheet/face_meters.h"

#include <numeric>

namespace rushlight {

namespace {

/// Each is wanted by itself. Returns the number of the first.
std::size_t add(SheetMeters& all, const std::vector<MeterPoint>& points) {
    const std::size_t first = all.points.size();
    for (const MeterPoint& p : points) {
        all.wanted.push_back({all.points.size()});
        all.points.push_back(p);
    }
    return first;
}

/// Their mean is wanted.
std::vector<std::size_t> add_together(SheetMeters& all, const std::vector<MeterPoint>& points) {
    std::vector<std::size_t> group;
    for (const MeterPoint& p : points) {
        group.push_back(all.points.size());
        all.points.push_back(p);
    }
    all.wanted.push_back(group);
    return group;
}

std::vector<MeterPoint> those(const std::vector<MeterPoint>& points, const std::vector<std::size_t>& numbers) {
    std::vector<MeterPoint> some;
    for (const std::size_t n : numbers) some.push_back(points[n]);
    return some;
}

}  // namespace

SheetMeters sheet_meters(const Setup& setup, const Scene& scene) {
    SheetMeters all;
    for (const PlacedMeter& m : place_meters(setup, scene)) add(all, {m.point});
    const Camera* camera = setup.its_camera();
    if (camera == nullptr) return all;
    for (OutlineMeters& o : outlines_of(setup, scene)) {
        o.on = add_together(all, those(o.spots, o.on));
        o.behind = add_together(all, those(o.spots, o.behind));
        all.outlines.push_back(std::move(o));
    }
    const CameraView view = beside_the_lens(*camera);
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        SheetMeters::Person person{place_spots(setup, scene, view, static_cast<int>(i)), 0};
        std::vector<MeterPoint> spots;
        for (const PlacedSpot& s : person.placed.seen) spots.push_back(s.point);
        person.first = add(all, spots);
        all.people.push_back(std::move(person));
    }
    // Turned to the picture, as the front glass is.
    all.lens = add(all, {{MeterKind::flat, view.at(), view.forward(), 0, 0, 0, sure_enough_spot}});
    if (!scene.openings) return all;  // nothing shines in
    for (const ViewSpots& w : views_in_frame(setup, scene, view)) {
        if (w.spots.empty()) continue;
        std::vector<std::size_t> spots(w.spots.size());
        std::iota(spots.begin(), spots.end(), add(all, w.spots));
        all.windows.push_back({w.opening, std::move(spots)});
    }
    return all;
}

}  // namespace rushlight
