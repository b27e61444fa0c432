#include "results/sheet/within_somebody.h"

#include "scene/scene.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

constexpr float arms_length = 1, tall = 2.3F;  // m

/// The mark of whoever is met from there in every direction, or -1.
int within(const RayScene& rays, const Vec3& at) {
    int who = -1;
    for (const float x : {-1.0F, 0.1F, 1.0F})
        for (const float y : {-1.0F, 0.2F, 1.0F})
            for (const float z : {-1.0F, 0.3F, 1.0F}) {
                const auto met = rays.first_hit(Ray{at, Vec3(x, y, z).normalized(), tall});
                const int mark = met ? rays.part(met->part).mark : -1;
                if (mark < 0 || (who >= 0 && mark != who)) return -1;
                who = mark;
            }
    return who;
}

}  // namespace

std::vector<std::string> meters_within_somebody(const Setup& setup) {
    const auto near = [](const Mark& mark, const Meter& meter) {
        const Vec3 off = meter.at - mark.at;
        return std::hypot(off.x, off.y) < arms_length && off.z > -arms_length && off.z < tall;
    };
    Setup people = setup;
    std::erase_if(people.rig.meters, [&](const Meter& meter) {
        return std::none_of(setup.rig.marks.begin(), setup.rig.marks.end(),
                            [&](const Mark& mark) { return near(mark, meter); });
    });
    std::erase_if(people.rig.marks, [&](const Mark& mark) {
        return std::none_of(people.rig.meters.begin(), people.rig.meters.end(),
                            [&](const Meter& meter) { return near(mark, meter); });
    });
    std::vector<std::string> sentences;
    if (people.rig.meters.empty()) return sentences;
    const Scene scene = build_scene(people);
    for (const Meter& meter : people.rig.meters)
        if (const int mark = within(scene.rays, meter.at); mark >= 0)
            sentences.push_back("Meter " + in_quotes(meter.name) + " is inside " +
                                in_quotes(people.rig.marks[static_cast<std::size_t>(mark)].name) +
                                ": no light gets there.");
    return sentences;
}

}  // namespace rushlight
