#include "results/placed_meters.h"

namespace rushlight {

namespace {

PlacedMeter placed(std::string name, const std::string& mark, MeterKind kind, const Vec3& at, const Vec3& facing) {
    PlacedMeter m;
    m.reading.name = std::move(name);
    m.reading.mark = mark;
    m.reading.kind = kind == MeterKind::dome ? "dome" : "flat";
    m.point = {kind, at, facing.normalized(), 0};
    return m;
}

/// Near and far are told by the lens, so that they stay put when the light moves.
void add_face(const Mark& mark, const Figure& figure, const Camera* camera, std::vector<PlacedMeter>& meters) {
    const Probe* near = &figure.left_cheek;
    const Probe* far = &figure.right_cheek;
    Vec3 to_lens = figure.nose;
    std::string near_name = " left cheek";
    std::string far_name = " right cheek";
    if (camera != nullptr) {
        to_lens = (camera->at - figure.front.at).normalized();
        if (near->facing.dot(to_lens) < far->facing.dot(to_lens)) std::swap(near, far);
        near_name = " near cheek";
        far_name = " far cheek";
    }
    meters.push_back(placed(mark.name + near_name, mark.name, MeterKind::flat, near->at, near->facing));
    meters.push_back(placed(mark.name + far_name, mark.name, MeterKind::flat, far->at, far->facing));
    meters.push_back(placed(mark.name + " front", mark.name, MeterKind::flat, figure.front.at, figure.front.facing));
    // A dome is held clear of the skin, where a hand would hold it.
    meters.push_back(placed(mark.name + " dome to lens", mark.name, MeterKind::dome,
                            figure.front.at + figure.nose * 0.05F, to_lens));
}

}  // namespace

std::vector<PlacedMeter> place_meters(const Setup& setup, const Scene& scene) {
    std::vector<PlacedMeter> meters;
    const Camera* camera = setup.camera >= 0 ? &setup.rig.cameras[static_cast<std::size_t>(setup.camera)] : nullptr;
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i)
        add_face(setup.rig.marks[i], scene.figures[i], camera, meters);
    for (const Meter& m : setup.rig.meters)
        meters.push_back(
            placed(m.name, m.mark, m.receptor == Receptor::dome ? MeterKind::dome : MeterKind::flat, m.at, m.facing));
    return meters;
}

}  // namespace rushlight
