// Models and pictures that the file names, each read once however many set-ups hold it: and not again when the set-up
// file is read anew while somebody still holds them, unless their own file has changed.
#pragma once

#include "setup/keys/layered_table.h"
#include "setup/model/rough_model.h"
#include "setup/picture/hung_picture.h"

#include <map>
#include <memory>
#include <string>

namespace rushlight {

class RoughModels {
public:
    /// `file_key` and `otherwise_key` name the keys of the path and of the finish for materials not named.
    std::shared_ptr<const RoughModel> read(const LayeredTable& table, std::string_view file_key,
                                           std::string_view otherwise_key, const Vec3& move, bool openings_allowed);

    /// `foot`: the middle of its lower edge.
    std::shared_ptr<const Triangles> picture(const LayeredTable& table, const Vec3& foot, const Vec3& seen_from);

private:
    void count(const Triangles& t, const LayeredTable& table, std::string_view key);
    // By everything that shapes the reading.
    std::map<std::string, std::shared_ptr<const RoughModel>> models_;
    std::map<std::string, std::shared_ptr<const Triangles>> hung_;
    std::map<std::string, std::shared_ptr<const PictureCells>> pictures_;  // by path
    std::size_t triangles_ = 0, finishes_ = 0, bytes_ = 0;
};

inline std::shared_ptr<const Triangles> triangles_of(const std::shared_ptr<const RoughModel>& model) {
    return {model, &model->triangles};
}

}  // namespace rushlight
