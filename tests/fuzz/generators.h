// Files of every kind that people bring, made up line by line: mostly sound, with lies in counts, offsets, sizes, depth
// and names. The same seed gives the same files on every machine.
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight::fuzz {

class Dice {
public:
    explicit Dice(std::uint64_t seed) : random_(seed) {}

    std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random_() % n); }
    /// Once in `n` times.
    bool once_in(std::size_t n) { return below(n) == 0; }
    double within(double low, double high) {
        return low + (high - low) * static_cast<double>(random_() >> 11) / 9007199254740992.0;
    }
    template <class T>
    const T& of(const std::vector<T>& all) {
        return all[below(all.size())];
    }
    /// A count as it is, or one that is a lie.
    std::size_t count(std::size_t honest);
    /// A number as text: within the range, or, once in a while, hard to take.
    std::string number(double low, double high);
    /// A name: plain, long, odd, or with letters that a terminal obeys.
    std::string name();

private:
    std::mt19937_64 random_;
};

std::string a_setup_file(Dice& dice);
std::string a_kit_file(Dice& dice);
std::string an_lm63_file(Dice& dice);
std::string a_eulumdat_file(Dice& dice);
std::string a_measured_table(Dice& dice);

std::string an_obj_model(Dice& dice);
std::string a_material_file(Dice& dice);
/// Text with its buffers inside, or binary.
std::string a_gltf_model(Dice& dice);

/// PNG with sound checksums, TIFF, or one of `samples` with lies in its head.
std::string a_picture(Dice& dice, const std::vector<std::string>& samples);

}  // namespace rushlight::fuzz
