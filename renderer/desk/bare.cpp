#include "desk/bare.h"

#include "setup/content.h"

#include <algorithm>

namespace rushlight::desk {

Setup bare(Setup setup) {
    for (Lamp& lamp : setup.rig.lamps) {
        lamp.on = true;
        lamp.level = 1;
        lamp.gel = Spectrum{1.0F};
    }
    return setup;
}

std::string light_key(const Setup& bare) {
    Content content;
    add_content(content, bare);
    return content.key();
}

std::string scales_key(Setup setup) {
    Content content;
    for (const MeasuredLight& m : setup.rig.measured)
        content << m.meter.receptor << m.meter.at << m.meter.facing << m.lux << m.source;
    setup.rig.marks.clear();
    setup.rig.panels.clear();
    setup.day = setup.scouted;
    add_content(content, bare(setup));
    return content.key();
}

std::vector<Spectrum> now_of_bare(const Setup& setup, const std::vector<std::string>& sources) {
    std::vector<Spectrum> now;
    for (const std::string& source : sources) {
        const auto& lamps = setup.rig.lamps;
        const auto lamp = std::find_if(lamps.begin(), lamps.end(), [&](const Lamp& l) { return l.name == source; });
        now.push_back(lamp == lamps.end() ? Spectrum{1.0F} : lamp->burning());
    }
    return now;
}

}  // namespace rushlight::desk
