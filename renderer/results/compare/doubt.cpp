#include "results/compare/doubt.h"

#include "results/readings/readings.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace rushlight {

namespace {

// Usual errors of a scout with tape and spot meter: common practice, no source.
constexpr float third_of_a_stop = 1.259921F;
constexpr double tape = 0.05;            // m, of a window
constexpr double glass_and_dirt = 1.15;  // of what passes
constexpr float pace = 0.10F;            // m, of where somebody sits

void make_paler(Finish& f) {
    for (float& band : f.reflectance.band) band = std::min(0.95F, band * third_of_a_stop);
}

struct Move {
    std::string input;
    std::function<void(Setup&)> make;
};

std::vector<Move> moves(const Setup& setup) {
    std::vector<Move> all;
    const Place& place = setup.place;
    if (place.has_room) {
        const auto paler = [&](const std::string& name, std::vector<Wall> walls) {
            all.push_back({name + " 1/3 stop paler", [walls](Setup& s) {
                               for (const Wall w : walls) make_paler(s.place.room.finish[static_cast<std::size_t>(w)]);
                           }});
        };
        paler("walls", {Wall::near, Wall::far, Wall::left, Wall::right});
        paler("floor", {Wall::floor});
        paler("ceiling", {Wall::ceiling});
    } else {
        all.push_back({"all surfaces of the model 1/3 stop paler", [](Setup& s) {
                           for (Model& model : s.place.models) {
                               auto paler = std::make_shared<Triangles>(*model.triangles);
                               for (Finish& f : paler->finishes) make_paler(f);
                               model.triangles = std::move(paler);
                           }
                       }});
    }
    if (!place.boxes.empty())
        all.push_back({"furniture and things outside 1/3 stop paler", [](Setup& s) {
                           for (Box& b : s.place.boxes) make_paler(b.finish);
                       }});
    if (!setup.day.dark && !place.room.openings.empty()) {
        all.push_back({"windows 5 cm narrower and lower", [](Setup& s) {
                           for (Opening& o : s.place.room.openings) {
                               o.to = std::max(o.from + 0.05, o.to - tape);
                               o.head = std::max(o.sill + 0.05, o.head - tape);
                           }
                       }});
        all.push_back({"glass 15 % dirtier", [](Setup& s) {
                           for (Opening& o : s.place.room.openings) o.glass /= glass_and_dirt;
                       }});
    }
    for (std::size_t i = 0; i < setup.rig.marks.size() && i < 4; ++i)
        for (const auto& [axis, word] : {std::pair{0, "to the right"}, std::pair{1, "into the room"}})
            all.push_back({setup.rig.marks[i].name + " 10 cm " + word,
                           [i, a = axis](Setup& s) { (a == 0 ? s.rig.marks[i].at.x : s.rig.marks[i].at.y) += pace; }});
    return all;
}

}  // namespace

Doubts doubts(const Setup& setup, const Effort& effort) {
    const Clock clock;
    Doubts d;
    d.title = setup.title;
    d.setup = setup.name;
    d.option = setup.option;
    const std::vector<Move> all = moves(setup);
    std::size_t to_do = all.size() + 1;
    const auto measure_in = [&](const Setup& s) {
        const Scene scene = build_scene(s);
        std::vector<MeterPoint> points;
        for (const NamedMeter& m : meters_of(s, scene)) points.push_back(m.point);
        Effort own = effort;
        own.seconds /= static_cast<double>(all.size() + 1);
        if (effort.until) own.pace = std::clamp(effort.left() / (own.seconds * static_cast<double>(to_do)), 0.01, 1.0);
        --to_do;
        return measure(scene, points, own);
    };
    {
        const Scene scene = build_scene(setup);
        for (const NamedMeter& m : meters_of(setup, scene)) d.readings.push_back(m.name);
    }
    const MeterResults as_told = measure_in(setup);
    for (const Move& move : all) {
        if (effort.stopped()) break;
        Setup moved = setup;
        move.make(moved);
        const MeterResults now = measure_in(moved);
        Doubt doubt{move.input, {}, 0};
        for (std::size_t i = 0; i < d.readings.size(); ++i) {
            const Measured stops = stops_between(as_told.all(i), now.all(i));
            if (std::isfinite(stops.value)) doubt.largest = std::max(doubt.largest, std::abs(stops.value));
            doubt.stops.push_back(stops);
        }
        d.inputs.push_back(std::move(doubt));
    }
    std::stable_sort(d.inputs.begin(), d.inputs.end(),
                     [](const Doubt& a, const Doubt& b) { return a.largest > b.largest; });
    d.seconds = clock.seconds();
    return d;
}

}  // namespace rushlight
