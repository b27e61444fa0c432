#include "desk/light/traced.h"

#include <cmath>

namespace rushlight::desk {

bool same_point(const MeterPoint& a, const MeterPoint& b) {
    return a.kind == b.kind && a.at == b.at && a.facing == b.facing && a.spot_radius == b.spot_radius;
}

double MeterLight::seconds() const {
    double all = 0;
    for (const MeterResults& r : stages_) all += r.seconds;
    return all;
}

/// Stages weighed by their walks: sum w m / sum w, and the same of errors, which are independent.
template <class Of>
Measured MeterLight::pooled(const Of& of) const {
    double weights = 0, sum = 0, variance = 0;
    for (const MeterResults& r : stages_) {
        const auto w = static_cast<double>(r.added());
        const Measured m = of(r);
        weights += w;
        sum += w * m.value;
        variance += w * w * m.error * m.error;
    }
    return weights > 0 ? Measured{sum / weights, std::sqrt(variance) / weights} : Measured{0, INFINITY};
}

Spectrum MeterLight::light(Meters meters, std::size_t source) const {
    Spectrum sum;
    double weights = 0;
    for (const MeterResults& r : stages_)
        for (const std::size_t meter : meters) {
            sum += r.light(meter, source) * static_cast<float>(r.added());
            weights += static_cast<double>(r.added());
        }
    return weights > 0 ? sum * static_cast<float>(1 / weights) : sum;
}

Measured MeterLight::of(Meters meters, std::size_t source) const {
    return pooled([&](const MeterResults& r) { return r.of(meters, std::span(&source, 1)); });
}

Measured MeterLight::all(Meters meters) const {
    return pooled([&](const MeterResults& r) { return r.all(meters); });
}

Measured MeterLight::stops(Meters over, Meters under) const {
    return {std::log2(all(over).value / all(under).value),
            pooled([&](const MeterResults& r) { return r.stops(over, under); }).error};
}

MeterLight MeterLight::relit(const std::vector<Spectrum>& share) const {
    MeterLight other(points_);
    for (const MeterResults& r : stages_) other.add(r.relit(share));
    return other;
}

std::vector<Measured> MeterLight::all(const std::vector<Spectrum>& share) const {
    const MeterLight now = relit(share);
    std::vector<Measured> all;
    for (std::size_t m = 0; m < points_.size(); ++m) all.push_back(now.all(std::span(&m, 1)));
    return all;
}

namespace {

/// Both are means: a over `wa` passes, b over `wb`.
template <class T>
void mean_into(std::vector<T>& a, const std::vector<T>& b, float wa, float wb) {
    const float ka = wa / (wa + wb), kb = wb / (wa + wb);
    for (std::size_t i = 0; i < a.size() && i < b.size(); ++i) a[i] = a[i] * ka + b[i] * kb;
}

/// As of a field: the mean of error / (mean + 2 % of the picture's mean).
void reckon_noise(LayeredFrame& frame) {
    std::vector<double> whole(frame.error.size(), 0.0);
    double all = 0, points = 0;
    for (std::size_t p = 0; p < whole.size(); ++p) {
        if (std::isnan(frame.error[p])) continue;
        for (const auto& layer : frame.layers) whole[p] += static_cast<double>(photometric(layer[p]));
        all += whole[p];
        ++points;
    }
    const double floor = points > 0 ? 0.02 * all / points : 0.0;
    double noise = 0;
    for (std::size_t p = 0; p < whole.size() && floor > 0; ++p)
        if (!std::isnan(frame.error[p])) noise += static_cast<double>(frame.error[p]) / (whole[p] + floor);
    frame.noise = points > 0 ? noise / points : 0.0;
}

}  // namespace

void PictureLight::add(LayeredFrame stage) {
    const bool first = frame.paths_per_pixel == 0 || stage.width != frame.width;
    ++stages;
    if (first) {  // or coarser than what comes now
        stage.seconds += frame.seconds;
        frame = std::move(stage);
        return;
    }
    const auto wa = static_cast<float>(frame.paths_per_pixel), wb = static_cast<float>(stage.paths_per_pixel);
    for (std::size_t s = 0; s < frame.layers.size(); ++s) mean_into(frame.layers[s], stage.layers[s], wa, wb);
    mean_into(frame.soft, stage.soft, wa, wb);
    mean_into(frame.bounced, stage.bounced, wa, wb);
    for (std::size_t s = 0; s < frame.bounced_of.size(); ++s)
        mean_into(frame.bounced_of[s], stage.bounced_of[s], wa, wb);
    for (std::size_t i = 0; i < frame.error.size(); ++i) {
        const float a = frame.error[i] * wa, b = stage.error[i] * wb;
        // One pass alone knows no error: it counts as sure as the passes of the other stage.
        const float both = std::isfinite(a) && std::isfinite(b) ? std::sqrt(a * a + b * b) / (wa + wb)
                           : std::isfinite(a)                   ? frame.error[i] * std::sqrt(wa / (wa + wb))
                                                                : stage.error[i] * std::sqrt(wb / (wa + wb));
        frame.error[i] = both;
    }
    frame.seconds += stage.seconds;
    frame.paths_per_pixel += stage.paths_per_pixel;
    reckon_noise(frame);
}

namespace {

// Tables of lamps and sky, surfaces, names: 1.2 MB in a workshop with two people and five sources, less in a bare room.
constexpr std::size_t besides_the_trees = 1 << 20;

template <class T>
std::size_t bytes_of(const std::vector<T>& all) {
    return all.capacity() * sizeof(T);
}
template <class T>
std::size_t bytes_of(const std::vector<std::vector<T>>& all) {
    std::size_t sum = all.capacity() * sizeof(all[0]);
    for (const auto& one : all) sum += bytes_of(one);
    return sum;
}

}  // namespace

std::size_t MeterLight::bytes() const {
    std::size_t sum = sizeof *this + bytes_of(points_);
    for (const MeterResults& r : stages_) sum += r.bytes();
    return sum;
}

std::size_t PictureLight::bytes() const {
    const LayeredFrame& f = frame;
    return sizeof *this + bytes_of(f.layers) + bytes_of(f.soft) + bytes_of(f.bounced) + bytes_of(f.bounced_of) +
           bytes_of(f.error) + bytes_of(f.normal) + bytes_of(f.distance) + bytes_of(f.albedo) + bytes_of(f.hair) +
           bytes_of(f.mixed) + bytes_of(f.fringes) + bytes_of(there) + (packed.bytes ? packed.bytes->size() : 0);
}

std::size_t SceneLight::bytes() const {
    std::size_t sum = sizeof *this + fingerprint.capacity() + (scene ? scene->rays.own_bytes() + besides_the_trees : 0);
    for (const auto& m : meters) sum += m->bytes();
    for (const auto& [name, p] : pictures) sum += p.bytes();
    return sum;
}

std::size_t shared_bytes(const std::list<std::shared_ptr<SceneLight>>& lights) {
    std::map<const void*, std::size_t> each;
    for (const auto& light : lights) {
        if (light->scene) light->scene->rays.add_shared(each);
        for (const Model& model : light->at_full.place.models)
            each[model.triangles.get()] = bytes_of(model.triangles->positions) + bytes_of(model.triangles->faces);
    }
    std::size_t sum = 0;
    for (const auto& [body, bytes] : each) sum += bytes;
    return sum;
}

}  // namespace rushlight::desk
