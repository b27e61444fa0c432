#include "results/readings/spots.h"

#include "quantity/units.h"
#include "results/sheet/face_meters.h"
#include "scene/rays/first_seen.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float patch = 0.010F;  // m, radius of skin that a cheek offers

MeterPoint spot_at(const Vec3& from, const Vec3& to) {
    static const auto half_a_degree = static_cast<float>(std::tan(radians(Degree{0.5})));
    const float distance = (to - from).length();
    return {MeterKind::spot, from, (to - from) / distance, std::min(half_a_degree, patch / distance), 0, 0,
            sure_enough_spot};
}

bool shown(const CameraView& view, const Vec3& p) {
    float x = 0, y = 0;
    return view.project(p, x, y) && view.in_picture(x, y);
}

class SpotPlacer {
public:
    SpotPlacer(const Scene& scene, const CameraView& view, int mark)
        : scene_(scene), view_(view), mark_(mark), figure_(scene.figures.at(static_cast<std::size_t>(mark))) {}

    /// The spot meter pointed at `target`, if what it meets within `slack` of it is this kind of this person, and
    /// the part of that name if one is given.
    bool point_at(const std::string& name, const Vec3& target, PartKind kind, float slack,
                  const std::string& worn = "") {
        if (!shown(view_, target)) return false;
        const Vec3 way = target - view_.at();
        const Ray ray{view_.at(), way.normalized()};
        const auto hit = first_seen(scene_.rays, ray, looked_through);
        if (!hit) return false;
        const Part& part = scene_.rays.part(hit->part);
        if (part.mark != mark_ || part.kind != kind) return false;
        if (!worn.empty() && !part.name.ends_with(", " + worn)) return false;
        if ((ray.origin + ray.direction * hit->distance - target).length() > slack) return false;
        found.seen.push_back({name, spot_at(view_.at(), target)});
        return true;
    }

    void cheek(const std::string& name, const MeterPlace& place) {
        // Where the cheek is turned away, as much of that side of the face as the lens still sees.
        const Vec3 skin = place.at - place.facing * 0.005F, front = figure_.front.at - figure_.nose * 0.005F;
        for (const float t : {0.0F, 0.15F, 0.3F, 0.45F, 0.6F})
            if (point_at(name, skin + (front - skin) * t, PartKind::skin, 0.03F)) return;
        found.not_seen.push_back(name);
    }

    void front() {
        if (!point_at("front", figure_.front.at - figure_.nose * 0.005F, PartKind::skin, 0.03F))
            found.not_seen.emplace_back("front");
    }

    /// The middle of the chest, and beside it where a jacket is worn open.
    void wardrobe(bool over_a_shirt) {
        if (over_a_shirt) chest("shirt", "shirt", {0.0F});
        chest("wardrobe", over_a_shirt ? "wardrobe" : "",
              over_a_shirt ? std::vector{0.12F, -0.12F} : std::vector{0.0F});
    }

    /// Beside the head, at the height of the eyes, left and right as in the picture.
    void background() {
        const float out = 1.7F * static_cast<float>(figure_.head_radius);
        for (const auto& [name, side] : {std::pair{"background, left", -1.0F}, std::pair{"background, right", 1.0F}}) {
            const Vec3 target = figure_.head_centre + view_.right() * (side * out);
            const Ray ray{view_.at(), (target - view_.at()).normalized()};
            const auto hit = first_seen(scene_.rays, ray, looked_through);
            const bool behind =
                !hit || (scene_.rays.part(hit->part).mark != mark_ && hit->distance > (target - view_.at()).length());
            if (shown(view_, target) && behind)
                found.seen.push_back({name, spot_at(view_.at(), target)});
            else
                found.not_seen.emplace_back(name);
        }
    }

    PersonSpots found;

private:
    void chest(const std::string& name, const std::string& worn, const std::vector<float>& aside) {
        constexpr float far_off = 0.4F;
        const Vec3 left = Vec3(0, 0, 1).cross(figure_.nose);
        for (const float down : {0.30F, 0.36F, 0.42F, 0.50F, 0.60F})
            for (const float off : aside)
                if (point_at(name, figure_.head_centre - Vec3(0, 0, down) + figure_.nose * 0.08F + left * off,
                             PartKind::wardrobe, far_off, worn))
                    return;
        found.not_seen.push_back(name);
    }

    const Scene& scene_;
    const CameraView& view_;
    int mark_;
    const Figure& figure_;
};

}  // namespace

CameraView beside_the_lens(const Camera& camera) {
    constexpr int across = 1600;
    return {camera, across, std::max(1, static_cast<int>(across * camera.sensor_height / camera.sensor_width))};
}

const char* edge_name(const std::string& separation) {
    return separation.find(" hair over ") != std::string::npos ? "hair edge" : "edge of the head";
}

PersonSpots place_spots(const Setup& setup, const Scene& scene, const CameraView& view, int mark) {
    const Figure& figure = scene.figures.at(static_cast<std::size_t>(mark));
    SpotPlacer placer(scene, view, mark);
    placer.found.in_picture = shown(view, figure.front.at);
    if (!placer.found.in_picture) return placer.found;
    const auto [near, far] = sides_of(figure, setup.its_camera());
    placer.cheek("near cheek", *near);
    placer.cheek("far cheek", *far);
    placer.front();
    placer.wardrobe(setup.rig.marks.at(static_cast<std::size_t>(mark)).person.shirt.has_value());
    placer.background();
    return placer.found;
}

std::vector<NamedMeter> spots_of(const Setup& setup, const Scene& scene) {
    std::vector<NamedMeter> named;
    const Camera* camera = setup.its_camera();
    if (camera == nullptr) return named;
    const CameraView view = beside_the_lens(*camera);
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        const std::string& mark = setup.rig.marks[i].name;
        for (const PlacedSpot& s : place_spots(setup, scene, view, static_cast<int>(i)).seen)
            named.push_back({mark + " " + s.name, mark, s.point});
    }
    return named;
}

}  // namespace rushlight
