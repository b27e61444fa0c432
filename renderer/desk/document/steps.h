// Steps of a text, back and forth. Kept without end as people count: the oldest are forgotten past many megabytes.
#pragma once

#include <cstddef>
#include <deque>
#include <string>

namespace rushlight::desk {

/// One step of the text: at `at`, `before` became `after`.
struct Step {
    std::size_t at = 0;
    std::string before, after;
    std::string token;  // steps of one drag share one

    static Step between(const std::string& old_text, const std::string& new_text, std::string token);
    void undo(std::string& text) const { text.replace(at, after.size(), before); }
    void redo(std::string& text) const { text.replace(at, before.size(), after); }
    std::size_t bytes() const { return sizeof *this + before.size() + after.size() + token.size(); }
};

class Steps {
public:
    static constexpr std::size_t most_bytes = std::size_t{64} << 20;

    bool empty() const { return all_.empty(); }
    const Step& last() const { return all_.back(); }
    std::size_t count() const { return all_.size(); }
    std::size_t bytes() const { return bytes_; }
    void push(Step step);
    Step pop();
    void clear();

private:
    std::deque<Step> all_;
    std::size_t bytes_ = 0;
};

}  // namespace rushlight::desk
