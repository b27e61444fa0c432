// What pages are told.
#pragma once

#include "desk/light/live_light.h"
#include "pictures/words/json_value.h"

#include <gtest/gtest.h>

#include <chrono>
#include <functional>
#include <memory>
#include <string>

namespace rushlight::desk {

/// What a page is told of one kind, in order, until `enough`.
inline JsonValue wait_for(const std::shared_ptr<OpenPage>& open_page, const std::string& kind,
                          const std::function<bool(const JsonValue&)>& enough) {
    const Clock clock;
    while (clock.seconds() < 60) {
        const auto event = open_page->events->next(std::chrono::milliseconds(100));
        const std::string head = "event: " + kind + "\ndata: ";
        if (!event || event->compare(0, head.size(), head) != 0) continue;
        JsonValue data = JsonValue::parse(event->substr(head.size()));
        if (enough(data)) return data;
    }
    ADD_FAILURE() << "no such " << kind << " came";
    return {};
}

inline double lux_of(const JsonValue& layer, const JsonValue& now) {
    double sum = 0;
    for (std::size_t b = 0; b < bands; ++b)
        sum += luminous_efficacy * y_bar[b] * layer[b].get<double>() * now[b].get<double>();
    return sum;
}

}  // namespace rushlight::desk
