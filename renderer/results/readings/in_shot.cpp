#include "results/readings/in_shot.h"

#include "scene/rays/camera_view.h"

#include <algorithm>
#include <map>

namespace rushlight {

std::vector<std::string> in_shot(const Setup& setup, const Scene& scene) {
    if (setup.camera < 0) return {};
    constexpr int across = 160, down = 90;
    const CameraView view(*setup.its_camera(), across, down);
    std::map<std::string, int> pixels;
    for (const Lamp& l : setup.rig.lamps) pixels[l.name];
    for (const Panel& p : setup.rig.panels) pixels[p.name];
    for (int y = 0; y < down; ++y)
        for (int x = 0; x < across; ++x) {
            const auto hit = scene.rays.first_hit(view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F));
            if (!hit) continue;
            const Part& part = scene.rays.part(hit->part);
            if (const auto of_the_rig = pixels.find(part.name);
                of_the_rig != pixels.end() && (part.kind == PartKind::lamp || part.kind == PartKind::panel))
                ++of_the_rig->second;
        }
    std::vector<std::string> names;
    for (const auto& [name, count] : pixels)
        if (count > 0) names.push_back(name);
    std::stable_sort(names.begin(), names.end(),
                     [&](const std::string& a, const std::string& b) { return pixels[a] > pixels[b]; });
    return names;
}

}  // namespace rushlight
