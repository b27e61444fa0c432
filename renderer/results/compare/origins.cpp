#include "results/compare/origins.h"

#include "quantity/exposure.h"
#include "results/light/remarks.h"
#include "scene/room.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace rushlight {

namespace {

// Past so many surfaces the rest is counted as one: nobody reads further.
constexpr std::size_t most_surfaces = 300;

std::string known_name(const Part& part, const Setup& setup) {
    if (part.mark >= 0) return setup.rig.marks.at(static_cast<std::size_t>(part.mark)).name + " (head and body)";
    if (part.light >= 0) return part.name + " (the lamp itself)";
    if (part.kind == PartKind::pane) {
        const std::string glass = ", glass";
        const std::size_t at = part.name.rfind(glass);
        const bool ends_so = at != std::string::npos && at + glass.size() == part.name.size();
        return ends_so ? part.name.substr(0, at) : part.name;
    }
    return part.name.empty() ? "a surface without a name" : part.name;
}

}  // namespace

double stops_without(double part, double whole) {
    return part < whole ? std::log2(whole / (whole - part)) : INFINITY;
}

LastSurfaces last_surfaces(const Scene& scene, const Setup& setup) {
    LastSurfaces all;
    std::map<std::string, std::uint32_t> numbers;
    const auto number_of = [&](const std::string& name) {
        const auto known = numbers.find(name);
        if (known != numbers.end()) return known->second;
        const std::string kept = all.names.size() + 2 < most_surfaces ? name : "everything else";
        const auto [it, fresh] = numbers.try_emplace(kept, static_cast<std::uint32_t>(all.names.size()));
        if (fresh) all.names.push_back(kept);
        return it->second;
    };
    all.beyond = number_of("open sky");
    for (std::size_t p = 0; p < scene.rays.part_count(); ++p)
        all.of_part.push_back(number_of(known_name(scene.rays.part(static_cast<std::uint32_t>(p)), setup)));
    if (setup.place.has_room)
        for (const Opening& o : setup.place.room.openings) {
            all.holes.push_back(opening_rectangle(setup.place.room, o));
            all.of_hole.push_back(number_of(o.name));
        }
    return all;
}

Origins find_origins(const Setup& setup, const Scene& scene, const std::string& point, const MeterPoint& meter,
                     const Effort& effort, KeptLight& light) {
    Origins o;
    o.title = setup.title;
    o.setup = setup.name;
    o.option = setup.option;
    o.point = point;
    o.meter = meter;
    o.sources = scene.lights.sources();
    const std::size_t sources = o.sources.size();
    const LastSurfaces surfaces = last_surfaces(scene, setup);
    const MeterResults results = light.measure(scene, {meter}, effort, {}, &surfaces);
    o.seconds = results.seconds;
    o.by_source.resize(sources);
    if (results.batches() == 0) {
        o.remarks.emplace_back(no_light_remark);
        return o;
    }
    o.lux = results.all(0);
    const Exposure exposure = setup.exposure();
    o.t_stop = o.lux.value > 0 ? metered_t_stop(Lux{o.lux.value}, exposure) : 0.0;
    for (std::size_t s = 0; s < sources; ++s) {
        std::vector<std::size_t> layers;
        for (std::size_t g = 0; g < surfaces.names.size(); ++g) layers.push_back(g * sources + s);
        o.by_source[s] = results.of(0, layers);
    }
    for (std::size_t g = 0; g < surfaces.names.size(); ++g) {
        std::vector<std::size_t> layers;
        Origin origin{surfaces.names[g], {}, {}};
        for (std::size_t s = 0; s < sources; ++s) {
            layers.push_back(g * sources + s);
            origin.by_source.push_back(results.of(0, layers.back()).value);
        }
        origin.lux = results.of(0, layers);
        if (origin.lux.value > 0) o.surfaces.push_back(std::move(origin));
    }
    std::sort(o.surfaces.begin(), o.surfaces.end(),
              [](const Origin& a, const Origin& b) { return a.lux.value > b.lux.value; });
    if (results.cut_short)
        o.remarks.emplace_back(effort.stopped() ? "Stopped at your request: the errors shown are those reached."
                                                : "The wanted error was not reached in the longest time allowed.");
    for (std::string& said : light.remarks()) o.remarks.push_back(std::move(said));
    return o;
}

}  // namespace rushlight
