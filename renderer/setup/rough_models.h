// Models that the file names, each read once however many set-ups hold it.
#pragma once

#include "setup/layered_table.h"
#include "setup/rough_model.h"

#include <map>
#include <string>

namespace rushlight {

class RoughModels {
public:
    /// `file_key` and `otherwise_key` name the keys of the path and of the finish for materials not named.
    const RoughModel& read(const LayeredTable& table, std::string_view file_key, std::string_view otherwise_key,
                           const Vec3& move, bool openings_allowed);

private:
    std::map<std::string, RoughModel> models_;  // by everything that shapes the reading
    std::size_t triangles_ = 0;
};

}  // namespace rushlight
