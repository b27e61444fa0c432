#include "setup/read/luminaires.h"

#include "quantity/units.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace rushlight {

namespace {

constexpr std::size_t most_bytes = 50'000'000;  // of all files together
constexpr double point_size = 0.022;            // m, of a lamp whose file gives no opening: the emitter of a point head
constexpr double least_size = 0.005;            // m

std::string whole(double value) {
    return std::to_string(std::llround(value));
}
std::string metres(double value) {
    return plain(std::round(value * 1000) / 1000);
}

}  // namespace

std::shared_ptr<const Luminaire> Luminaires::read(const LayeredTable& lamp) {
    const std::filesystem::path path = lamp.file("luminaire");
    if (const auto known = known_.find(path.string()); known != known_.end()) return known->second;
    std::error_code error;
    bytes_ += static_cast<std::size_t>(std::min<std::uintmax_t>(std::filesystem::file_size(path, error), most_bytes));
    if (bytes_ > most_bytes) lamp.refuse("luminaire", "takes the luminaire files past 50 MB in all");
    auto luminaire = std::make_shared<const Luminaire>(read_luminaire(path.string()));
    const std::string name = path.filename().string();
    for (const std::string& r : luminaire->remarks) lamp.context().remark(lamp.where("luminaire"), name + ": " + r);
    return known_.emplace(path.string(), std::move(luminaire)).first->second;
}

void wear_luminaire(Lamp& lamp, const LayeredTable& table, std::shared_ptr<const Luminaire> luminaire) {
    const LuminousOpening& o = luminaire->opening;
    lamp.luminaire = luminaire;
    lamp.beam = std::clamp(luminaire->beam.wider(), 1.0, 170.0);
    lamp.field = std::clamp(luminaire->field.wider(), 1.0, 178.0);
    if (lamp.shape == LampShape::ball || lamp.shape == LampShape::tube)
        table.refuse("shape",
                     "is " + in_quotes(table.word("shape")) +
                         " beside a luminaire file; expected hard (a round opening), box (a rectangle) or none");
    const std::vector<double> size = table.has("size") ? table.lengths("size", 1, 2) : std::vector<double>{};
    const bool round = table.has("shape") ? lamp.shape == LampShape::hard
                       : size.size() > 1  ? false
                                          : o.round || !o.given();
    lamp.shape = round ? LampShape::hard : LampShape::box;
    if (round && size.size() > 1 && size[0] != size[1])
        table.refuse("size", "has two numbers; a hard lamp is round and takes one");
    lamp.width = !size.empty() ? size[0] : std::max(o.given() ? o.length : point_size, least_size);
    lamp.height = !size.empty() ? size.back() : std::max(o.given() ? o.width : point_size, least_size);
    if (round) lamp.height = lamp.width;
    if (!o.given() && size.empty())
        table.context().remark(table.where(), lamp.name + ": its luminaire file gives no opening; " +
                                                  plain(lamp.width) + " m round is assumed");
    // A lamp that shines sideways and back is no flat face.
    if (luminaire->shines_back) lamp.depth = o.given() ? o.depth : std::min(lamp.width, lamp.height);
    if (!luminaire->colour.empty() && !table.has("kelvin"))
        table.context().remark(table.where("luminaire"), lamp.name + ": the luminaire file calls its light " +
                                                             in_quotes(luminaire->colour) + "; kelvin is not given, " +
                                                             plain(table.number("kelvin")) + " K is assumed");
}

double luminaire_lumens(const Lamp& lamp) {
    const double cosine = std::clamp(-static_cast<double>(lamp.aim.z), -1.0, 1.0);
    return lamp.luminaire->lumens * lamp.luminaire->tilt_share(degrees(std::acos(cosine)).value);
}

std::string described(const Lamp& lamp) {
    const Luminaire& l = *lamp.luminaire;
    const auto wide = [](const Luminaire::Width& w) {
        const bool same = std::abs(w.along - w.across) < 0.5;
        return same ? whole(w.along) : whole(w.along) + " by " + whole(w.across);
    };
    const double share = photometric(lamp.intensity_or_flux) / l.lumens;
    std::string s = l.format + ": " + whole(l.lumens * share) + " lm, peak " + whole(l.intensity.peak() * share) +
                    " cd, beam " + wide(l.beam) + " degrees, field " + wide(l.field) + " degrees";
    s += ", opening " + metres(lamp.width) +
         (lamp.shape == LampShape::hard ? " m round" : " by " + metres(lamp.height) + " m");
    if (lamp.depth > 0) s += ", " + metres(lamp.depth) + " m deep";
    if (l.watts > 0) s += ", " + plain(l.watts) + " W";
    return s;
}

}  // namespace rushlight
