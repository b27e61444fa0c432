#include "results/sheet/face_meters.h"

#include "paths/put_down.h"

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
    const auto [near, far] = sides_of(figure, camera);
    const bool lens = camera != nullptr;
    const Vec3 to_lens = lens ? (camera->at - figure.front.at).normalized() : figure.nose;
    meters.push_back(
        placed(mark.name + (lens ? " near cheek" : " left cheek"), mark.name, MeterKind::flat, near->at, near->facing));
    meters.push_back(
        placed(mark.name + (lens ? " far cheek" : " right cheek"), mark.name, MeterKind::flat, far->at, far->facing));
    meters.push_back(placed(mark.name + " front", mark.name, MeterKind::flat, figure.front.at, figure.front.facing));
    // A dome is held clear of the skin, where a hand would hold it.
    meters.push_back(placed(mark.name + " dome to lens", mark.name, MeterKind::dome,
                            figure.front.at + figure.nose * 0.05F, to_lens));
}

}  // namespace

FaceSides sides_of(const Figure& figure, const Camera* camera) {
    FaceSides sides{&figure.left_cheek, &figure.right_cheek};
    if (camera == nullptr) return sides;
    const Vec3 to_lens = (camera->at - figure.front.at).normalized();
    if (sides.near->facing.dot(to_lens) < sides.far->facing.dot(to_lens)) std::swap(sides.near, sides.far);
    return sides;
}

std::vector<PlacedMeter> place_meters(const Setup& setup, const Scene& scene) {
    std::vector<PlacedMeter> meters;
    const Camera* camera = setup.its_camera();
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i)
        add_face(setup.rig.marks[i], scene.figures[i], camera, meters);
    for (const Meter& m : setup.rig.meters) {
        meters.push_back(
            placed(m.name, m.mark, m.receptor == Receptor::dome ? MeterKind::dome : MeterKind::flat, m.at, m.facing));
        meters.back().point = put_down(scene, meters.back().point);
    }
    return meters;
}

}  // namespace rushlight
