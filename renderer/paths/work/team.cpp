#include "paths/work/team.h"

namespace rushlight {

void Team::expect_alike(std::string_view mine, const std::string& otherwise) {
    const std::vector<std::string> all = exchange(mine);
    for (std::size_t i = 1; i < all.size(); ++i)
        if (all[i] != all.front()) throw TeamError(name_of(i) + " " + otherwise, TeamError::Cause::different_input);
}

}  // namespace rushlight
