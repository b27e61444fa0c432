// A traced field put under other levels and gels, and kept as bytes.
#include "paths/field.h"
#include "quantity/colour.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// X, Y, Z of part of a layer behind a gel: that part is taken to have the colour of the whole.
Vec3 behind(const Spectrum& share, const Spectrum& whole, const Vec3& part) {
    const Tristimulus before = tristimulus(whole);
    const Tristimulus after = tristimulus(whole * share);
    const auto ratio = [](double a, double b) { return b > 0 ? static_cast<float>(a / b) : 0.0F; };
    return {part.x * ratio(after.x, before.x), part.y * ratio(after.y, before.y), part.z * ratio(after.z, before.z)};
}

/// Standard error of the sum after each source's was multiplied by its ratio. `before` is the error of the sum as
/// traced, from which what the sources have in common is told.
double error_of_sum(std::span<const double> own, std::span<const double> ratio, double before) {
    if (!std::isfinite(before)) return before;
    double alone = 0, alone_after = 0, pairs = 0, pairs_after = 0;
    double sum = 0, sum_after = 0;
    for (std::size_t s = 0; s < own.size(); ++s) {
        const double after = own[s] * ratio[s];
        pairs += own[s] * sum;
        pairs_after += after * sum_after;
        sum += own[s];
        sum_after += after;
        alone += own[s] * own[s];
        alone_after += after * after;
    }
    const double correlation = pairs > 0 ? std::clamp((before * before - alone) / (2 * pairs), -1.0, 1.0) : 0.0;
    return std::sqrt(std::max(0.0, alone_after + 2 * correlation * pairs_after));
}

}  // namespace

Field relit(Field field, std::span<const Spectrum> share) {
    if (std::all_of(share.begin(), share.end(), [](const Spectrum& s) { return s == Spectrum{1.0F}; })) return field;
    std::vector<double> own(field.sources);
    std::vector<double> ratio(field.sources);
    for (std::size_t p = 0; p < field.points; ++p) {
        float sum = 0;
        for (std::size_t s = 0; s < field.sources; ++s) {
            Spectrum& layer = field.layers[s][p];
            const float before = photometric(layer);
            field.bounced[s][p] = behind(share[s], layer, field.bounced[s][p]);
            layer *= share[s];
            const float after = photometric(layer);
            sum += after;
            own[s] = static_cast<double>(field.own_error[s][p]);
            ratio[s] = before > 0 ? static_cast<double>(after / before) : 0.0;
            field.own_error[s][p] = static_cast<float>(own[s] * ratio[s]);
        }
        field.mean[p] = sum;
        field.error[p] = static_cast<float>(error_of_sum(own, ratio, static_cast<double>(field.error[p])));
    }
    reckon_noise(field);
    return field;
}

void pack(const Field& field, Packer& to) {
    to.put(field.points);
    to.put(field.sources);
    to.put(field.passes);
    to.put(field.noise);
    to.put(field.seconds);
    to.put(field.mean);
    to.put(field.error);
    to.put(field.soft);
    for (std::size_t s = 0; s < field.sources; ++s) {
        to.put(field.layers.at(s));
        to.put(field.bounced.at(s));
        to.put(field.own_error.at(s));
    }
}

std::optional<Field> unpack_field(Unpacker& from) {
    Field field;
    field.points = from.get<std::size_t>();
    field.sources = from.get<std::size_t>();
    field.passes = from.get<std::uint32_t>();
    field.noise = from.get<double>();
    field.seconds = from.get<double>();
    field.mean = from.list<float>();
    field.error = from.list<float>();
    field.soft = from.list<Vec3>();
    const auto all = [&](const auto& list) { return from.sound() && list.size() == field.points; };
    if (!all(field.mean) || !all(field.error) || !all(field.soft)) return std::nullopt;
    for (std::size_t s = 0; s < field.sources; ++s) {
        field.layers.push_back(from.list<Spectrum>());
        field.bounced.push_back(from.list<Vec3>());
        field.own_error.push_back(from.list<float>());
        if (!all(field.layers.back()) || !all(field.bounced.back()) || !all(field.own_error.back()))
            return std::nullopt;
    }
    return field;
}

}  // namespace rushlight
