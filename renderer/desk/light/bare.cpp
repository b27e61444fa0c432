#include "desk/light/bare.h"

#include "setup/plain/content.h"

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

}  // namespace rushlight::desk
