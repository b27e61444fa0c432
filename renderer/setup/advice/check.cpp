#include "setup/advice/check.h"

#include "setup/advice/inlets.h"
#include "setup/luminaire/luminaire.h"
#include "setup/plain/face.h"
#include "setup/plain/lamp_output.h"
#include "setup/plain/whereabouts.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

using Sentences = std::vector<std::string>;

constexpr double most_head_flux = 130'000;  // lm, bare, of a 1,200 W point head; handbook range, from memory
constexpr double near_marks = 0.3;          // m
constexpr double near_heat = 0.3;           // m between a lamp and cloth; common practice, no source
constexpr double overhead = 2.0;            // m: above this a stand is high enough to matter to people

constexpr std::size_t most_of_a_kind = 20;

/// Pairs of things grow with the square of a rig; nobody reads more than these.
bool enough(const Sentences& say, std::size_t before) {
    return say.size() >= before + most_of_a_kind;
}

double reach_of(const Lamp& lamp) {
    if (lamp.luminaire && lamp.luminaire->shines_back) return 180;
    if (lamp.luminaire) return lamp.field / 2;
    switch (lamp.shape) {
        case LampShape::hard:
            return lamp.field / 2;
        case LampShape::box:
        case LampShape::ring:
            return 90;
        case LampShape::ball:
        case LampShape::tube:
            break;
    }
    return 180;
}

bool burns(const Lamp& lamp) {
    return lamp.on && lamp.level > 0;
}

bool daylight_can_enter(const Setup& s) {
    const bool open = !s.place.room.openings.empty() || !s.place.model_openings.empty();
    return !s.day.dark && open;
}

void about_light(const Setup& s, Sentences& say) {
    const bool lamps = std::any_of(s.rig.lamps.begin(), s.rig.lamps.end(), burns);
    if (lamps || daylight_can_enter(s)) return;
    if (!s.day.dark)
        say.push_back("There is no light at all: no lamp is on and the place has no opening.");
    else
        say.push_back("There is no light at all: no lamp is on and the day is dark.");
}

void about_marks(const Setup& s, Sentences& say) {
    const auto& marks = s.rig.marks;
    const std::size_t before = say.size();
    for (std::size_t i = 0; i < marks.size() && !enough(say, before); ++i) {
        const Mark& m = marks[i];
        const Vec3 chest = m.at + Vec3(0, 0, 1);
        if (!inside(s.place, chest)) say.push_back("Mark " + in_quotes(m.name) + " lies outside the room.");
        const Build build = build_of(m.person);
        const double top = static_cast<double>(m.at.z) + build.eyes + build.eyes_under_crown;
        if (inside(s.place, chest) && top > s.place.upper.z)
            say.push_back("The person on mark " + in_quotes(m.name) + " is " + plain(std::round(top * 100) / 100) +
                          " m high under a ceiling of " +
                          plain(std::round(static_cast<double>(s.place.upper.z) * 100) / 100) + " m.");
        if (const Box* b = box_around(s.place, face_of(m)))
            say.push_back("The face on mark " + in_quotes(m.name) + " is inside " + in_quotes(b->name) + ".");
        for (std::size_t j = 0; j < i && !enough(say, before); ++j)
            if ((marks[j].at - m.at).length() < near_marks)
                say.push_back("Marks " + in_quotes(marks[j].name) + " and " + in_quotes(m.name) + " are " +
                              plain(std::round((marks[j].at - m.at).length() * 100) / 100) + " m apart.");
    }
}

std::string outside_words(const Place& place, const Lamp& lamp, const std::string& name) {
    std::vector<std::string> through, blocked;
    std::string hung, by;
    for (const Inlet& inlet : inlets(place, lamp.at, lamp.aim, reach_of(lamp))) {
        (inlet.gets_in ? through : blocked).push_back(inlet.name);
        if (!inlet.gets_in) by = inlet.blocked_by;
        if (inlet.gets_in && !inlet.hung.empty()) hung = ", but " + inlet.hung;
    }
    if (!through.empty())
        return name + " stands outside and can shine in through " + in_a_list(through) + hung +
               "; it needs cover from rain and wind.";
    if (!blocked.empty())
        return name + " stands outside, and " + in_quotes(by) + " is between its beam and " + in_a_list(blocked) + ".";
    return name + " stands outside and shines in through no opening.";
}

void about_lamps(const Setup& s, Sentences& say) {
    const std::size_t before = say.size();
    for (const Lamp& lamp : s.rig.lamps) {
        if (enough(say, before)) return;
        const std::string name = "Lamp " + in_quotes(lamp.name);
        if (in_wall(s.place, lamp.at)) {
            say.push_back(name + " is inside a wall.");
        } else if (!inside(s.place, lamp.at)) {
            say.push_back(outside_words(s.place, lamp, name));
        }
        if (const Box* b = box_around(s.place, lamp.at)) say.push_back(name + " is inside " + in_quotes(b->name) + ".");

        // A bulb or a table lamp may well stand on something.
        const bool on_a_stand = lamp.shape == LampShape::hard || lamp.shape == LampShape::box;
        if (const Box* b = on_a_stand ? box_under(s.place, lamp.at) : nullptr)
            say.push_back(name + " is over " + in_quotes(b->name) + ": its stand needs an arm, or stands on it.");

        const double amount = photometric(lamp.intensity_or_flux);
        const bool beam = lamp.output == Lamp::Output::candela && lamp.shape == LampShape::hard;
        const double flux = lamp.output == Lamp::Output::lumen ? amount
                            : beam                             ? amount * beam_solid_angle(lamp.beam)
                                                               : 0;
        if (flux > most_head_flux)
            say.push_back(
                name + " puts out " + plain(std::round(flux / 1000)) + ",000 lm" +
                (beam ? " in its beam alone (peak candela times beam solid angle)" : "") +
                "; the largest head that runs off one socket has about 110,000 lm bare. Is the output right?");
    }
}

void about_panels(const Setup& s, Sentences& say) {
    const std::size_t before = say.size();
    for (const Panel& p : s.rig.panels) {
        if (enough(say, before)) return;
        const std::string name = std::string("The ") + word_of(p.kind) + " " + in_quotes(p.name);
        if (!s.place.has_room) continue;
        // The width lies level unless rolled.
        Vec3 across = Vec3(0, 0, 1).cross(p.facing);
        across = across.length() < 1e-4F ? Vec3(1, 0, 0) : across.normalized();
        const Vec3 up = p.facing.cross(across);
        const double r = radians(Degree{p.roll});
        const Vec3 w = (across * static_cast<float>(std::cos(r)) + up * static_cast<float>(std::sin(r))) *
                       static_cast<float>(p.width / 2);
        const Vec3 h = (up * static_cast<float>(std::cos(r)) - across * static_cast<float>(std::sin(r))) *
                       static_cast<float>(p.height / 2);
        int in = 0;
        for (const Vec3& corner : {p.at + w + h, p.at + w - h, p.at - w + h, p.at - w - h})
            in += inside(s.place, corner) ? 1 : 0;
        if (in == 4) continue;
        if (!inside(s.place, p.at) && in == 0) {
            say.push_back(name + (in_wall(s.place, p.at) ? " is inside a wall."
                                                         : " stands outside; wind on it is a load, tie it down."));
            continue;
        }
        say.push_back(name + " touches or crosses a wall, the floor or the ceiling; it is used as it is.");
    }
}

void about_cameras(const Setup& s, Sentences& say) {
    const std::size_t before = say.size();
    for (const Camera& c : s.rig.cameras) {
        if (enough(say, before)) return;
        if (!inside(s.place, c.at)) say.push_back("Camera " + in_quotes(c.name) + " stands outside the room.");
        if (const Box* b = box_around(s.place, c.at))
            say.push_back("Camera " + in_quotes(c.name) + " is inside " + in_quotes(b->name) + ".");
    }
}

/// One that lies on something is put down on it; one deeper in it reads nothing.
void about_meters(const Setup& s, Sentences& say) {
    constexpr float put_down = 0.004F;  // m
    const std::size_t before = say.size();
    for (const Meter& m : s.rig.meters) {
        if (enough(say, before)) return;
        const std::string name = "Meter " + in_quotes(m.name);
        const Box* b = box_around(s.place, m.at);
        if (b != nullptr && box_around(s.place, m.at + m.facing.normalized() * put_down) == b)
            say.push_back(name + " is inside " + in_quotes(b->name) + ": no light gets there.");
        if (in_wall(s.place, m.at) && in_wall(s.place, m.at + m.facing.normalized() * put_down))
            say.push_back(name + " is inside a wall: no light gets there.");
    }
}

void cautions(const Setup& s, Sentences& say) {
    const bool lamps = std::any_of(s.rig.lamps.begin(), s.rig.lamps.end(), [](const Lamp& l) { return l.on; });
    if (!lamps && s.rig.panels.empty()) return;
    const std::size_t before = say.size();
    for (const Lamp& lamp : s.rig.lamps)
        for (const Panel& p : s.rig.panels)
            if (!enough(say, before) && lamp.on && (lamp.at - p.at).length() < near_heat)
                say.push_back("Lamp " + in_quotes(lamp.name) + " is within " + plain(near_heat) + " m of the " +
                              word_of(p.kind) + " " + in_quotes(p.name) +
                              ": keep the clearance that the lamp's maker asks for, it gets hot.");
    std::vector<std::string> high;
    for (const Lamp& lamp : s.rig.lamps)
        if (lamp.at.z > overhead) high.push_back(lamp.name);
    for (const Panel& p : s.rig.panels)
        if (p.at.z > overhead || (std::abs(p.facing.z) > 0.7F && p.at.z > 1.2)) high.push_back(p.name);
    if (!high.empty())
        say.push_back("Overhead or high: " + in_a_list(high) +
                      ". Rated fixings, a second safety line, bags on the stands, and somebody qualified.");
    if (lamps)
        say.push_back(
            "Find out which sockets share a circuit and what its breaker carries before lamps are plugged in.");
    say.emplace_back(planning_caution);
}

}  // namespace

std::vector<std::string> careful_remarks(const Setup& s) {
    Sentences say;
    about_light(s, say);
    about_marks(s, say);
    about_lamps(s, say);
    about_panels(s, say);
    about_cameras(s, say);
    about_meters(s, say);
    cautions(s, say);
    return say;
}

}  // namespace rushlight
