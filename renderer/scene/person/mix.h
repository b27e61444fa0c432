// Who a body is: a mix of shapes by sex, age, build and a face of its own.
#pragma once

#include "scene/person/body_data.h"
#include "setup/plain/rig.h"

namespace rushlight {

/// What shapes a body, whatever it wears and does.
struct Looks {
    float woman = 0.5F;                               // 0 a man .. 1 a woman
    float age = 35;                                   // years
    float weight = 0;                                 // -1 thin .. 0 .. 1 heavy
    std::array<float, 3> roots{0.34F, 0.33F, 0.33F};  // shares of three shapes of people; sum 1
    std::uint32_t face = 1;                           // which face of all those
    Expression expression = Expression::neutral;

    bool operator==(const Looks&) const = default;
};
Looks looks_of(const StandIn& person);

/// The body at rest in its own metres, arms lifted, eyes closed for none of it.
Points mixed_body(const Looks& looks);

}  // namespace rushlight
