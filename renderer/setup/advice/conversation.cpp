#include "setup/advice/conversation.h"

#include "setup/plain/shot.h"
#include "setup/text/words.h"

#include <cmath>

namespace rushlight {

std::vector<std::string> crossed_line_remarks(const std::vector<Setup>& setups) {
    constexpr double on_the_line = 0.1;  // m
    std::vector<std::string> say;
    const Setup* first = nullptr;
    std::string from, to;
    bool left = false;
    for (const Setup& s : setups) {
        const auto line = line_of_action(s.rig.marks);
        if (!line || s.camera < 0) continue;
        const Camera& camera = *s.its_camera();
        const double off = line->off(camera.at);
        if (std::abs(off) < on_the_line) continue;
        const std::string &here = s.rig.marks[line->first].name, &there = s.rig.marks[line->second].name;
        if (first == nullptr) {
            first = &s;
            from = here;
            to = there;
            left = off > 0;
        } else if (here == from && there == to && (off > 0) != left) {
            say.push_back("Camera " + in_quotes(camera.name) + " of set-up " + in_quotes(s.name) +
                          " stands across the line from " + in_quotes(from) + " to " + in_quotes(to) +
                          ", seen from set-up " + in_quotes(first->name) +
                          ": cut together, both people look the same way and swap sides.");
        }
    }
    return say;
}

}  // namespace rushlight
