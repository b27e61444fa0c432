// Models and pictures that the file names, each read once however many set-ups hold it.
#pragma once

#include "setup/hung_picture.h"
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

    /// `foot`: the middle of its lower edge.
    const Triangles& picture(const LayeredTable& table, const Vec3& foot, const Vec3& seen_from);

private:
    void count(const Triangles& t, const LayeredTable& table, std::string_view key);
    std::map<std::string, RoughModel> models_;      // by everything that shapes the reading
    std::map<std::string, PictureCells> pictures_;  // by path
    std::map<std::string, Triangles> hung_;
    std::size_t triangles_ = 0;
};

}  // namespace rushlight
