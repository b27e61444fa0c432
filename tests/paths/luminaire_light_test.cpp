// Photometric files traced: what falls on floors and walls against closed forms.
#include "luminaire_text.h"
#include "setup/plain/lamp_output.h"
#include "setup/luminaire/luminaire.h"
#include "paths/small_scenes.h"

namespace rushlight {
namespace {

using namespace small;
using namespace luminaire_text;

Lamp with_luminaire(const Lm63& file, LampShape shape, Vec3 at, Vec3 aim, double width, double height,
                    double depth = 0) {
    auto luminaire = std::make_shared<const Luminaire>(luminaire_from_text(file.text(), "f.ies"));
    Lamp l = lamp(shape, at, aim, width, height, luminaire->lumens);
    l.luminaire = std::move(luminaire);
    l.depth = depth;
    return l;
}

Lm63 three_values() {
    Lm63 f;
    f.vertical = {0, 45, 90};
    f.candela = [](double v, double) { return v < 1 ? 1000 : v < 46 ? 700 : 0; };
    return f;
}

class LuminaireLight : public testing::TestWithParam<bool> {
protected:
    MeterResults run(const Scene& s, const std::vector<MeterPoint>& m, double error) const {
        const Effort e = effort(error);
        return measure(s, m, e, GetParam() ? sharing_for(s, e.seed, 64, 16) : Sharing::meters_alone(64));
    }
};

// Three values 0/45/90 degrees = 1000/700/0 cd, straight between, 2.5 m over a floor: E = I cos^3 / h^2 (IES lighting
// handbook): under it 160.00, 2.5 m off 39.598, at 30 degrees (I = 800) 83.138 lx. The table has its tip on the aim,
// so that a lamp of 5 mm would already read .025 % less under it.
TEST_P(LuminaireLight, ThreeValuesOnTheFloor) {
    Scene s;
    add_lamp(s, with_luminaire(three_values(), LampShape::hard, {0, 0, 2.5F}, {0, 0, -1}, 0.0005, 0.0005));
    finish(s);
    const float off = 2.5F * static_cast<float>(std::tan(pi / 6));
    const auto r = run(s,
                       {{MeterKind::flat, {0, 0, 0}, {0, 0, 1}},
                        {MeterKind::flat, {2.5F, 0, 0}, {0, 0, 1}},
                        {MeterKind::flat, {0, off, 0}, {0, 0, 1}}},
                       0.001);
    expect_reading(r.all(0), 160.00, 0.001);
    expect_reading(r.all(1), 39.598, 0.001);
    expect_reading(r.all(2), 83.138, 0.001);
}

// A black box of 3 m around a lamp: what falls on its six sides is the flux. Each side is sampled on a grid of meters
// (midpoint rule of a smooth function).
TEST_P(LuminaireLight, ClosedBoxSumsToTheFlux) {
    Lm63 f;
    f.vertical = steps(0, 180, 5);
    f.horizontal = steps(0, 360, 15);
    f.candela = [](double v, double h) { return 300 + 200 * cosine(v) + 60 * cosine(h); };
    Scene s;
    const Lamp l = with_luminaire(f, LampShape::box, {0.2F, 0.1F, 0}, {0, 0, -1}, 0.3, 0.1, 0.05);
    add_lamp(s, l);
    finish(s);
    constexpr int n = 12;
    std::vector<MeterPoint> meters;
    for (int side = 0; side < 6; ++side)
        for (int i = 0; i < n; ++i)
            for (int j = 0; j < n; ++j) {
                const float a = 3.0F * ((static_cast<float>(i) + 0.5F) / n - 0.5F);
                const float b = 3.0F * ((static_cast<float>(j) + 0.5F) / n - 0.5F);
                const float c = side % 2 == 0 ? 1.5F : -1.5F;
                Vec3 at(a, b, c), in(0, 0, -c);
                if (side / 2 == 1) at = {c, a, b}, in = {-c, 0, 0};
                if (side / 2 == 2) at = {b, c, a}, in = {0, -c, 0};
                meters.push_back({MeterKind::flat, at, in.normalized()});
            }
    const auto r = run(s, meters, 0.02);
    double flux = 0, squares = 0;
    for (std::size_t i = 0; i < meters.size(); ++i) {
        flux += r.all(i).value * 9.0 / (n * n);
        squares += std::pow(r.all(i).error * 9.0 / (n * n), 2);
    }
    EXPECT_LT(std::sqrt(squares), 0.002 * l.luminaire->lumens) << "too noisy to prove anything";
    EXPECT_NEAR(flux / l.luminaire->lumens, 1.0, 0.005);
}

// A large panel given by a reading close by: the traced meter gives that reading back.
TEST_P(LuminaireLight, MeasuredReadingComesBack) {
    Lm63 f = three_values();
    const bool deep = GetParam();
    f.vertical = deep ? steps(0, 180, 10) : steps(0, 90, 5);
    f.candela = [](double v, double) { return 500 + 400 * cosine(v); };
    Lamp l = with_luminaire(f, LampShape::box, {0, 0, 2}, {0, 0, -1}, 0.9, 0.6, deep ? 0.2 : 0);
    const LampLight light = lamp_light(l, {TypedOutput::Unit::lux, 5200, 1.2});
    EXPECT_EQ(light.kind, Lamp::Output::lumen);
    l.intensity_or_flux = equal_energy() * static_cast<float>(light.amount);
    Scene s;
    add_lamp(s, l);
    finish(s);
    const auto r = run(s, {{MeterKind::flat, {0, 0, 0.8F}, {0, 0, 1}}}, 0.001);
    expect_reading(r.all(0), 5200, 0.001);
}

// Interreflection with the file's light: an integrating sphere (CIE 84), E = phi / (A (1 - rho)) and the direct light.
TEST_P(LuminaireLight, IntegratingSphere) {
    Lm63 f;
    f.vertical = steps(0, 180, 10);
    f.candela = [](double, double) { return 1000 / (4 * pi); };
    Scene s;
    Mesh wall = icosphere({0, 0, 0}, 0.5F, 4);
    wall.finish = matt(0.8);
    add(s, wall);
    add_lamp(s, with_luminaire(f, LampShape::hard, {0, 0, 0}, {0, 0, -1}, 0.004, 0.004, 0.004));
    finish(s);
    const auto r = run(s, {{MeterKind::flat, {0, 0, 0.499F}, {0, 0, -1}}}, 0.004);
    // 5,120 faces hold .12 % less area than the sphere.
    const double direct = 1000 / (4 * pi * 0.499 * 0.499);
    EXPECT_NEAR(r.all(0).value, 1273.24 + direct, 4 * r.all(0).error + 0.003 * 1273.24);
    EXPECT_LE(r.all(0).relative_error(), 0.004);
}

INSTANTIATE_TEST_SUITE_P(Sharing, LuminaireLight, testing::Bool(),
                         [](const auto& p) { return p.param ? "BothWalks" : "MetersAlone"; });

}  // namespace
}  // namespace rushlight
