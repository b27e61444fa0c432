// People who are ready to be put on a mark, by invented first names: nobody's likeness.
#pragma once

#include "setup/plain/rig.h"

#include <string_view>
#include <vector>

namespace rushlight {

struct CastPerson {
    std::string_view name;
    StandIn who;
};
const std::vector<CastPerson>& cast_people();

}  // namespace rushlight
