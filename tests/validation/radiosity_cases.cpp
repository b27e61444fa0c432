// Light sent to and fro in closed boxes: balances that hold whatever the way, and every face's mean against a dense
// set of radiosity equations.
#include "references/patch_box.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

const std::string section = "Energy balance and radiosity";
const Vec3 size{4, 3, 2.5F};
constexpr double wall_rho = 0.5, floor_rho = 0.2, ceiling_rho = 0.7;

struct Face {
    Rectangle face;  // normal into the room
    double rho;
};

/// In the order of PatchBox: x low, x high, y low, y high, floor, ceiling.
std::array<Face, 6> faces() {
    const float x = size.x, y = size.y, z = size.z;
    const Vec3 middle = size * 0.5F;
    const auto face = [&](const Vec3& normal, double width, double height, double rho) {
        return Face{rectangle(middle - normal * middle, normal, width, height), rho};
    };
    return {face({1, 0, 0}, y, z, wall_rho),  face({-1, 0, 0}, y, z, wall_rho), face({0, 1, 0}, x, z, wall_rho),
            face({0, -1, 0}, x, z, wall_rho), face({0, 0, 1}, x, y, floor_rho), face({0, 0, -1}, x, y, ceiling_rho)};
}

/// The box whose ceiling gives out 1000 lm/m2: a cloth that lets through .3 of an even sky above it.
Scene shining_ceiling() {
    Scene s;
    for (const Face& f : faces()) {
        Finish finish_of = matt(f.rho);
        if (f.face.normal.z < 0) finish_of.through = Spectrum{0.3F};
        add(s, rectangle_mesh(f.face, finish_of));
    }
    s.lights.add("sky", SkyLight(by_hand::outside(1000 / (0.3 * pi), 0), std::make_shared<Openings>()));
    finish(s);
    return s;
}

void radiosity(Cases& all) {
    const std::string source = "864 patches, form factors in closed form, one linear system";
    static const PatchBox box({4, 3, 2.5}, 12, {.5, .5, .5, .5, .2, .7}, {0, 0, 0, 0, 0, 1000});
    const PatchBox* solved = &box;
    const std::string what = "box 4 × 3 × 2.5 m, ceiling gives out 1000 lm/m², ρ .7 / .5 / .2: ";
    const std::array<const char*, 6> name{"wall 3 × 2.5 m, mean", "", "wall 4 × 2.5 m, mean", "", "floor, mean",
                                          "ceiling, mean"};
    const std::array<double, 6> traced{395.70, 0, 399.14, 0, 454.25, 187.86}, traced_error{.32, 0, .32, 0, .34, .15};
    int number = 0;
    for (const std::size_t f : {4, 5, 0, 2})
        all.push_back({"1.8-" + std::to_string(++number), section, what + name[f], source,
                       solved->mean(static_cast<int>(f)), "lx", 0.005,
                       [f] { return mean_over(shining_ceiling(), faces()[f].face, 650); }});
    const float up = 2e-5F;
    const Run points = run_of(
        shining_ceiling,
        {flat({2, 1.5F, up}, {0, 0, 1}), flat({2, 1.5F, 0.75F}, {0, 0, 1}), flat({1, 0.8F, 1.2F}, {0.6F, 0, 0.8F})},
        0.0015);
    const std::array<std::pair<const char*, std::array<Point, 2>>, 3> places{
        {{"floor, middle", {Point(2, 1.5, 1e-9), Point(0, 0, 1)}},
         {"middle, .75 m up, level", {Point(2, 1.5, .75), Point(0, 0, 1)}},
         {"off the middle, tilted", {Point(1, .8, 1.2), Point(.6, 0, .8)}}}};
    for (std::size_t i = 0; i < 3; ++i)
        all.push_back({"1.8-" + std::to_string(++number), section, what + places[i].first, source,
                       solved->at(places[i].second[0], places[i].second[1]), "lx", 0.005, reading(points, i)});
    // Is the reference itself sound? Its balance, and a tracer that was written apart, in another language.
    all.push_back({"1.8-" + std::to_string(++number), section, "the linear system's own balance: flux kept",
                   "first law", 12'000, "lm", 1e-9, sure([=] { return solved->kept(); })});
    for (const std::size_t f : {4, 5, 0, 2})
        all.push_back({"1.8-" + std::to_string(++number), section,
                       std::string("the linear system against an independent tracer: ") + name[f],
                       "small tracer written apart, ± " + std::to_string(traced_error[f]).substr(1, 3) + " lx",
                       traced[f], "lx", 0.001, sure([=] { return solved->mean(static_cast<int>(f)); }),
                       3 * traced_error[f]});
}

Scene box_with_a_ball(const std::function<double(const Face&)>& rho, const Vec3& at) {
    Scene s;
    for (const Face& f : faces()) add(s, rectangle_mesh(f.face, matt(rho(f))));
    add_lamp(s, lamp(LampShape::ball, at, {0, 0, -1}, 0.02, 0.02, 12'000));
    finish(s);
    return s;
}

/// Sum over the faces of weight times mean illuminance.
Measured over_faces(const Scene& s, const std::function<double(const Face&)>& weight) {
    Measured sum;
    double squares = 0;
    for (const Face& f : faces()) {
        const Measured m = mean_over(s, f.face, 15);
        sum.value += weight(f) * m.value;
        squares += weight(f) * weight(f) * m.error * m.error;
    }
    sum.error = std::sqrt(squares);
    return sum;
}

void balances(Cases& all) {
    const std::string what = "the box with a ball lamp of 12 000 lm off its middle";
    const double lamp_area = 4 * pi * 0.01 * 0.01;
    all.push_back({"1.8-20", section, what + ", ρ .7 / .5 / .2: Σ (1 - ρ) E A", "first law; heat-transfer texts",
                   12'000, "lm", 0.005, [] {
                       return over_faces(
                           box_with_a_ball([](const Face& f) { return f.rho; }, {1.4F, 1.2F, 1.6F}),
                           [](const Face& f) { return (1 - f.rho) * static_cast<double>(f.face.area()); });
                   }});
    int number = 20;
    for (const double rho : {0.3, 0.8}) {
        const double area = 59;  // 2 (12 + 10 + 7.5) m2
        all.push_back({"1.8-" + std::to_string(++number), section,
                       what + ", one ρ of " + std::to_string(rho).substr(0, 3) + ": mean over all faces",
                       "E = Φ / (A (1 - ρ)), exact for any box; the black lamp in the balance",
                       12'000 / (area * (1 - rho) + lamp_area), "lx", 0.005, [=] {
                           return over_faces(box_with_a_ball([=](const Face&) { return rho; }, {1.4F, 1.2F, 1.6F}),
                                             [=](const Face& f) { return static_cast<double>(f.face.area()) / area; });
                       }});
    }
}

/// Two endless plates 1 m apart: a box with perfect mirrors for walls; where light paths land.
std::array<Measured, 2> plates() {
    Finish mirror = matt(0);
    mirror.metal = Spectrum{1.0F};
    mirror.roughness = 0.01F;
    Room room;
    room.width = room.depth = 2;
    room.height = 1;
    room.finish.fill(mirror);
    room.finish[static_cast<std::size_t>(Wall::floor)] = matt(0.8);
    room.finish[static_cast<std::size_t>(Wall::ceiling)] = matt(0.5);
    Scene s;
    for (int w = 0; w < 6; ++w) add(s, wall_mesh(room, static_cast<Wall>(w)));
    add_lamp(s, lamp(LampShape::ball, {1, 1, 0.5F}, {0, 0, -1}, 0.01, 0.01, 4000));
    finish(s);
    constexpr std::uint32_t batches = 40, count = 4000;
    std::array<std::vector<double>, 2> lux;
    for (std::uint32_t i = 0; i < batches; ++i) {
        std::array<double, 2> sum{};
        for (const Vertex& v : trace_light_paths(s, 9, i * count, count, 1).vertices)
            if (v.part >= static_cast<std::uint32_t>(Wall::floor))
                sum.at(v.part - 4) += photometric(v.throughput) / 4 / count;
        for (std::size_t k = 0; k < 2; ++k) lux[k].push_back(sum[k]);
    }
    return {mean_of(lux[0]), mean_of(lux[1])};
}

}  // namespace

Cases radiosity_cases() {
    Cases all;
    radiosity(all);
    balances(all);
    // B1 = (M1 + rho1 M2) / (1 - rho1 rho2), each plate lit first by half of the lamp: E1 = E0 (1 + rho2) / (1 - .4).
    const auto run = once(plates);
    const std::string source = "two endless parallel plates, heat-transfer texts; side walls are mirrors";
    all.push_back({"1.8-30", section, "lamp of 4000 lm between plates of ρ .8 and .5, E on the first", source,
                   500 * 1.5 / 0.6, "lx", 0.01, [=] { return run()[0]; }});
    all.push_back({"1.8-31", section, "the same, E on the second", source, 500 * 1.8 / 0.6, "lx", 0.01,
                   [=] { return run()[1]; }});
    return all;
}

}  // namespace rushlight::validation
