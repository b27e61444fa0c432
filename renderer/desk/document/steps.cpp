#include "desk/document/steps.h"

#include <algorithm>

namespace rushlight::desk {

Step Step::between(const std::string& old_text, const std::string& new_text, std::string token) {
    const std::size_t shorter = std::min(old_text.size(), new_text.size());
    std::size_t head = 0, tail = 0;
    while (head < shorter && old_text[head] == new_text[head]) ++head;
    while (tail < shorter - head && old_text[old_text.size() - 1 - tail] == new_text[new_text.size() - 1 - tail])
        ++tail;
    return {head, old_text.substr(head, old_text.size() - head - tail),
            new_text.substr(head, new_text.size() - head - tail), std::move(token)};
}

void Steps::push(Step step) {
    bytes_ += step.bytes();
    all_.push_back(std::move(step));
    while (bytes_ > most_bytes && all_.size() > 1) {  // the newest stays, however long
        bytes_ -= all_.front().bytes();
        all_.pop_front();
    }
}

Step Steps::pop() {
    Step step = std::move(all_.back());
    all_.pop_back();
    bytes_ -= step.bytes();
    return step;
}

void Steps::clear() {
    all_.clear();
    bytes_ = 0;
}

}  // namespace rushlight::desk
