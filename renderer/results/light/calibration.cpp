#include "results/light/calibration.h"
#include "results/light/remarks.h"

#include "paths/measure.h"
#include "paths/put_down.h"
#include "scene/scene.h"
#include "setup/plain/content.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rushlight {

namespace {

/// The place as scouted, with one source alone.
Setup with_only(const Setup& setup, const std::string& source) {
    Setup alone = as_scouted(setup);
    if (source != "daylight") alone.day.dark = true;
    for (Lamp& lamp : alone.rig.lamps) {
        lamp.on = lamp.name == source;
        lamp.level = 1;
    }
    return alone;
}

}  // namespace

double MeterAgainstModel::stops() const {
    return model.value > 0 && said > 0 ? std::log2(said / model.value) : 0;
}

double SourceScale::stops() const {
    return std::log2(factor);
}

double SourceScale::disagreement() const {
    double most = 0;
    for (const MeterAgainstModel& r : readings)
        if (r.model.value > 0) most = std::max(most, std::abs(r.stops() - stops()));
    return readings.size() > 1 ? most : 0;
}

Setup as_scouted(Setup setup) {
    setup.rig.marks.clear();
    setup.rig.panels.clear();
    setup.rig.lamps.clear();
    for (const MeasuredLight& m : setup.rig.measured) {
        const auto same = [&](const Lamp& l) { return l.name == m.source; };
        if (m.lamp && std::none_of(setup.rig.lamps.begin(), setup.rig.lamps.end(), same))
            setup.rig.lamps.push_back(*m.lamp);
    }
    setup.day = setup.scouted;
    return setup;
}

std::string scales_key(const Setup& setup) {
    Content content;
    for (const MeasuredLight& m : setup.rig.measured)
        content << m.meter.receptor << m.meter.at << m.meter.facing << m.lux << m.source;
    add_content(content, as_scouted(setup));
    return content.fingerprint();
}

std::vector<SourceScale> calibrate(const Setup& setup, const Effort& effort, double relative_error,
                                   double most_seconds) {
    std::vector<SourceScale> scales;
    for (const MeasuredLight& m : setup.rig.measured) {
        const auto known =
            std::find_if(scales.begin(), scales.end(), [&](const SourceScale& s) { return s.source == m.source; });
        (known == scales.end() ? scales.emplace_back(SourceScale{m.source, 1, 0, {}}) : *known)
            .readings.push_back({m.meter.name, m.lux, {}});
    }
    for (SourceScale& scale : scales) {
        const Scene scene = build_scene(with_only(setup, scale.source));
        std::vector<MeterPoint> points;
        for (const MeasuredLight& m : setup.rig.measured)
            if (m.source == scale.source)
                points.push_back(
                    put_down(scene, {m.meter.receptor == Receptor::dome ? MeterKind::dome : MeterKind::flat, m.meter.at,
                                     m.meter.facing.normalized()}));
        Effort own = effort;
        own.relative_error = relative_error;
        own.seconds = 0;
        own.most_seconds = most_seconds;
        // Not all of a time that is given goes into what must be known first.
        if (effort.until) own.most_seconds = std::min(most_seconds, 0.25 * std::max(0.0, effort.left()));
        const MeterResults results = measure(scene, points, own);
        if (results.batches() == 0) continue;
        double sum = 0, variance = 0;
        int lit = 0;
        for (std::size_t i = 0; i < points.size(); ++i) {
            MeterAgainstModel& r = scale.readings[i];
            r.model = results.all(i);
            if (!(r.model.value > 0)) continue;
            ++lit;
            sum += r.stops();
            variance += std::pow(stops_of(r.model).error, 2);
        }
        if (lit == 0) continue;
        scale.factor = std::exp2(sum / lit);
        scale.error = std::sqrt(variance) / lit;
    }
    return scales;
}

Setup scaled(Setup setup, const std::vector<SourceScale>& scales) {
    for (const SourceScale& s : scales) {
        if (s.source == "daylight") setup.day.factor *= s.factor;
        for (Lamp& lamp : setup.rig.lamps)
            if (lamp.name == s.source) lamp.intensity_or_flux *= static_cast<float>(s.factor);
    }
    return setup;
}

std::vector<std::string> calibration_lines(const std::vector<SourceScale>& scales) {
    std::vector<std::string> lines;
    for (const SourceScale& s : scales) {
        std::string line = s.source + " is scaled by " + in_words("%.3g", s.factor) + " (" +
                           in_words("%+.2f", s.stops()) + " stops) to ";
        for (std::size_t i = 0; i < s.readings.size(); ++i) {
            const MeterAgainstModel& r = s.readings[i];
            const auto lux = [](double value) { return in_words(value < 10 ? "%.2g" : "%.0f", value) + " lx "; };
            line += (i ? ", " : "") + ("'" + r.name + "', " + lux(r.said) + "read");
            line += r.model.value > 0 ? ", " + lux(r.model.value) + "traced" : ", where the model has no light";
        }
        if (s.readings.size() > 1)
            line += s.disagreement() <= 1.0 / 3
                        ? "; they agree within " + in_words("%.2f", s.disagreement()) + " stops"
                        : "; one is " + in_words("%.2f", s.disagreement()) +
                              " stops off: check what is in the light there, a finish, or the meter";
        lines.push_back(line + ".");
    }
    return lines;
}

}  // namespace rushlight
