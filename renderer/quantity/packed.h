// Numbers and lists as bytes and back. What is read is never trusted: a list that claims to be longer than what is
// left, or a read past the end, marks the whole as broken and gives nothing.
#pragma once

#include <cstddef>
#include <cstring>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace rushlight {

/// Bytes and nothing else; the vectors of the vector library copy themselves by hand, and are so all the same.
template <class T>
concept Plain = std::is_standard_layout_v<T> && std::is_trivially_destructible_v<T>;

class Packer {
public:
    template <Plain T>
    void put(const T& value) {
        bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
    }
    template <Plain T>
    void put(const std::vector<T>& list) {
        put(list.size());
        bytes.append(reinterpret_cast<const char*>(list.data()), list.size() * sizeof(T));
    }
    /// The numbers alone, for somebody who knows how many they are.
    template <Plain T>
    void put_all(std::span<T> values) {
        bytes.append(reinterpret_cast<const char*>(values.data()), values.size_bytes());
    }
    std::string bytes;
};

class Unpacker {
public:
    explicit Unpacker(std::string_view bytes) : left_(bytes) {}

    template <Plain T>
    T get() {
        T value{};
        copy(&value, sizeof value);
        return value;
    }
    template <Plain T>
    std::vector<T> list() {
        const auto count = get<std::size_t>();
        if (broken_ || count > left_.size() / sizeof(T)) {
            broken_ = true;
            return {};
        }
        std::vector<T> values(count);
        copy(values.data(), count * sizeof(T));
        return values;
    }
    template <Plain T>
    void fill(std::span<T> values) {
        copy(values.data(), values.size_bytes());
    }
    std::size_t left() const { return left_.size(); }
    /// True if everything that was asked for was there.
    bool sound() const { return !broken_; }
    bool finished() const { return sound() && left_.empty(); }

private:
    void copy(void* to, std::size_t count) {
        if (count > left_.size()) broken_ = true;
        if (broken_ || count == 0) return;
        std::memcpy(to, left_.data(), count);
        left_.remove_prefix(count);
    }
    std::string_view left_;
    bool broken_ = false;
};

}  // namespace rushlight
