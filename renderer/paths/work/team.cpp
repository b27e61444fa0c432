#include "paths/work/team.h"

namespace rushlight {

void Team::expect_alike(std::string_view mine, const std::string& otherwise) {
    constexpr int wrong_input = 2;
    const std::vector<std::string> all = exchange(mine);
    for (std::size_t i = 1; i < all.size(); ++i)
        if (all[i] != all.front()) throw TeamError(name_of(i) + " " + otherwise, wrong_input);
}

}  // namespace rushlight
