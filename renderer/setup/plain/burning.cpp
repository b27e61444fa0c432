#include "quantity/colour.h"
#include "setup/plain/rig.h"

#include <algorithm>

namespace rushlight {

double Lamp::burning_kelvin() const {
    return light == LightKind::tungsten ? dimmed_filament(Kelvin{kelvin}, level).value : kelvin;
}

double Lamp::gelled_kelvin() const {
    return std::clamp(colour_temperature(tristimulus(intensity_or_flux * gel)).cct.value, 1000.0, 25'000.0);
}

Spectrum Lamp::burning() const {
    const Spectrum share = gel * static_cast<float>(on ? level : 0.0);
    if (light != LightKind::tungsten || level >= 1 || share.dark()) return share;
    // Both black bodies of one photometric unit; a tint stays as it is.
    const auto full = lamp_spectrum(light, Kelvin{kelvin}), dimmed = lamp_spectrum(light, Kelvin{burning_kelvin()});
    if (!full || !dimmed) return share;
    Spectrum warmed = share;
    for (int b = 0; b < bands; ++b) warmed[b] *= (*dimmed)[b] / (*full)[b];
    return warmed;
}

}  // namespace rushlight
