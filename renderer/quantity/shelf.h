// Where shapes that take long to make are kept from one run of the program to the next. The program says where, once,
// at its start; a test, or a program that says nothing, keeps none.
#pragma once

#include <atomic>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace rushlight {

/// May be asked by several threads at once.
class Shelf {
public:
    virtual ~Shelf() = default;
    virtual std::optional<std::string> find(const std::string& key) = 0;
    virtual void keep(const std::string& key, std::string_view bytes) = 0;
};

inline std::atomic<Shelf*>& the_shelf() {
    static std::atomic<Shelf*> shelf{nullptr};
    return shelf;
}

/// `make()`, or what an earlier run of the same program made of the same `key`. `unpack` gives nothing where the bytes
/// are not such a thing.
template <class Make, class Pack, class Unpack>
auto from_the_shelf(const std::string& key, const Make& make, const Pack& pack, const Unpack& unpack) {
    Shelf* const shelf = the_shelf().load();
    if (shelf != nullptr)
        if (const auto bytes = shelf->find(key))
            if (auto kept = unpack(*bytes)) return *std::move(kept);
    auto made = make();
    if (shelf != nullptr) shelf->keep(key, pack(made));
    return made;
}

}  // namespace rushlight
