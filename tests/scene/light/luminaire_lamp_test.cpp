// Lamps that take their light from a photometric table: what they give off in all, what arrives from them, and that
// the two ways of choosing light tell one story, for every form of opening and every type of table.
#include "by_chance.h"
#include "luminaire_text.h"
#include "scene/light/lights.h"
#include "setup/read/luminaires.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace rushlight {
namespace {

using namespace by_chance;
using namespace luminaire_text;

Lamp lamp_of(const Lm63& file, LampShape shape, double width, double height, double depth) {
    Lamp l;
    l.luminaire = std::make_shared<const Luminaire>(luminaire_from_text(file.text(), "f.ies"));
    l.shape = shape;
    l.at = {0.4F, -0.3F, 2.1F};
    l.aim = Vec3(0.3F, 0.5F, -0.8F).normalized();
    l.roll = 25;
    l.width = width;
    l.height = height;
    l.depth = depth;
    l.intensity_or_flux = equal_energy() * static_cast<float>(l.luminaire->lumens);
    return l;
}

struct Case {
    const char* name;
    Lamp lamp;
};

std::vector<Case> cases() {
    const auto down = [](double v, double) { return 1000 * std::max(0.0, cosine(v)); };
    const auto narrow = [](double v, double) { return 1e5 * std::exp2(-v * v / 16); };
    const auto lopsided = [](double v, double h) {
        return 800 * std::max(0.0, cosine(v)) * (1 + 0.5 * cosine(2 * h) + 0.3 * cosine(h));
    };
    const auto all_round = [](double v, double h) { return 300 + 100 * cosine(v) + 50 * cosine(h); };
    const auto up = [](double v, double) { return 500 * -cosine(v); };
    const auto flood = [](double v, double h) { return 4000 * std::exp2(-v * v / 400 - h * h / 900) * (1 + h / 100); };
    return {
        {"Disc", lamp_of(lm63(1, steps(0, 90, 5), {0}, down), LampShape::hard, 0.2, 0.2, 0)},
        {"CoarseDisc", lamp_of(lm63(1, {0, 45, 90}, {0}, down), LampShape::hard, 0.05, 0.05, 0)},
        {"NarrowDisc", lamp_of(lm63(1, steps(0, 20, 0.5), {0}, narrow), LampShape::hard, 0.1, 0.1, 0)},
        {"Rectangle", lamp_of(lm63(1, steps(0, 90, 5), steps(0, 360, 22.5), lopsided), LampShape::box, 0.8, 0.3, 0)},
        {"Sheet", lamp_of(lm63(1, steps(0, 180, 5), steps(0, 360, 30), all_round), LampShape::box, 0.5, 0.3, 0)},
        {"Box", lamp_of(lm63(1, steps(0, 180, 5), steps(0, 360, 30), all_round), LampShape::box, 0.6, 0.2, 0.1)},
        {"Drum", lamp_of(lm63(1, steps(0, 180, 5), steps(0, 360, 30), all_round), LampShape::hard, 0.3, 0.3, 0.2)},
        {"UpLight", lamp_of(lm63(1, steps(90, 180, 5), {0}, up), LampShape::box, 0.4, 0.4, 0)},
        {"FloodB", lamp_of(lm63(2, steps(-60, 60, 5), steps(-70, 70, 5), flood), LampShape::box, 0.4, 0.2, 0)},
        {"FloodA", lamp_of(lm63(3, steps(-60, 60, 5), steps(-70, 70, 5), flood), LampShape::box, 0.4, 0.2, 0)},
    };
}

class AnyLuminaireLamp : public testing::TestWithParam<Case> {
protected:
    AnyLuminaireLamp() {
        lights.add("lamp", LuminaireLamp(GetParam().lamp));
        lights.settle();
    }
    const Luminaire& luminaire() const { return *GetParam().lamp.luminaire; }
    Lights::Start start() {
        const float choice = even(random);
        return lights.emitted(choice, even_numbers<5>(random));
    }
    Vec3 any_direction() {
        const float z = 2 * even(random) - 1, s = std::sqrt(1 - z * z), a = 2 * static_cast<float>(pi) * even(random);
        return {s * std::cos(a), s * std::sin(a), z};
    }
    /// From the place to the lamp's own frame.
    Vec3 in_frame(const Vec3& d) const {
        const Lamp& l = GetParam().lamp;
        const Rectangle r = facing_rectangle(l.at, l.aim, l.roll, 1, 1);
        return {r.across.dot(d), r.up.dot(d), r.normal.dot(d)};
    }
    Lights lights;
    std::mt19937_64 random{17};
};

// Flux carried by rays = the integral of the table.
TEST_P(AnyLuminaireLamp, GivesTheFluxOfItsTable) {
    EXPECT_NEAR(LuminaireLamp(GetParam().lamp).flux() / luminaire().lumens, 1.0, 1e-5);
    Mean m;
    for (int i = 0; i < 100'000; ++i) {
        const auto s = start();
        m.add(static_cast<double>(photometric(s.ray.throughput)));
        ASSERT_NEAR(s.ray.direction.length(), 1.0F, 1e-5F);
    }
    expect_mean(m, luminaire().lumens, 0.004);
}

// A far meter finds the file's candela in every direction: E d^2 = I, at 600 m.
TEST_P(AnyLuminaireLamp, GivesTheCandelaOfItsTable) {
    for (int k = 0; k < 60; ++k) {
        const Vec3 d = any_direction();
        const double want = static_cast<double>(luminaire().intensity.candela(in_frame(d)));
        if (std::abs(GetParam().lamp.aim.dot(d)) < 0.05F && GetParam().lamp.depth <= 0) continue;
        Mean m;
        for (int i = 0; i < 400; ++i) {
            const auto in = lights.incoming(0, GetParam().lamp.at + d * 600.0F, even(random), even(random));
            m.add(in ? static_cast<double>(photometric(in->radiance) / in->pdf) * 360'000 : 0.0);
        }
        EXPECT_NEAR(m.value(), want,
                    4 * m.error() + 2e-3 * want + 1e-4 * static_cast<double>(luminaire().intensity.peak()));
    }
}

// The pdf told afterwards is the one drawn with, both ways.
TEST_P(AnyLuminaireLamp, TellsItsDensities) {
    for (const float away : {0.7F, 1.5F, 6.0F})
        for (int i = 0; i < 1500; ++i) {
            const Vec3 from = GetParam().lamp.at + any_direction() * away;
            const auto in = lights.incoming(0, from, even(random), even(random));
            if (!in || in->pdf > 1e6F) continue;  // all but edge on: rounding
            Hit hit;
            hit.distance = in->distance;
            hit.position = from + in->toward * in->distance;
            hit.primitive = in->primitive;
            EXPECT_NEAR(lights.incoming_pdf(0, from, hit, in->toward) / in->pdf, 1.0F, 5e-3F);
            EXPECT_NEAR(photometric(lights.radiance(0, hit, -in->toward)) / photometric(in->radiance), 1.0F, 5e-3F);
        }
    int other = 0;
    for (int i = 0; i < 5000; ++i) {
        const auto s = start();
        if (!(s.ray.pdf > 0)) continue;  // edge on
        Hit hit;
        hit.position = s.ray.origin;
        hit.primitive = s.ray.primitive;
        const float pdf = lights.emission_pdf(0, hit, s.ray.direction);
        if (std::abs(pdf / s.ray.pdf - 1) > 0.01F) ++other;
        const double throughput = static_cast<double>(photometric(s.ray.throughput) * s.ray.pdf);
        if (throughput > 0) {
            EXPECT_NEAR(static_cast<double>(photometric(lights.radiance(0, hit, s.ray.direction))) / throughput, 1.0,
                        0.01);
        }
    }
    // Pdfs are stepped: on a step's edge rounding may tell the neighbour's.
    EXPECT_LE(other, 25);
}

// Chance of a direction sums to one: the mean of pdf over even directions is 1 / 4 pi.
TEST_P(AnyLuminaireLamp, ItsDirectionsSumToOne) {
    const TableDirections directions(luminaire().intensity);
    Mean drawn, even_mean;
    for (int i = 0; i < 200'000; ++i) even_mean.add(4 * pi * static_cast<double>(directions.pdf(any_direction())));
    EXPECT_NEAR(even_mean.value(), 1.0, 4 * even_mean.error());
    // Mean of 1 / pdf over drawn directions is the solid angle that is lit; no draw is impossible.
    for (int i = 0; i < 20'000; ++i) {
        const auto d = directions.draw(even(random), even(random));
        ASSERT_GT(d.pdf, 0.0F);
        drawn.add(1 / static_cast<double>(d.pdf));
    }
    EXPECT_LE(drawn.value(), 4 * pi * 1.02);
}

TEST_P(AnyLuminaireLamp, HalvesWithItsLevel) {
    Lamp half = GetParam().lamp;
    half.level = 0.5;
    EXPECT_NEAR(LuminaireLamp(half).flux() / luminaire().lumens, 0.5, 1e-5);
    half.on = false;
    EXPECT_EQ(LuminaireLamp(half).flux(), 0.0);
}

// Rays leave from the opening, outwards.
TEST_P(AnyLuminaireLamp, RaysLeaveFromItsOpening) {
    const Lamp& l = GetParam().lamp;
    const double reach = std::hypot(l.width, l.height, l.depth) / 2 * 1.02;
    for (int i = 0; i < 2000; ++i) {
        const auto s = start();
        if (!(s.ray.pdf > 0)) continue;
        EXPECT_LE((s.ray.origin - l.at).length(), reach);
        const Vec3 p = in_frame(s.ray.origin - l.at);
        EXPECT_LE(std::abs(p.z), l.depth / 2 + 1e-5);
    }
}

// Hung straight down and not rolled, plane 0 lies along x and plane 90 along y: anticlockwise as seen from above.
// Rolled by 90 degrees, the light turns with the opening. A floodlight's angles are its own right and up.
TEST(LuminaireLampFrame, PlanesLieInThePlace) {
    const auto candela = [](const Lamp& l, Vec3 toward) {
        const auto in = LuminaireLamp(l).incoming(l.at + toward.normalized() * 100.0F, 0.5F, 0.5F);
        return in ? photometric(in->radiance) / in->pdf * 1e4F : 0.0F;
    };
    const auto bright_at_0 = [](double v, double h) { return 1000 * std::max(0.0, cosine(v)) * (1.5 + cosine(h)); };
    Lamp l = lamp_of(lm63(1, steps(0, 90, 5), steps(0, 360, 15), bright_at_0), LampShape::hard, 0.01, 0.01, 0);
    l.aim = {0, 0, -1};
    l.roll = 0;
    EXPECT_NEAR(candela(l, {1, 0, -1}) / candela(l, {-1, 0, -1}), 5.0, 0.01);
    EXPECT_NEAR(candela(l, {0, 1, -1}) / candela(l, {0, -1, -1}), 1.0, 0.01);
    const auto bright_at_90 = [&](double v, double h) { return bright_at_0(v, h - 90); };
    Lamp m = lamp_of(lm63(1, steps(0, 90, 5), steps(0, 360, 15), bright_at_90), LampShape::hard, 0.01, 0.01, 0);
    m.aim = {0, 0, -1};
    m.roll = 0;
    EXPECT_NEAR(candela(m, {0, 1, -1}) / candela(m, {0, -1, -1}), 5.0, 0.01);
    l.roll = 90;
    const Vec3 across = facing_rectangle(l.at, l.aim, 90, 1, 1).across;
    EXPECT_NEAR(candela(l, across + l.aim) / candela(l, -across + l.aim), 5.0, 0.01);

    for (const int type : {2, 3}) {
        const auto high_right = [](double v, double h) { return 1000 + 10 * v + 5 * h; };
        Lamp flood =
            lamp_of(lm63(type, steps(-60, 60, 5), steps(-60, 60, 5), high_right), LampShape::hard, 0.01, 0.01, 0);
        flood.aim = {0, 1, 0};  // right is x
        flood.roll = 0;
        const float a = static_cast<float>(std::tan(pi / 6));
        EXPECT_NEAR(candela(flood, {0, 1, a}), 1300, 3);
        EXPECT_NEAR(candela(flood, {0, 1, -a}), 700, 3);
        EXPECT_NEAR(candela(flood, {a, 1, 0}), 1150, 3);
        EXPECT_NEAR(candela(flood, {-a, 1, 0}), 850, 3);
    }
}

INSTANTIATE_TEST_SUITE_P(Forms, AnyLuminaireLamp, testing::ValuesIn(cases()),
                         [](const auto& p) { return std::string(p.param.name); });

}  // namespace
}  // namespace rushlight
