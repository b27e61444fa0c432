// A fingerprint of what an answer hangs on: two that are equal are of the same content, for all that chance can do
// (128 bits of XXH3). Only this file's .cpp sees the hash library.
#pragma once

#include "quantity/space.h"
#include "quantity/spectrum.h"

#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace rushlight {

/// 32 hexadecimal digits of `bytes`.
std::string fingerprint(std::string_view bytes);

/// Things added one after the other; each so that it cannot be taken for a different thing at the same place.
class Content {
public:
    template <class Number>
    requires std::is_arithmetic_v<Number> || std::is_enum_v<Number> Content& operator<<(Number n) {
        bytes_.append(reinterpret_cast<const char*>(&n), sizeof n);
        return *this;
    }
    Content& operator<<(std::string_view text) {
        *this << text.size();
        bytes_ += text;
        return *this;
    }
    Content& operator<<(const std::string& text) { return *this << std::string_view(text); }
    Content& operator<<(const char* text) { return *this << std::string_view(text); }
    Content& operator<<(const Vec3& v) { return *this << v.x << v.y << v.z; }
    Content& operator<<(const Spectrum& s) {
        for (const float band : s.band) *this << band;
        return *this;
    }
    template <class T>
    Content& operator<<(const std::vector<T>& all) {
        *this << all.size();
        for (const T& one : all) *this << one;
        return *this;
    }

    std::string fingerprint() const { return rushlight::fingerprint(bytes_); }

private:
    std::string bytes_;
};

}  // namespace rushlight
