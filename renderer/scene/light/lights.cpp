#include "scene/light/lights.h"

#include "scene/surface/choices.h"

namespace rushlight {

namespace {
// A light expected to give nothing here may still do so by a way the estimate does not know.
constexpr float chance_floor = 0.03F;
constexpr float start_floor = 0.15F;
}  // namespace

void Lights::add(std::string source, Light light) {
    if (std::holds_alternative<SkyLight>(light) || std::holds_alternative<SunLight>(light))
        outside_.push_back(lights_.size());
    if (std::holds_alternative<SkyLight>(light)) sky_ = static_cast<int>(lights_.size());
    lights_.push_back(std::move(light));
    sources_.push_back(std::move(source));
}

void Lights::settle() {
    start_.assign(lights_.size(), 0);
    double all = 0;
    std::size_t lit = 0;
    for (std::size_t i = 0; i < lights_.size(); ++i) {
        const double f = std::visit([](const auto& l) { return l.flux(); }, lights_[i]);
        start_[i] = static_cast<float>(f);
        all += f;
        lit += f > 0;
    }
    if (lit == 0) return;
    for (float& s : start_)
        if (s > 0) s = static_cast<float>((1.0F - start_floor) * s / all) + start_floor / static_cast<float>(lit);
}

void Lights::chances(const Vec3& from, std::span<float> chance) const {
    float all = 0;
    for (std::size_t i = 0; i < lights_.size(); ++i) {
        chance[i] = std::visit([&](const auto& l) { return l.expected_lux(from); }, lights_[i]);
        all += chance[i];
    }
    const float floor = chance_floor / static_cast<float>(lights_.size());
    for (std::size_t i = 0; i < lights_.size(); ++i)
        chance[i] =
            all > 0 ? (1.0F - chance_floor) * chance[i] / all + floor : 1.0F / static_cast<float>(lights_.size());
}

std::optional<Incoming> Lights::incoming(std::size_t light, const Vec3& from, float u, float v) const {
    return std::visit([&](const auto& l) { return l.incoming(from, u, v); }, lights_[light]);
}

float Lights::incoming_pdf(std::size_t light, const Vec3& from, const Hit& hit, const Vec3& toward) const {
    return std::visit([&](const auto& l) { return l.incoming_pdf(from, hit, toward); }, lights_[light]);
}

Spectrum Lights::radiance(std::size_t light, const Hit& hit, const Vec3& outward) const {
    return std::visit([&](const auto& l) { return l.radiance(hit, outward); }, lights_[light]);
}

Polarisation Lights::polarisation(std::size_t light, const Vec3& toward) const {
    if (static_cast<int>(light) != sky_) return {};
    return std::get<SkyLight>(lights_[light]).polarisation(toward);
}

float Lights::emission_pdf(std::size_t light, const Hit& hit, const Vec3& outward) const {
    return start_[light] * std::visit([&](const auto& l) { return l.emission_pdf(hit, outward); }, lights_[light]);
}

Lights::Start Lights::emitted(float choice, const std::array<float, 5>& u) const {
    Start s;
    const auto picked = pick(lights_.size(), choice, [&](std::size_t i) { return start_[i]; });
    if (!picked) return s;
    s.light = picked->which;
    s.ray = std::visit([&](const auto& l) { return l.emitted(u); }, lights_[s.light]);
    s.ray.throughput *= 1.0F / picked->weight;
    s.ray.pdf *= picked->weight;
    return s;
}

}  // namespace rushlight
