#include "setup/luminaire/intensity_table.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace rushlight {

namespace {

constexpr float in_degrees = static_cast<float>(180.0 / pi);

/// Angles between neighbours split into even parts of no more than `step`.
std::vector<float> split(const std::vector<float>& angles, double step) {
    std::vector<float> finer;
    for (std::size_t i = 0; i + 1 < angles.size(); ++i) {
        const double from = angles[i], wide = angles[i + 1] - from;
        const int parts = std::max(1, static_cast<int>(std::ceil(wide / step - 1e-6)));
        for (int k = 0; k < parts; ++k) finer.push_back(static_cast<float>(from + wide * k / parts));
    }
    finer.push_back(angles.back());
    return finer;
}

/// The interval that holds `angle`, and how far into it: 0..1.
struct Place {
    std::size_t i = 0;
    float t = 0;
};
Place place(const std::vector<float>& angles, float angle) {
    const auto above = std::upper_bound(angles.begin() + 1, angles.end() - 1, angle);
    const auto i = static_cast<std::size_t>(above - angles.begin() - 1);
    return {i, std::clamp((angle - angles[i]) / (angles[i + 1] - angles[i]), 0.0F, 1.0F)};
}

}  // namespace

IntensityTable::IntensityTable(PhotometricType type, std::vector<float> polar, std::vector<float> around,
                               std::vector<float> candela)
    : type_(type), polar_(std::move(polar)), around_(std::move(around)), candela_(std::move(candela)) {
    if (polar_.size() < 2 || around_.empty() || candela_.size() != polar_.size() * around_.size())
        throw std::logic_error("an intensity table without its values");
    peak_ = *std::max_element(candela_.begin(), candela_.end());
}

IntensityTable::Angles IntensityTable::angles(const Vec3& d) const {
    float x = d.x, y = -d.y, z = d.z;  // type C
    if (type_ == PhotometricType::b) x = d.z, y = d.y, z = -d.x;
    if (type_ == PhotometricType::a) x = d.z, y = -d.x, z = d.y;
    const float off = std::sqrt(x * x + y * y);
    Angles a{std::atan2(off, z) * in_degrees, off > 0 ? std::atan2(y, x) * in_degrees : 0.0F};
    a.around -= 360.0F * std::floor((a.around - around_.front()) / 360.0F);
    return a;
}

Vec3 IntensityTable::direction(double polar, double around) const {
    const double p = radians(Degree{polar}), a = radians(Degree{around});
    const auto x = static_cast<float>(std::sin(p) * std::cos(a)), y = static_cast<float>(std::sin(p) * std::sin(a)),
               z = static_cast<float>(std::cos(p));
    switch (type_) {
        case PhotometricType::b:
            return {-z, y, x};
        case PhotometricType::a:
            return {-y, z, x};
        case PhotometricType::c:
            break;
    }
    return {x, -y, z};
}

float IntensityTable::candela(const Vec3& d) const {
    const Angles a = angles(d);
    // Rounding must not darken the rim.
    constexpr float rim = 1e-4F;
    if (a.polar < polar_.front() - rim || a.polar > polar_.back() + rim) return 0;
    const Place p = place(polar_, a.polar);
    const auto column = [&](std::size_t j) { return at(p.i, j) * (1 - p.t) + at(p.i + 1, j) * p.t; };
    if (around_.size() == 1) return column(0);
    const float around = a.around > around_.front() + 360.0F - rim ? around_.front() : a.around;
    if (around > around_.back() + rim) return 0;
    const Place q = place(around_, around);
    return column(q.i) * (1 - q.t) + column(q.i + 1) * q.t;
}

Vec3 IntensityTable::peak_direction() const {
    const auto at = static_cast<std::size_t>(std::max_element(candela_.begin(), candela_.end()) - candela_.begin());
    return direction(polar_[at % polar_.size()], around_[at / polar_.size()]);
}

double IntensityTable::cell_flux(std::size_t i, std::size_t j) const {
    const std::size_t next = around_.size() > 1 ? j + 1 : j;
    const double before = (static_cast<double>(at(i, j)) + at(i, next)) / 2;
    const double after = (static_cast<double>(at(i + 1, j)) + at(i + 1, next)) / 2;
    const double a = radians(Degree{polar_[i]}), b = radians(Degree{polar_[i + 1]});
    // Integrals of sin and of (x - a) sin from a to b; the difference of cosines without cancelling.
    const double ring = 2 * std::sin((a + b) / 2) * std::sin((b - a) / 2);
    const double slope = std::sin(b) - std::sin(a) - (b - a) * std::cos(b);
    const double wide = radians(Degree{to(j) - from(j)});
    return std::max(0.0, wide * (before * ring + (after - before) / (b - a) * slope));
}

double IntensityTable::flux() const {
    double sum = 0;
    for (std::size_t j = 0; j < cells_around(); ++j)
        for (std::size_t i = 0; i + 1 < polar_.size(); ++i) sum += cell_flux(i, j);
    return sum;
}

IntensityTable IntensityTable::refined(double polar_step, double around_step) const {
    const std::vector<float> polar = split(polar_, polar_step);
    const std::vector<float> around = around_.size() > 1 ? split(around_, around_step) : around_;
    std::vector<float> candela;
    candela.reserve(polar.size() * around.size());
    for (const float a : around) {
        const Place q = around_.size() > 1 ? place(around_, a) : Place{};
        const std::size_t next = around_.size() > 1 ? q.i + 1 : q.i;
        for (const float b : polar) {
            const Place p = place(polar_, b);
            const auto column = [&](std::size_t j) { return at(p.i, j) * (1 - p.t) + at(p.i + 1, j) * p.t; };
            candela.push_back(column(q.i) * (1 - q.t) + column(next) * q.t);
        }
    }
    return {type_, polar, around, std::move(candela)};
}

IntensityTable IntensityTable::turned(double degrees) const {
    IntensityTable table = *this;
    for (float& a : table.around_) a += static_cast<float>(degrees);
    return table;
}

}  // namespace rushlight
