// Caches. Several threads may ask at once: while one makes a thing, the others wait for it.
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

/// The last few things made, found again by the key they were made from.
template <class Key, class Value>
class LastFew {
public:
    explicit LastFew(std::size_t most) : most_(most) {}

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

/// Things found again by the key they were made from, for as long as anybody holds them.
template <class Value>
class WhileHeld {
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

/// Things derived from another thing, one for each way of deriving it, for as long as anybody holds the thing they came
/// from.
template <class Thing, class Made, class Way = std::monostate>
class DerivedFrom {
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
