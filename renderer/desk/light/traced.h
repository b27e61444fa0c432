// Light that was traced of one scene, and grows: stages of independent walks, each weighed by how many there were, so
// that refining moves the answer only as far as chance did.
#pragma once

#include "paths/measure.h"
#include "results/frame/layered_frame.h"
#include "results/readings/readings.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <list>
#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace rushlight::desk {

/// Meters that were asked for together.
class MeterLight {
public:
    explicit MeterLight(std::vector<MeterPoint> points) : points_(std::move(points)) {}

    const std::vector<MeterPoint>& points() const { return points_; }
    void add(MeterResults stage) { stages_.push_back(std::move(stage)); }
    std::size_t stages() const { return stages_.size(); }
    double seconds() const;
    std::size_t bytes() const;

    using Meters = std::span<const std::size_t>;
    /// The light of one source, as a mean of some meters.
    Spectrum light(Meters meters, std::size_t source) const;
    Measured of(Meters meters, std::size_t source) const;
    /// All sources; its error with what they have in common.
    Measured all(Meters meters) const;
    /// log2(over / under) of the means of two groups.
    Measured stops(Meters over, Meters under) const;
    /// The same with every source's light multiplied by `share`, band by band.
    MeterLight relit(const std::vector<Spectrum>& share) const;
    /// Every meter by itself, relit.
    std::vector<Measured> all(const std::vector<Spectrum>& share) const;

private:
    template <class Of>
    Measured pooled(const Of& of) const;

    std::vector<MeterPoint> points_;
    std::vector<MeterResults> stages_;
};

bool same_point(const MeterPoint& a, const MeterPoint& b);

/// Little-endian half floats, rows from the top. A frame: for each source four planes of four bands a pixel. A map:
/// for each source a plane of lux, then one of the standard error of the whole; what cannot be measured is not a
/// number.
struct PackedPicture {
    std::shared_ptr<const std::string> bytes;
    float scale = 1;  // what is packed times this is cd/m2 a band, or lux
    int stages = 0;   // of what was packed
    int width = 0;
};

/// A picture's worth of points: a frame, or the light over what the camera sees or over a level plane.
struct PictureLight {
    LayeredFrame frame;       // of a map: layers are what falls there, cd/m2 read as lux
    std::vector<char> there;  // of a map: where there is something to measure; empty: everywhere
    int stages = 0;
    unsigned long used = 0;
    PackedPicture packed;  // as it was shown last

    void add(LayeredFrame stage);
    std::size_t bytes() const;
};

/// Everything traced of one content. Its scene is built once.
struct SceneLight {
    std::string fingerprint;
    Setup at_full;
    std::unique_ptr<Scene> scene;  // null until somebody needed it
    std::vector<std::unique_ptr<MeterLight>> meters;
    std::map<std::string, PictureLight> pictures;
    unsigned long used = 0;

    /// Memory that all of it takes, about, but for what rooms share.
    std::size_t bytes() const;
};

/// Memory that heads, hair and models take, about: what stands in many rooms is there once.
std::size_t shared_bytes(const std::list<std::shared_ptr<SceneLight>>& lights);

}  // namespace rushlight::desk
