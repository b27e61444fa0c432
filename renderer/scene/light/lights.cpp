#include "scene/light/lights.h"

#include "scene/surface/choices.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {
// A light expected to give nothing here may still do so by a way the estimate does not know.
constexpr float chance_floor = 0.03F;
constexpr float start_floor = 0.15F;

/// The place of a light as an image in a mirror must know it: a ball that holds a lamp, or the sun's direction.
struct Ball {
    Vec3 centre{0, 0, 0};
    float radius = 0;
};
Ball ball_round(const SunLight& sun) {
    return {sun.toward(), static_cast<float>(std::sqrt(std::max(0.0, 2.0 * (1.0 - sun.cos_radius()))))};
}
template <class Lamp>
Ball ball_round(const Lamp& lamp) {
    Ball ball;
    if constexpr (requires { lamp.glow(); }) {
        const Mesh face = lamp.glow();
        for (const Vec3& p : face.positions) ball.centre += p / static_cast<float>(face.positions.size());
        for (const Vec3& p : face.positions) ball.radius = std::max(ball.radius, (p - ball.centre).length() * 1.001F);
    } else if constexpr (requires { lamp.radius(); }) {
        ball = {lamp.centre(), lamp.radius() * 1.001F};
    }
    return ball;
}
}  // namespace

void Lights::add(std::string source, Light light) {
    if (std::holds_alternative<SkyLight>(light) || std::holds_alternative<SunLight>(light))
        outside_.push_back(lights_.size());
    if (std::holds_alternative<SkyLight>(light)) sky_ = static_cast<int>(lights_.size());
    if (std::holds_alternative<SunLight>(light)) sun_ = static_cast<int>(lights_.size());
    lights_.push_back(std::move(light));
    sources_.push_back(std::move(source));
}

void Lights::settle(std::span<const Mirror> mirrors) {
    whereabouts_.clear();
    for (const Mirror& m : mirrors)
        for (std::size_t i = 0; i < lights_.size(); ++i) {
            const Ball ball = std::visit([](const auto& l) { return ball_round(l); }, lights_[i]);
            const bool far = static_cast<int>(i) == sun_;
            whereabouts_.push_back({m.face.rectangle, ball.centre, ball.radius, far});
        }
    if (sun_ >= 0) mirrored_ = MirroredSun(std::get<SunLight>(lights_[static_cast<std::size_t>(sun_)]), mirrors);
    start_by({});
}

void Lights::start_by(std::span<const float> shares) {
    start_.assign(lights_.size(), 0);
    double all = 0;
    std::size_t lit = 0;
    for (std::size_t i = 0; i < lights_.size(); ++i) {
        double f = std::visit([](const auto& l) { return l.flux(); }, lights_[i]);
        if (static_cast<int>(i) == sun_) f += mirrored_.flux();
        // Walks of which few count scatter more: least is left where they start by the root of that share.
        if (i < shares.size()) f *= std::sqrt(static_cast<double>(std::max(shares[i], 1e-4F)));
        start_[i] = static_cast<float>(f);
        all += f;
        lit += f > 0;
    }
    if (lit == 0) return;
    for (float& s : start_)
        if (s > 0) s = static_cast<float>((1.0F - start_floor) * s / all) + start_floor / static_cast<float>(lit);
}

float Lights::chances(const Vec3& from, std::span<float> chance) const {
    float all = 0;
    for (std::size_t i = 0; i < lights_.size(); ++i) {
        chance[i] = std::visit([&](const auto& l) { return l.expected_lux(from); }, lights_[i]);
        all += chance[i];
    }
    const float floor = chance_floor / static_cast<float>(lights_.size());
    for (std::size_t i = 0; i < lights_.size(); ++i)
        chance[i] =
            all > 0 ? (1.0F - chance_floor) * chance[i] / all + floor : 1.0F / static_cast<float>(lights_.size());
    return all;
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
    const float here = static_cast<int>(light) == sun_ ? 1.0F - mirrored_.share() : 1.0F;
    return here * start_[light] *
           std::visit([&](const auto& l) { return l.emission_pdf(hit, outward); }, lights_[light]);
}

std::optional<Incoming> Lights::incoming_by_mirror(std::size_t light, const Vec3& from, float u, float v) const {
    if (static_cast<int>(light) != sun_) return incoming(light, from, u, v);
    const auto& sun = std::get<SunLight>(lights_[light]);
    Incoming in;
    in.toward = sun.toward_disc(u, v);
    in.distance = std::numeric_limits<float>::infinity();
    in.radiance = sun.disc_radiance();
    in.pdf = sun.disc_pdf();
    return in;
}

float Lights::expected_lux_by_mirror(std::size_t light, const Vec3& from) const {
    if (static_cast<int>(light) == sun_) return std::get<SunLight>(lights_[light]).lux();
    return std::visit([&](const auto& l) { return l.expected_lux(from); }, lights_[light]);
}

bool Lights::may_reach(std::size_t light, const Vec3& from) const {
    return static_cast<int>(light) != sun_ || std::get<SunLight>(lights_[light]).may_reach(from);
}

Lights::Start Lights::emitted(float choice, const std::array<float, 5>& u) const {
    Start s;
    const auto picked = pick(lights_.size(), choice, [&](std::size_t i) { return start_[i]; });
    if (!picked) return s;
    s.light = picked->which;
    float chance = picked->weight;
    if (static_cast<int>(s.light) == sun_ && mirrored_.share() > 0) {
        std::array<float, 5> rest = u;
        if (u[4] < mirrored_.share()) {
            rest[4] = u[4] / mirrored_.share();
            s.ray = mirrored_.emitted(rest, s.mirror);
            return s;
        }
        rest[4] = (u[4] - mirrored_.share()) / (1.0F - mirrored_.share());
        chance *= 1.0F - mirrored_.share();
        s.ray = std::get<SunLight>(lights_[s.light]).emitted(rest);
    } else {
        s.ray = emitted_by(s.light, u);
    }
    s.ray.throughput *= 1.0F / chance;
    s.ray.pdf *= chance;
    return s;
}

}  // namespace rushlight
