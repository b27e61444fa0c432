// A lamp's light by direction: candela on a grid of two angles, straight lines in between.
//
// A lamp's own frame is (across, up, aim): across runs along the length of the opening, which lies level when the
// lamp is not rolled. The grid's first angle is measured from a pole, the second around it:
//
//   type C  pole on the aim;   around from across, anticlockwise as seen from behind the lamp (0 across, 90 down)
//   type B  pole to the right; around from the aim upwards
//   type A  pole straight up;  around from the aim to the right      (right: as seen from behind the lamp)
#pragma once

#include "quantity/space.h"

#include <cstddef>
#include <vector>

namespace rushlight {

enum class PhotometricType { c, b, a };

class IntensityTable {
public:
    IntensityTable() = default;
    /// Degrees, rising. `polar` has two or more angles within 0..180, outside which it is dark. `around` has one
    /// (the same all round), or spans a whole turn, or less than that, outside which it is dark.
    /// `candela` holds one value a polar angle for the first `around`, then for the next; none is negative.
    IntensityTable(PhotometricType type, std::vector<float> polar, std::vector<float> around,
                   std::vector<float> candela);

    PhotometricType type() const { return type_; }
    const std::vector<float>& polar() const { return polar_; }
    const std::vector<float>& around() const { return around_; }
    /// One value a polar angle for the first angle around, then for the next.
    const std::vector<float>& candela() const { return candela_; }

    struct Angles {
        float polar = 0, around = 0;  // degrees; around within a whole turn from the table's first
    };
    /// The candela along a unit vector (across, up, aim).
    Angles angles(const Vec3& direction) const;
    Vec3 direction(double polar, double around) const;

    float candela(const Vec3& direction) const;
    float peak() const { return peak_; }
    /// Where the peak is: a unit vector.
    Vec3 peak_direction() const;

    /// Lumen: the exact integral of the table over the sphere, and over the cell after polar angle `i` and
    /// around angle `j`.
    double flux() const;
    double cell_flux(std::size_t i, std::size_t j) const;
    std::size_t cells_around() const { return around_.size() > 1 ? around_.size() - 1 : 1; }
    /// Degrees around that column of cells.
    double from(std::size_t j) const { return around_.size() > 1 ? around_[j] : around_[0]; }
    double to(std::size_t j) const { return around_.size() > 1 ? around_[j + 1] : around_[0] + 360.0; }

    /// The same light on a grid whose steps are no more than these.
    IntensityTable refined(double polar_step, double around_step) const;
    /// The same with the frame turned about the pole.
    IntensityTable turned(double degrees) const;

private:
    float at(std::size_t i, std::size_t j) const { return candela_[j * polar_.size() + i]; }

    PhotometricType type_ = PhotometricType::c;
    std::vector<float> polar_, around_, candela_;
    float peak_ = 0;
};

}  // namespace rushlight
