#include "desk/light/at_full.h"

#include "setup/plain/content.h"

namespace rushlight::desk {

Setup at_full(Setup setup) {
    for (Lamp& lamp : setup.rig.lamps) {
        lamp.on = true;
        lamp.level = 1;
        lamp.gel = Spectrum{1.0F};
    }
    return setup;
}

std::string light_fingerprint(const Setup& at_full) {
    Content content;
    add_content(content, at_full);
    return content.fingerprint();
}

}  // namespace rushlight::desk
