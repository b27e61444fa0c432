#include "scene/light/luminaire_lamp.h"

#include "quantity/units.h"
#include "scene/surface/choices.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float least_cosine = 1e-4F;
// Steps of the grid that directions are drawn from: degrees.
constexpr double polar_step = 1.5, around_step = 10;

}  // namespace

// --- directions -----------------------------------------------------------------------------------------

TableDirections::TableDirections(const IntensityTable& table) : table_(table.refined(polar_step, around_step)) {
    double all = 0;
    for (std::size_t j = 0; j < table_.cells_around(); ++j) {
        double column = 0;
        const std::size_t first = in_column_.size();
        for (std::size_t i = 0; i < cells_a_column(); ++i) {
            column += table_.cell_flux(i, j);
            in_column_.push_back(column);
        }
        if (column > 0)
            for (std::size_t k = first; k < in_column_.size(); ++k) in_column_[k] /= column;
        all += column;
        columns_.push_back(all);
    }
    for (double& c : columns_) c /= all;
}

float TableDirections::pdf(std::size_t i, std::size_t j) const {
    const std::size_t k = j * cells_a_column() + i;
    const double column = columns_[j] - (j > 0 ? columns_[j - 1] : 0.0);
    const double cell = in_column_[k] - (i > 0 ? in_column_[k - 1] : 0.0);
    const double a = radians(Degree{table_.polar()[i]}), b = radians(Degree{table_.polar()[i + 1]});
    const double ring = 2 * std::sin((a + b) / 2) * std::sin((b - a) / 2);
    return static_cast<float>(column * cell / (ring * radians(Degree{table_.to(j) - table_.from(j)})));
}

TableDirections::Drawn TableDirections::draw(float u, float v) const {
    const auto pick = [](auto begin, auto end, double x) {
        return static_cast<std::size_t>(std::min(std::upper_bound(begin, end, x), end - 1) - begin);
    };
    const std::size_t j = pick(columns_.begin(), columns_.end(), u);
    const double before = j > 0 ? columns_[j - 1] : 0.0, wide = columns_[j] - before;
    const double s = wide > 0 ? std::clamp((u - before) / wide, 0.0, 1.0) : 0.5;

    const auto begin = in_column_.begin() + static_cast<std::ptrdiff_t>(j * cells_a_column());
    const std::size_t i = pick(begin, begin + static_cast<std::ptrdiff_t>(cells_a_column()), v);
    const double below = i > 0 ? begin[static_cast<std::ptrdiff_t>(i) - 1] : 0.0;
    const double high = begin[static_cast<std::ptrdiff_t>(i)] - below;
    const double t = high > 0 ? std::clamp((v - below) / high, 0.0, 1.0) : 0.5;
    // Even in the cosine, by sin^2 of half the angle so that narrow rings keep their figures.
    const double a = std::sin(radians(Degree{table_.polar()[i]}) / 2),
                 b = std::sin(radians(Degree{table_.polar()[i + 1]}) / 2);
    const double polar = 2 * std::asin(std::min(1.0, std::sqrt(a * a + t * (b * b - a * a))));
    const double around = table_.from(j) + s * (table_.to(j) - table_.from(j));
    return {table_.direction(degrees(polar).value, around), pdf(i, j)};
}

float TableDirections::pdf(const Vec3& direction) const {
    const IntensityTable::Angles a = table_.angles(direction);
    const auto& polar = table_.polar();
    if (a.polar < polar.front() || a.polar > polar.back()) return 0;
    const auto cell = [](const std::vector<float>& angles, float angle) {
        return static_cast<std::size_t>(std::upper_bound(angles.begin() + 1, angles.end() - 1, angle) - angles.begin() -
                                        1);
    };
    const auto& around = table_.around();
    if (around.size() == 1) return pdf(cell(polar, a.polar), 0);
    if (a.around > around.back()) return 0;
    return pdf(cell(polar, a.polar), cell(around, a.around));
}

// --- the lamp -------------------------------------------------------------------------------------------

LuminaireLamp::LuminaireLamp(const Lamp& lamp)
    : luminaire_(lamp.luminaire), at_(lamp.at), directions_(lamp.luminaire->intensity) {
    const Rectangle face = facing_rectangle(lamp.at, lamp.aim, lamp.roll, lamp.width, lamp.height);
    across_ = face.across;
    up_ = face.up;
    aim_ = face.normal;

    const bool round = lamp.shape == LampShape::hard;
    std::vector<Vec3> outline;
    if (round) {
        // As large as the circle that it stands for.
        const double same_area = pi / (round_corners / 2.0 * std::sin(2 * pi / round_corners));
        const double radius = lamp.width / 2 * std::sqrt(same_area);
        for (int i = 0; i < round_corners; ++i) {
            const double a = 2 * pi * i / round_corners;
            outline.push_back(across_ * static_cast<float>(radius * std::cos(a)) +
                              up_ * static_cast<float>(radius * std::sin(a)));
        }
    } else {
        for (const auto& [x, y] : {std::pair{1, 1}, {-1, 1}, {-1, -1}, {1, -1}})
            outline.push_back(across_ * (face.half_width * static_cast<float>(x)) +
                              up_ * (face.half_height * static_cast<float>(y)));
    }
    const Vec3 forward = aim_ * static_cast<float>(lamp.depth / 2);
    const auto moved = [](std::vector<Vec3> points, const Vec3& by) {
        for (Vec3& p : points) p += by;
        return points;
    };
    add_face(at_ + forward, aim_, moved(outline, at_ + forward));
    if (lamp.depth > 0) {
        std::vector<Vec3> back = moved(outline, at_ - forward);
        std::reverse(back.begin(), back.end());
        add_face(at_ - forward, -aim_, std::move(back));
        for (std::size_t i = 0; i < outline.size(); ++i) {
            const Vec3 a = at_ + outline[i], b = at_ + outline[(i + 1) % outline.size()];
            const Vec3 outwards = (b - a).cross(aim_).normalized();
            add_face((a + b) * 0.5F, outwards, {a - forward, b - forward, b + forward, a + forward});
        }
    }
    both_sides_ = lamp.depth <= 0 && luminaire_->shines_back;

    per_candela_ = lamp.given() * static_cast<float>(1.0 / luminaire_->lumens);
    candela_per_candela_ = photometric(per_candela_);
    flux_ = candela_per_candela_ * luminaire_->lumens;
    reach_ = outline[0].length() + static_cast<float>(lamp.depth / 2);
}

void LuminaireLamp::add_face(const Vec3& centre, const Vec3& normal, std::vector<Vec3> corners) {
    const std::uint32_t first =
        faces_.empty() ? 0 : faces_.back().first_triangle + static_cast<std::uint32_t>(faces_.back().corners.size());
    float area = 0;
    for (std::size_t i = 0; i < corners.size(); ++i)
        area += (corners[i] - centre).cross(corners[(i + 1) % corners.size()] - centre).length() / 2;
    faces_.push_back({centre, normal, std::move(corners), area, first});
}

float LuminaireLamp::cosine(const Face& face, const Vec3& outward) const {
    const float c = face.normal.dot(outward);
    const float shown = both_sides_ ? std::abs(c) : c;
    return shown > least_cosine ? shown : 0.0F;
}

float LuminaireLamp::projected_area(const Vec3& outward) const {
    float sum = 0;
    for (const Face& f : faces_) sum += f.area * cosine(f, outward);
    return sum;
}

/// About the solid angle of the face. Whether a flat face shows depends on the side of its plane alone.
float LuminaireLamp::weight(const Face& face, const Vec3& from) const {
    const Vec3 d = from - face.centre;
    const float height = face.normal.dot(d);
    const float above = both_sides_ ? std::abs(height) : height;
    if (above <= 0) return 0;
    const float near2 = d.length2() + face.area;
    return face.area * above / (near2 * std::sqrt(near2));
}

float LuminaireLamp::sum_of_weights(const Vec3& from) const {
    float sum = 0;
    for (const Face& f : faces_) sum += weight(f, from);
    return sum;
}

Vec3 LuminaireLamp::point(const Face& face, float u, float v, std::uint32_t& triangle) {
    const std::size_t n = face.corners.size();
    const float scaled = u * static_cast<float>(n);
    const std::size_t wedge = std::min(static_cast<std::size_t>(scaled), n - 1);
    const float r = std::sqrt(std::clamp(scaled - static_cast<float>(wedge), 0.0F, 1.0F));
    triangle = face.first_triangle + static_cast<std::uint32_t>(wedge);
    return face.centre + (face.corners[wedge] - face.centre) * (r * (1.0F - v)) +
           (face.corners[(wedge + 1) % n] - face.centre) * (r * v);
}

const LuminaireLamp::Face& LuminaireLamp::face_of(std::uint32_t triangle) const {
    std::size_t i = faces_.size() - 1;
    while (i > 0 && faces_[i].first_triangle > triangle) --i;
    return faces_[i];
}

std::optional<Incoming> LuminaireLamp::incoming(const Vec3& from, float u, float v) const {
    const float sum = sum_of_weights(from);
    if (!(sum > 0)) return std::nullopt;
    const auto picked = pick(faces_.size(), u * sum, [&](std::size_t i) { return weight(faces_[i], from); });
    if (!picked) return std::nullopt;
    const Face& face = faces_[picked->which];
    std::uint32_t triangle = 0;
    const Vec3 way = point(face, v, picked->rest, triangle) - from;
    const float distance = way.length();
    if (!(distance > 0)) return std::nullopt;
    const Vec3 toward = way / distance;
    const float cos = cosine(face, -toward);
    if (cos <= 0) return std::nullopt;
    const float candela = luminaire_->intensity.candela(in_frame(-toward));
    if (candela <= 0) return std::nullopt;
    return Incoming{toward, distance, per_candela_ * (candela / projected_area(-toward)),
                    picked->weight / sum * distance * distance / (face.area * cos), triangle};
}

float LuminaireLamp::incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const {
    const Face& face = face_of(hit.primitive);
    const float cos = cosine(face, -toward), share = weight(face, from);
    if (cos <= 0 || share <= 0) return 0;
    return share / sum_of_weights(from) * hit.distance * hit.distance / (face.area * cos);
}

Spectrum LuminaireLamp::radiance(const Hit& hit, const Vec3& outward) const {
    if (cosine(face_of(hit.primitive), outward) <= 0) return Spectrum{};
    return per_candela_ * (luminaire_->intensity.candela(in_frame(outward)) / projected_area(outward));
}

EmittedRay LuminaireLamp::emitted(const std::array<float, 5>& u) const {
    const TableDirections::Drawn drawn = directions_.draw(u[0], u[1]);
    EmittedRay ray;
    const Vec3& d = drawn.direction;
    ray.direction = (across_ * d.x + up_ * d.y + aim_ * d.z).normalized();
    const float seen = projected_area(ray.direction);
    if (!(seen > 0) || !(drawn.pdf > 0)) return ray;
    // A face is picked by the area it shows to that direction, then an even point of it: together, even over all that
    // is seen from there.
    const auto picked = pick(faces_.size(), u[2] * seen,
                             [&](std::size_t i) { return faces_[i].area * cosine(faces_[i], ray.direction); });
    if (!picked) return ray;
    ray.origin = point(faces_[picked->which], u[3], u[4], ray.primitive);
    ray.throughput = per_candela_ * (luminaire_->intensity.candela(d) / drawn.pdf);
    ray.pdf = drawn.pdf / seen;
    return ray;
}

float LuminaireLamp::emission_pdf(const Hit& hit, const Vec3& outward) const {
    if (cosine(face_of(hit.primitive), outward) <= 0) return 0;
    return directions_.pdf(in_frame(outward)) / projected_area(outward);
}

float LuminaireLamp::expected_lux(const Vec3& from) const {
    const Vec3 d = from - at_;
    const float d2 = d.length2();
    if (!(d2 > 0)) return static_cast<float>(flux_) / (reach_ * reach_);
    float candela = candela_per_candela_ * luminaire_->intensity.candela(in_frame(d / std::sqrt(d2)));
    // Close by, parts of the opening shine where its middle does not.
    if (d2 < 4 * reach_ * reach_) candela = std::max(candela, static_cast<float>(0.02 * flux_));
    return candela / (d2 + reach_ * reach_ / 4);
}

Mesh LuminaireLamp::glow() const {
    Mesh m;
    for (const Face& f : faces_) {
        const auto centre = static_cast<std::uint32_t>(m.positions.size());
        const auto n = static_cast<std::uint32_t>(f.corners.size());
        m.positions.push_back(f.centre);
        m.positions.insert(m.positions.end(), f.corners.begin(), f.corners.end());
        for (std::uint32_t i = 0; i < n; ++i) m.triangles.push_back({centre, centre + 1 + i, centre + 1 + (i + 1) % n});
    }
    return m;
}

}  // namespace rushlight
