#include "results/brief/on_arrival.h"

#include "quantity/exposure.h"
#include "results/light/calibration.h"
#include "setup/plain/face.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

bool daylight_comes_in(const Setup& s) {
    return !s.scouted.dark && !(s.place.room.openings.empty() && s.place.model_openings.empty());
}

std::string rounded(double v, double step) {
    return plain(std::round(v / step) * step);
}

std::string point_text(const Vec3& p) {
    return "[" + rounded(static_cast<double>(p.x), 0.01) + ", " + rounded(static_cast<double>(p.y), 0.01) + ", " +
           rounded(static_cast<double>(p.z), 0.01) + "]";
}

Meter before_the_face(const Mark& mark) {
    constexpr float hand = 0.1F;  // m, as `at = "A"` has it
    Meter m;
    m.facing = facing_of(mark);
    m.at = face_of(mark) + m.facing * hand;
    return m;
}

struct PlaceToMeasure {
    Meter meter;
    std::string source, name, how, at;
};

/// Traces the numbers that `[[measured]]` would compare with, and keeps them.
std::vector<ToMeasure> traced(const Setup& setup, const std::vector<PlaceToMeasure>& spots, const Effort& effort) {
    Setup asked = setup;
    asked.rig.measured.clear();
    for (const PlaceToMeasure& s : spots) {
        MeasuredLight& m = asked.rig.measured.emplace_back(MeasuredLight{s.meter, 1, s.source, std::nullopt});
        for (const Lamp& l : setup.rig.lamps)
            if (l.name == s.source) m.lamp = l;
    }
    std::vector<ToMeasure> all;
    for (const SourceScale& scale : calibrate(asked, effort, 0.02, effort.seconds)) {
        std::size_t next = 0;
        for (const PlaceToMeasure& s : spots) {
            if (s.source != scale.source || next >= scale.readings.size()) continue;
            const Measured& model = scale.readings[next++].model;
            if (!(model.value > 0)) continue;
            ToMeasure m;
            m.name = s.name;
            m.how = s.how;
            m.model = {model.value};
            m.error = model.error;
            m.file = "[[measured]]\nname = " + in_toml_quotes(s.name) + "\nsource = " + in_toml_quotes(s.source) +
                     "\nat = " + s.at + "\nlux = ____";
            m.why = s.source == "daylight" ? "One factor scales all daylight; it holds under this sky only."
                                           : "It scales this lamp wherever it stands.";
            all.push_back(std::move(m));
        }
    }
    return all;
}

std::vector<PlaceToMeasure> daylight_spots(const Setup& setup) {
    std::vector<PlaceToMeasure> spots;
    constexpr std::size_t most_marks = 4;
    for (std::size_t i = 0; i < std::min(most_marks, setup.rig.marks.size()); ++i) {
        const Mark& m = setup.rig.marks[i];
        spots.push_back(
            {before_the_face(m), "daylight", "daylight at " + m.name,
             "Flat receptor a hand in front of where the face will be, square to the nose. Lamps off, nobody on "
             "the marks, no shapers up; note the time and the sky.",
             in_toml_quotes(m.name)});
    }
    if (setup.place.has_room) {
        Meter middle;
        middle.at =
            Vec3(static_cast<float>(setup.place.room.width / 2), static_cast<float>(setup.place.room.depth / 2), 0.0F);
        double top = 0.8;
        for (const Box& b : setup.place.boxes)
            if (std::abs(b.centre.x - middle.at.x) < b.size.x / 2 + 0.1F &&
                std::abs(b.centre.y - middle.at.y) < b.size.y / 2 + 0.1F)
                top = std::max(top, static_cast<double>(b.centre.z + b.size.z / 2) + 0.1);
        middle.at.z = static_cast<float>(std::min(top, setup.place.room.height - 0.1));
        middle.facing = Vec3(0, 0, 1);
        spots.push_back(
            {middle, "daylight", "daylight in the middle of the room",
             "Flat receptor level, looking up, " + rounded(static_cast<double>(middle.at.z), 0.01) +
                 " m over the floor, half way along both walls. With the reading at a mark it tells a wrong "
                 "sky from a wrong wall.",
             point_text(middle.at)});
    }
    return spots;
}

std::vector<PlaceToMeasure> lamp_spots(const Setup& setup, std::vector<std::string>& done) {
    std::vector<PlaceToMeasure> spots;
    constexpr std::size_t most = 12;
    for (const Lamp& l : setup.rig.lamps) {
        const Mark* mark = lit_mark(setup.rig, l);
        if (!l.on || mark == nullptr || spots.size() >= most) continue;
        if (std::find(done.begin(), done.end(), l.name) != done.end()) continue;
        done.push_back(l.name);
        spots.push_back(
            {before_the_face(*mark), l.name, l.name + " alone at " + mark->name,
             "Flat receptor a hand in front of where the face will be, square to the nose. Daylight shut out, "
             "other lamps off, this one at full with its gel, nothing in front of it, the marks empty.",
             in_toml_quotes(mark->name)});
    }
    return spots;
}

/// Luminous, under equal-energy light, as a file has it.
double share_of(const Finish& f) {
    return luminous_share(f.reflectance, Spectrum{1.0F});
}

double stops_over_card(const Finish& f) {
    return std::log2(std::max(0.001, share_of(f)) / grey_reflectance);
}

void add_surfaces(const Setup& setup, std::vector<ToMeasure>& all) {
    if (!setup.place.has_room) return;
    const auto& finish = setup.place.room.finish;
    const auto share = [&](std::size_t i) { return share_of(finish[i]); };
    bool alike = true;
    for (std::size_t i = 1; i < 4; ++i) alike = alike && std::abs(share(i) - share(0)) < 0.005;
    for (std::size_t i = 0; i < finish.size(); ++i) {
        if (alike && i > 0 && i < 4) continue;
        const std::string word = alike && i == 0 ? std::string("walls") : std::string(wall_words[i]);
        ToMeasure m;
        m.name = (alike && i == 0 ? "Walls" : full_name(static_cast<Wall>(i))) + " vs grey card";
        m.how =
            "Spot meter on an 18 % card held flat against it, then on the bare surface beside it, same light, no "
            "glare: the difference.";
        m.unit = ToMeasure::Unit::stops;
        m.model = {stops_over_card(finish[i])};
        m.file =
            "[place.surfaces]\n" + word + " = ____\n# model " + rounded(share(i), 0.01) + "; share = 0.18 x 2^stops";
        m.why = "It moves what the room gives back, the far cheek most of all.";
        all.push_back(std::move(m));
    }
}

void add_glass(const Setup& setup, std::vector<ToMeasure>& all) {
    std::vector<double> told;
    for (const Opening& o : setup.place.room.openings) {
        if (!o.glazed || setup.scouted.dark || std::find(told.begin(), told.end(), o.glass) != told.end()) continue;
        told.push_back(o.glass);
        ToMeasure m;
        m.name = "glass of the " + o.name;
        m.how =
            "Flat receptor at the open window looking out, then behind the shut pane: what the pane takes. Where it "
            "does not open, spot something steady outside past the frame of an open door and through the pane.";
        m.unit = ToMeasure::Unit::stops;
        m.model = {std::log2(std::max(0.001, o.glass))};
        m.file = "[[place.opening]]\n# " + in_toml_quotes(o.name) + "\nglass = ____\n# model " + plain(o.glass) +
                 "; share = 2^stops";
        m.why = "It moves all daylight through it.";
        all.push_back(std::move(m));
    }
}

void add_shape(const Setup& setup, std::vector<ToMeasure>& all) {
    const Place& p = setup.place;
    if (p.has_room) {
        ToMeasure m;
        m.name = "the room";
        m.how = "Tape or laser: width along the near wall, depth into the room, height.";
        m.unit = ToMeasure::Unit::metre;
        m.model = {p.room.width, p.room.depth, p.room.height};
        m.file = "[place.room]\nwidth = ____\ndepth = ____\nheight = ____";
        m.why = "10 cm in plan move little; the ceiling decides stands and bounce.";
        all.push_back(std::move(m));
    }
    if (daylight_comes_in(setup)) {
        ToMeasure m;
        m.name = "which way the near wall looks";
        m.how = "From a map and the line of the wall; a compass beside steel is 5 to 15 degrees off.";
        m.unit = ToMeasure::Unit::degree;
        m.model = {p.near_wall_faces};
        m.file = "[place]\nnear_wall_faces = ____";
        m.why = "5 degrees move the sun by some 20 minutes.";
        all.push_back(std::move(m));
    }
}

}  // namespace

const Mark* lit_mark(const Rig& rig, const Lamp& lamp) {
    constexpr double farthest = 0.6;  // m off the aim
    const Mark* best = nullptr;
    double least = farthest;
    for (const Mark& m : rig.marks) {
        const Vec3 to = face_of(m) - lamp.at;
        const bool all_round = lamp.shape == LampShape::ball || lamp.shape == LampShape::tube;
        const double along = static_cast<double>(to.dot(lamp.aim));
        if (!all_round && along <= 0) continue;
        const double off = all_round ? static_cast<double>(to.length()) - 1.5
                                     : static_cast<double>((to - lamp.aim * static_cast<float>(along)).length());
        if (off < least) {
            least = off;
            best = &m;
        }
    }
    return best;
}

std::vector<ToMeasure> to_measure(const Setup& setup, const Effort& effort, std::vector<std::string>& done) {
    std::vector<PlaceToMeasure> spots;
    const bool first = done.empty();
    if (first && daylight_comes_in(setup)) spots = daylight_spots(setup);
    for (PlaceToMeasure& s : lamp_spots(setup, done)) spots.push_back(std::move(s));
    std::vector<ToMeasure> all = traced(setup, spots, effort);
    if (first) {
        add_surfaces(setup, all);
        add_glass(setup, all);
        add_shape(setup, all);
        done.emplace_back();  // true once the place itself has been written down
    }
    return all;
}

}  // namespace rushlight
