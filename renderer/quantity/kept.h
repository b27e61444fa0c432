// Work that is not done twice. All may be asked by several threads; what is being made makes the others wait.
#pragma once

#include <algorithm>
#include <cstddef>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <variant>

namespace rushlight {

/// The last few, by what they were made from.
template <class Key, class Value>
class Lately {
public:
    explicit Lately(std::size_t most) : most_(most) {}

    template <class Make>
    std::shared_ptr<const Value> get(const Key& key, const Make& make) {
        const std::lock_guard lock(mutex_);
        const auto known = std::find_if(kept_.begin(), kept_.end(), [&](const auto& k) { return k.first == key; });
        if (known != kept_.end()) {
            kept_.splice(kept_.begin(), kept_, known);
        } else {
            kept_.emplace_front(key, std::make_shared<const Value>(make()));
            if (kept_.size() > most_) kept_.pop_back();
        }
        return kept_.front().second;
    }

private:
    const std::size_t most_;
    std::mutex mutex_;
    std::list<std::pair<Key, std::shared_ptr<const Value>>> kept_;  // the latest first
};

/// By what they are made from, for as long as anybody holds them.
template <class Value>
class StillHeld {
public:
    template <class Make>
    std::shared_ptr<const Value> get(const std::string& key, const Make& make) {
        const std::lock_guard lock(mutex_);
        if (const auto known = held_.find(key); known != held_.end())
            if (auto value = known->second.lock()) return value;
        std::erase_if(held_, [](const auto& h) { return h.second.expired(); });
        auto value = std::make_shared<const Value>(make());
        held_[key] = value;
        return value;
    }

private:
    std::mutex mutex_;
    std::map<std::string, std::weak_ptr<const Value>> held_;
};

/// What was made of a thing, in this way or that, for as long as anybody holds the thing.
template <class Thing, class Made, class Way = std::monostate>
class MadeOf {
public:
    template <class Make>
    std::shared_ptr<const Made> get(const std::shared_ptr<const Thing>& thing, const Make& make, const Way& way = {}) {
        const std::lock_guard lock(mutex_);
        std::erase_if(kept_, [](const auto& k) { return k.second.thing.expired(); });
        auto& [owner, made] = kept_[{thing.get(), way}];
        if (!made) {
            made = make();
            owner = thing;
        }
        return made;
    }

private:
    struct One {
        std::weak_ptr<const Thing> thing;
        std::shared_ptr<const Made> made;
    };
    std::mutex mutex_;
    std::map<std::pair<const Thing*, Way>, One> kept_;
};

}  // namespace rushlight
