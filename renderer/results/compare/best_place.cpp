#include "results/compare/best_place.h"

#include "quantity/units.h"
#include "scene/rays/camera_view.h"
#include "scene/rays/rectangle.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr double step_of_angle = 12;  // degrees between directions tried
constexpr int steps_of_distance = 4;
constexpr float clear = 0.02F;         // m from walls, floor and ceiling
constexpr float upright_below = 0.6F;  // sine of the elevation up to which a panel is kept upright, as on a stand

Rectangle rectangle_of(const Panel& p) {
    return facing_rectangle(p.at, p.facing, p.roll, p.width, p.height);
}

template <class Visit>
void for_each_covered(const Sphere& s, const Panel& panel, const Visit& visit) {
    const Rectangle r = rectangle_of(panel);
    for (std::size_t p = 0; p < s.pixels(); ++p) {
        if (!(s.weight[p] > 0)) continue;
        const auto toward = s.direction(static_cast<double>(p % static_cast<std::size_t>(s.side)) + 0.5,
                                        static_cast<double>(p / static_cast<std::size_t>(s.side)) + 0.5);
        const auto crossing = r.crossed_by(s.at, *toward);
        if (crossing && crossing->distance < s.distance[p]) visit(p);
    }
}

class Judge {
public:
    Judge(const Setup& setup, const Scene& scene, const Vec3& point) : setup_(setup), scene_(scene), point_(point) {
        if (setup.camera >= 0) view_ = CameraView::for_asking(*setup.its_camera());
    }

    bool possible(const Panel& panel) const {
        const Rectangle r = rectangle_of(panel);
        return inside(r) && through_nothing(r) && out_of_shot(r) && before_no_light(r);
    }

private:
    static constexpr int grid = 7;
    template <class Test>
    static bool all_over(const Rectangle& r, const Test& test) {
        for (int i = 0; i < grid; ++i)
            for (int j = 0; j < grid; ++j)
                if (!test(r.at(static_cast<float>(i) / (grid - 1), static_cast<float>(j) / (grid - 1)))) return false;
        return true;
    }
    bool inside(const Rectangle& r) const {
        const Vec3 low = setup_.place.lower + Vec3(clear, clear, clear),
                   high = setup_.place.upper - Vec3(clear, clear, clear);
        return all_over(r, [&](const Vec3& p) {
            return p.x > low.x && p.y > low.y && p.z > low.z && p.x < high.x && p.y < high.y && p.z < high.z;
        });
    }
    /// No furniture, person or other panel sticks through it.
    bool through_nothing(const Rectangle& r) const {
        for (int i = 0; i < grid; ++i) {
            const float t = static_cast<float>(i) / (grid - 1);
            if (scene_.rays.first_hit(Ray{r.at(t, 0), r.up, 2 * r.half_height})) return false;
            if (scene_.rays.first_hit(Ray{r.at(0, t), r.across, 2 * r.half_width})) return false;
        }
        return true;
    }
    bool out_of_shot(const Rectangle& r) const {
        if (!view_) return true;
        return all_over(r, [&](const Vec3& p) {
            float x = 0, y = 0;
            if (!view_->project(p, x, y) || !view_->in_picture(x, y)) return true;
            const Vec3 way = p - view_->at();
            Spectrum passed{1.0F};
            return !scene_.rays.passes(Ray{view_->at(), way.normalized(), way.length() * 0.999F}, passed);
        });
    }
    /// A cloth that stands in a lamp's way is a flag: another question.
    bool before_no_light(const Rectangle& r) const {
        for (const Lamp& lamp : setup_.rig.lamps) {
            if (lamp.burning().dark()) continue;
            const Vec3 way = lamp.at - point_;
            const auto crossing = r.crossed_by(point_, way.normalized());
            if (crossing && crossing->distance < way.length()) return false;
        }
        return true;
    }

    const Setup& setup_;
    const Scene& scene_;
    Vec3 point_;
    std::optional<CameraView> view_;
};

/// Panels of the wanted size over the directions that the meter weighs, at several distances, upright and lying.
std::vector<Panel> candidates(const Sphere& s, const PanelWish& wish) {
    std::vector<Panel> all;
    const bool square = wish.width == wish.height;
    for (double angle = 0; angle < (s.whole ? 150 : 85); angle += step_of_angle) {
        const int around =
            angle == 0 ? 1 : std::max(4, static_cast<int>(360 * std::sin(radians(Degree{angle})) / step_of_angle));
        for (int k = 0; k < around; ++k) {
            const double turn = 2 * pi * k / around;
            const auto sine = static_cast<float>(std::sin(radians(Degree{angle})));
            const Vec3 toward = (s.facing * static_cast<float>(std::cos(radians(Degree{angle}))) +
                                 s.right * (sine * static_cast<float>(std::cos(turn))) +
                                 s.up * (sine * static_cast<float>(std::sin(turn))))
                                    .normalized();
            for (int d = 0; d < steps_of_distance; ++d)
                for (int lying = 0; lying < (square ? 1 : 2); ++lying) {
                    Panel p;
                    p.kind = wish.black ? PanelKind::flag : PanelKind::board;
                    p.name = wish.black ? "black" : "board";
                    const double near = std::min(nearest_panel, wish.reach);
                    p.at = s.at + toward * static_cast<float>(near + (wish.reach - near) * d / (steps_of_distance - 1));
                    p.facing = -toward;
                    if (std::abs(toward.z) < upright_below) p.facing.z = 0;
                    p.facing.normalize();
                    p.width = lying ? wish.height : wish.width;
                    p.height = lying ? wish.width : wish.height;
                    p.finish = *named_finish(wish.black ? "black cloth" : "white foam board");
                    all.push_back(p);
                }
        }
    }
    return all;
}

double reflectance_of(const Panel& p) {
    return luminous_share(p.finish.reflectance, equal_energy());
}

}  // namespace

double share_covered(const Sphere& sphere, const Panel& panel) {
    double covered = 0, all = 0;
    for (const float w : sphere.weight) all += static_cast<double>(w);
    for_each_covered(sphere, panel, [&](std::size_t p) { covered += static_cast<double>(sphere.weight[p]); });
    return covered / all;
}

double stops_from_sphere(const Sphere& sphere, const Panel& panel, double own) {
    const double before = sphere.lux();
    double change = 0;
    for_each_covered(sphere, panel, [&](std::size_t p) {
        change += static_cast<double>(sphere.weight[p]) * (own - static_cast<double>(sphere.luminance[p]));
    });
    return std::log2(std::max(1e-6, 1 + change / before));
}

std::vector<double> falls_on(const Scene& scene, const std::vector<Panel>& panels, int points, double error,
                             const Effort& effort, KeptLight& light) {
    std::vector<MeterPoint> meters;
    std::vector<std::size_t> all;
    for (const Panel& p : panels) {
        const Rectangle r = rectangle_of(p);
        for (int i = 0; i < points * points; ++i) {
            const auto u = (static_cast<float>(i % points) + 0.5F) / static_cast<float>(points);
            const auto v = (static_cast<float>(i / points) + 0.5F) / static_cast<float>(points);
            all.push_back(meters.size());
            meters.push_back({MeterKind::flat, r.at(u, v) + r.normal * 0.002F, r.normal, 0});
        }
    }
    Effort rough = effort;
    rough.relative_error = error;
    rough.seconds = 0;
    rough.most_seconds = 20;
    rough.tell = nullptr;
    const MeterResults results = light.measure(scene, meters, rough, Wanted{all});
    const auto each = static_cast<std::size_t>(points) * static_cast<std::size_t>(points);
    std::vector<double> lux;
    for (std::size_t i = 0; i < panels.size(); ++i) {
        const std::vector<std::size_t> own(all.begin() + static_cast<std::ptrdiff_t>(i * each),
                                           all.begin() + static_cast<std::ptrdiff_t>((i + 1) * each));
        lux.push_back(results.batches() > 0 ? results.all(own).value : 0);
    }
    return lux;
}

std::optional<BestPlace> best_place(const Setup& setup, const Scene& scene, const Origins& origins,
                                    const Sphere& sphere, const PanelWish& wish, const Effort& effort,
                                    KeptLight& light) {
    const Judge judge(setup, scene, origins.meter.at);
    const std::vector<Panel> all = candidates(sphere, wish);
    std::vector<Panel> possible;
    for (const Panel& p : all)
        if (judge.possible(p)) possible.push_back(p);
    if (possible.empty() || !(origins.lux.value > 0)) return std::nullopt;

    // First all of them by the light at their middles, then the best few by the light all over them: a head may keep
    // the middle in its shade.
    const auto judged = [&](const std::vector<Panel>& panels, int points, double error) {
        const std::vector<double> lux = falls_on(scene, panels, points, error, effort, light);
        std::vector<std::pair<double, std::size_t>> gains;
        for (std::size_t i = 0; i < panels.size(); ++i) {
            const double stops = stops_from_sphere(sphere, panels[i], reflectance_of(panels[i]) * lux[i] / pi);
            gains.emplace_back(wish.black ? -stops : stops, i);
        }
        std::sort(gains.begin(), gains.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
        return gains;
    };
    constexpr std::size_t few = 12;
    std::vector<Panel> finalists;
    for (const auto& [gain, i] : judged(possible, 1, 0.05))
        if (finalists.size() < few) finalists.push_back(possible[i]);
    const auto [gain, winner] = judged(finalists, 4, 0.02).front();
    BestPlace best;
    best.panel = finalists[winner];
    best.estimate = wish.black ? -gain : gain;
    best.wish = wish;
    best.tried = static_cast<int>(all.size());
    best.possible = static_cast<int>(possible.size());
    best.distance = static_cast<double>((best.panel.at - origins.meter.at).length());
    best.covered = share_covered(sphere, best.panel);
    best.even_bound = std::log2(1 - best.covered);

    Setup with_panel = setup;
    with_panel.rig.panels.push_back(best.panel);
    Effort own = effort;
    own.tell = nullptr;
    const MeterResults after = measure(build_scene(with_panel), {origins.meter}, own);
    best.traced = stops_between(origins.lux, after.all(0));
    return best;
}

}  // namespace rushlight
