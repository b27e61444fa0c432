// Fresnel's equations and panes: the functions themselves, and what is seen through a traced window.
#include "references/references.h"
#include "references/rooms.h"

namespace rushlight::validation {

namespace {

using namespace small;

double cosine_of(double degrees_) {
    return std::cos(radians(Degree{degrees_}));
}

std::string angle_text(double a) {
    std::string s = std::to_string(a);
    s.erase(s.find_last_not_of('0') + 1);
    if (s.back() == '.') s.pop_back();
    return s + "°";
}

/// Mean over a diffuse hemisphere: midpoints in the square of the cosine.
double diffuse_mean(const std::function<double(float)>& share) {
    constexpr int steps = 20'000;
    double sum = 0;
    for (int i = 0; i < steps; ++i) sum += share(static_cast<float>(std::sqrt((i + 0.5) / steps)));
    return sum / steps;
}

}  // namespace

Cases glass_cases() {
    Cases all;
    const std::string section = "Fresnel and panes", source = "Fresnel's equations, optics texts; worked in two forms";
    int number = 0;
    const auto add_row = [&](const std::string& what, const std::string& from, double want, double tolerance,
                             std::function<Measured()> measure) {
        all.push_back(
            {"1.12-" + std::to_string(++number), section, what, from, want, "", tolerance, std::move(measure)});
    };
    const std::array<std::array<double, 3>, 7> table{{{0, .04000, .92308},
                                                      {30, .04152, .92073},
                                                      {45, .05024, .90734},
                                                      {56.3099, .07396, .87113},
                                                      {60, .08919, .84813},
                                                      {75, .25306, .61815},
                                                      {85, .61280, .24693}}};
    for (const auto& [angle, reflected, passed] : table) {
        const double c = cosine_of(angle);
        add_row("n 1.5, " + angle_text(angle) + ": reflectance", source, reflected, 2e-4,
                sure([=] { return static_cast<double>(fresnel_dielectric(static_cast<float>(c), 1.5F)); }));
    }
    add_row("water, n 1.33, normal", source, .02006, 5e-4,
            sure([] { return static_cast<double>(fresnel_dielectric(1, 1.33F)); }));
    for (const auto& [index, want] : std::array<std::array<double, 2>, 2>{{{1.5, .09178}, {1.33, .06593}}})
        add_row("n " + std::to_string(index).substr(0, index == 1.5 ? 3 : 4) + ": reflectance for diffuse light",
                "Walsh's formula, confirmed by quadrature", want, 5e-4, sure([n = static_cast<float>(index)] {
                    return diffuse_mean([=](float c) { return fresnel_dielectric(c, n); });
                }));
    const std::string pane = "every internal bounce, per polarisation, then averaged; optics texts";
    for (const auto& [angle, reflected, passed] : table)
        add_row("pane n 1.5 without loss, " + angle_text(angle) + ": transmittance", pane, passed, 1e-4,
                sure([c = static_cast<float>(cosine_of(angle))] {
                    return static_cast<double>(pane_shares(c, 1.5F, 1).transmitted);
                }));
    add_row("pane n 1.5 without loss: diffuse transmittance", pane, .85094, 1e-4,
            sure([] { return diffuse_mean([](float c) { return pane_shares(c, 1.5F, 1).transmitted; }); }));
    const std::array<std::array<double, 2>, 5> absorbing{
        {{0, .87225}, {30, .86734}, {45, .85131}, {60, .79112}, {75, .56999}}};
    for (const auto& [angle, passed] : absorbing)
        add_row("pane n 1.52, internal .95, " + angle_text(angle) + ": transmittance", pane, passed, 1e-4,
                sure([c = static_cast<float>(cosine_of(angle))] {
                    return static_cast<double>(pane_shares(c, 1.52F, 0.95F).transmitted);
                }));

    // The same pane, traced: a spot meter in a black room looks through the window at an even sky.
    std::vector<MeterPoint> meters;
    for (const auto& row : absorbing) {
        const auto a = static_cast<float>(radians(Degree{row[0]}));
        meters.push_back(
            {MeterKind::spot, {3 - 0.3F * std::tan(a), 0.3F, 1.5F}, Vec3(std::sin(a), -std::cos(a), 0), 0.002F});
    }
    const Run run = run_of(
        [] {
            Scene s;
            const auto openings = add_room(s, {6, 4, 3}, {hole(Wall::near, 1, 5, 0.9, 2.2, true)});
            s.lights.add("sky", SkyLight(by_hand::outside(1000, 1000), openings));
            finish(s);
            return s;
        },
        meters, 0.001);
    for (std::size_t i = 0; i < absorbing.size(); ++i)
        add_row("CIE 171 case 5.5 in kind: the pane traced, " + angle_text(absorbing[i][0]) +
                    ", luminance through it over the sky's",
                pane, absorbing[i][1], 0.005, reading(run, i, 1e-3));
    return all;
}

}  // namespace rushlight::validation
