// Caches. Several threads may ask at once: while one makes a thing, others wait if they want the same.
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

/// A thing that is made once, by whoever asks for it first.
template <class Value>
class MadeOnce {
public:
    template <class Make>
    std::shared_ptr<const Value> get(const Make& make) {
        const std::lock_guard lock(mutex_);
        if (!value_) value_ = make();
        return value_;
    }

private:
    std::mutex mutex_;
    std::shared_ptr<const Value> value_;
};

/// The last few things made, found again by the key they were made from.
template <class Key, class Value>
class LastFew {
public:
    explicit LastFew(std::size_t most) : most_(most) {}

    template <class Make>
    std::shared_ptr<const Value> get(const Key& key, const Make& make) {
        return of(key)->get([&] { return std::make_shared<const Value>(make()); });
    }

private:
    using Place = std::shared_ptr<MadeOnce<Value>>;
    Place of(const Key& key) {
        const std::lock_guard lock(mutex_);
        const auto known = std::find_if(kept_.begin(), kept_.end(), [&](const auto& k) { return k.first == key; });
        if (known != kept_.end()) {
            kept_.splice(kept_.begin(), kept_, known);
        } else {
            kept_.emplace_front(key, std::make_shared<MadeOnce<Value>>());
            if (kept_.size() > most_) kept_.pop_back();
        }
        return kept_.front().second;
    }

    const std::size_t most_;
    std::mutex mutex_;
    std::list<std::pair<Key, Place>> kept_;  // the latest first
};

/// Things found again by the key they were made from, for as long as anybody holds them. One is made at a time.
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
        return of(thing, way)->get(make);
    }

private:
    struct One {
        std::weak_ptr<const Thing> thing;
        std::shared_ptr<MadeOnce<Made>> made;
    };
    std::shared_ptr<MadeOnce<Made>> of(const std::shared_ptr<const Thing>& thing, const Way& way) {
        const std::lock_guard lock(mutex_);
        std::erase_if(kept_, [](const auto& k) { return k.second.thing.expired(); });
        One& one = kept_[{thing.get(), way}];
        if (!one.made) one = {thing, std::make_shared<MadeOnce<Made>>()};
        return one.made;
    }

    std::mutex mutex_;
    std::map<std::pair<const Thing*, Way>, One> kept_;
};

}  // namespace rushlight
