// A request and its answer, whatever carries them.
#pragma once

#include "pictures/words/json_value.h"

#include <map>
#include <memory>
#include <string>

namespace rushlight::desk {

struct Request {
    std::string method, path, body;
    std::map<std::string, std::string> query;

    std::string of(const std::string& name, const std::string& otherwise = "") const {
        const auto found = query.find(name);
        return found == query.end() ? otherwise : found->second;
    }
};

struct Answer {
    int status = 200;
    std::string type = "application/json";
    std::shared_ptr<const std::string> body;
};

inline Answer answer(const JsonValue& value, int status = 200) {
    return {status, "application/json", std::make_shared<const std::string>(value.dump())};
}
/// One clear line.
inline Answer refusal(int status, const std::string& line) {
    return answer({{"message", json_text(line)}}, status);
}

}  // namespace rushlight::desk
