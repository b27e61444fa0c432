#include "rooms.h"

#include "paths/work/workers.h"

namespace rushlight::validation {

namespace {

constexpr int corners = 256;

/// Radius at the corners of a polygon that has the area of a circle of radius r.
double corner_radius(double r) {
    const double step = 2 * pi / corners;
    return r * std::sqrt(step / std::sin(step));
}

Vec3 on_circle(const Vec3& centre, double r, int i) {
    const double a = 2 * pi * i / corners;
    return centre + Vec3(static_cast<float>(r * std::cos(a)), static_cast<float>(r * std::sin(a)), 0);
}

}  // namespace

std::shared_ptr<Openings> add_room(Scene& s, const Vec3& size, const std::vector<Opening>& holes,
                                   const Finish& finish) {
    Room room;
    room.width = size.x;
    room.depth = size.y;
    room.height = size.z;
    room.wall_thickness = 0;
    room.finish.fill(finish);
    room.openings = holes;
    auto openings = std::make_shared<Openings>();
    openings->upper = size;
    openings->closed = true;
    for (int w = 0; w < 6; ++w) small::add(s, wall_mesh(room, static_cast<Wall>(w)));
    for (const Opening& o : holes) {
        openings->rectangles.push_back(opening_rectangle(room, o));
        if (!o.glazed) continue;
        Finish glass;
        glass.pane = true;
        small::add(s, rectangle_mesh(openings->rectangles.back(), glass));
    }
    return openings;
}

Mesh round_mask(const Vec3& centre, double r) {
    Mesh m;
    m.finish = small::matt(0);
    const double inner = corner_radius(r);
    for (int i = 0; i < corners; ++i) {
        const double a = 2 * pi * i / corners;
        const double to_square = 1.02 * r / std::max(std::abs(std::cos(a)), std::abs(std::sin(a)));
        m.positions.push_back(on_circle(centre, inner, i));
        m.positions.push_back(on_circle(centre, to_square, i));
    }
    for (std::uint32_t i = 0; i < corners; ++i) {
        const std::uint32_t a = 2 * i, b = 2 * ((i + 1) % corners);
        m.triangles.push_back({a, a + 1, b + 1});
        m.triangles.push_back({a, b + 1, b});
    }
    return m;
}

Mesh disc(const Vec3& centre, double r) {
    Mesh m;
    m.finish = small::matt(0);
    m.positions.push_back(centre);
    for (std::uint32_t i = 0; i < corners; ++i) {
        m.positions.push_back(on_circle(centre, corner_radius(r), static_cast<int>(i)));
        m.triangles.push_back({0, 1 + i, 1 + (i + 1) % corners});
    }
    return m;
}

Run run_of(std::function<Scene()> scene, std::vector<MeterPoint> meters, double error) {
    return once([scene = std::move(scene), meters = std::move(meters), error] {
        return measure(scene(), meters, small::effort(error));
    });
}

std::function<Measured()> reading(const Run& run, std::size_t meter, double factor) {
    return [=] {
        const Measured m = run().all(meter);
        return Measured{m.value * factor, m.error * std::abs(factor)};
    };
}

Measured mean_over(const Scene& s, const Rectangle& face, int thousands) {
    constexpr std::size_t batches = 40, cells = 5;
    const std::size_t walks = static_cast<std::size_t>(thousands) * 1000 / (batches * cells * cells);
    const Sharing alone{0, 1, 0, false};
    const LightPaths none;
    std::vector<double> means(batches);
    for_each_piece(Effort{}, batches, [&](std::size_t batch) {
        std::vector<Spectrum> layers(s.lights.count());
        for (std::size_t i = 0; i < walks * cells * cells; ++i) {
            // Place and walk draw from one sequence: two of the same kind would move in step.
            Sampler sampler(stream_of(77, batch), static_cast<std::uint32_t>(i));
            const std::size_t cell = i % (cells * cells);
            const float u = (static_cast<float>(cell % cells) + sampler.next()) / cells;
            const float v = (static_cast<float>(cell / cells) + sampler.next()) / cells;
            collect_at_meter(s, flat(face.at(u, v) + face.normal * 2e-5F, face.normal), none, alone, sampler, layers);
        }
        double sum = 0;
        for (const Spectrum& l : layers) sum += static_cast<double>(photometric(l));
        means[batch] = sum / static_cast<double>(walks * cells * cells);
    });
    return mean_of(means);
}

}  // namespace rushlight::validation
