#include "desk/bare.h"

#include "results/calibration.h"
#include "setup/content.h"

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

std::string scales_key(const Setup& setup) {
    Content content;
    for (const MeasuredLight& m : setup.rig.measured)
        content << m.meter.receptor << m.meter.at << m.meter.facing << m.lux << m.source;
    add_content(content, as_scouted(setup));
    return content.key();
}

}  // namespace rushlight::desk
