#include "lessons/lessons.h"
#include "paths/work/effort.h"
#include "pictures/frames/frame_picture.h"
#include "results/frame/frames.h"
#include "results/readings/readings.h"
#include "setup/read/setup_file.h"

#include <algorithm>
#include <stdexcept>

namespace rushlight::lessons {
namespace {

Setup setup_of(const std::string& folder, const View& view) {
    const SetupFile file = SetupFile::read(folder + "/" + view.file + ".toml");
    return file.setup(view.setup.empty() ? file.setup_names().front() : view.setup, view.option);
}

}  // namespace

const Sheet& Runs::sheet(const View& view) {
    const auto known = sheets_.find(view);
    if (known != sheets_.end()) return known->second;
    const Setup setup = setup_of(folder_, view);
    Effort effort;
    effort.relative_error = 2 * error_;  // much else is in it
    effort.most_seconds = 60;
    return sheets_[view] = take_readings(setup, build_scene(setup), effort);
}

Measured Runs::lux(const View& view, const std::string& meter) {
    auto& known = meters_[view];
    if (!known.contains(meter)) {
        const Setup setup = setup_of(folder_, view);
        const Scene scene = build_scene(setup);
        std::vector<NamedMeter> meters = meters_of(setup, scene);
        const auto asked =
            std::find_if(meters.begin(), meters.end(), [&](const NamedMeter& m) { return m.name == meter; });
        if (asked == meters.end()) throw std::runtime_error(view.file + ": no meter " + meter);
        // Those on a face together, and those by hand: neither waits for the other to be sure.
        std::erase_if(meters,
                      [on_a_face = !asked->mark.empty()](const NamedMeter& m) { return m.mark.empty() == on_a_face; });
        std::vector<MeterPoint> points;
        for (const NamedMeter& m : meters) points.push_back(m.point);
        Effort effort;
        effort.relative_error = error_;
        effort.most_seconds = 60;
        const MeterResults results = measure(scene, points, effort);
        for (std::size_t i = 0; i < meters.size(); ++i) known[meters[i].name] = results.all(i);
    }
    return known.at(meter);
}

Measured Runs::seen(const View& view) {
    const auto known = seen_.find(view);
    if (known != seen_.end()) return known->second;
    const Setup setup = setup_of(folder_, view);
    Effort effort;
    effort.relative_error = 20 * error_;  // of one pixel of some fifty
    effort.most_seconds = 10;
    constexpr int width = 8, height = 6;
    const LayeredFrame frame = trace_frame(setup, build_scene(setup), width, height, effort);
    const std::vector<Tristimulus> light = light_on_sensor(frame, {}, true);
    double sum = 0, squares = 0;
    for (std::size_t i = 0; i < light.size(); ++i) {
        sum += light[i].y;
        squares += std::pow(static_cast<double>(frame.error[i]), 2);
    }
    const auto count = static_cast<double>(light.size());
    return seen_[view] = {sum / count, std::sqrt(squares) / count};
}

std::vector<Lesson> all_lessons() {
    return {fall_off(),   softness(),  bounce(),          negative_fill(), wall_distance(),
            colour_mix(), diffusion(), window_exposure(), hair_light(),    polarizer()};
}

}  // namespace rushlight::lessons
