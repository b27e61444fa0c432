// A lamp whose light goes where a photometric file says. The file knows the lamp from afar only; near by, every part of
// its opening is taken to shine alike: radiance = I(direction) / (area of the opening seen from there).
#pragma once

#include "quantity/spectrum.h"
#include "scene/light/lamps.h"
#include "setup/luminaire/luminaire.h"

#include <array>
#include <optional>
#include <vector>

namespace rushlight {

/// Directions of a table drawn by the light that goes there: cells of its grid by their flux, even over the solid
/// angle of each.
class TableDirections {
public:
    explicit TableDirections(const IntensityTable& table);
    struct Drawn {
        Vec3 direction{0, 0, 1};
        float pdf = 0;  // per steradian
    };
    Drawn draw(float u, float v) const;
    float pdf(const Vec3& direction) const;

private:
    std::size_t cells_a_column() const { return table_.polar().size() - 1; }
    float pdf(std::size_t i, std::size_t j) const;

    IntensityTable table_;           // finer than the file's, so that cells are nearly even
    std::vector<double> columns_;    // share of the flux up to and with each column
    std::vector<double> in_column_;  // share of the column's flux up to and with each cell
};

/// The opening: a flat face, or, where light goes sideways and back too, the front, back and sides of a box or drum.
class LuminaireLamp {
public:
    explicit LuminaireLamp(const Lamp& lamp);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }
    Mesh glow() const;

private:
    /// A flat face cut into triangles of one area around its middle.
    struct Face {
        Vec3 centre, normal;
        std::vector<Vec3> corners;
        float area;
        std::uint32_t first_triangle;
    };
    static constexpr int round_corners = 24;

    void add_face(const Vec3& centre, const Vec3& normal, std::vector<Vec3> corners);
    /// The cosine of a face towards a unit direction: zero where the face does not show. A sheet that shines back shows
    /// on both sides.
    float cosine(const Face& face, const Vec3& outward) const;
    float projected_area(const Vec3& outward) const;
    Vec3 in_frame(const Vec3& d) const { return {across_.dot(d), up_.dot(d), aim_.dot(d)}; }
    /// Share of the choice that a face gets as seen from a point, before they are made to sum to one.
    float weight(const Face& face, const Vec3& from) const;
    float sum_of_weights(const Vec3& from) const;
    static Vec3 point(const Face& face, float u, float v, std::uint32_t& triangle);
    const Face& face_of(std::uint32_t triangle) const;

    std::shared_ptr<const Luminaire> luminaire_;
    Vec3 at_, across_, up_, aim_;
    std::vector<Face> faces_;
    bool both_sides_ = false;
    TableDirections directions_;
    Spectrum per_candela_;  // light for each candela of the table
    float candela_per_candela_;
    double flux_;
    float reach_;  // m from the middle to the farthest corner
};

}  // namespace rushlight
