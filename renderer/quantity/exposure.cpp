#include "quantity/exposure.h"

namespace rushlight {

namespace {

/// Light that the scene must send for one unit behind the filters: T = 10^-D (optical density, ISO 5).
double filter_factor(const Exposure& e) {
    return std::pow(10.0, e.nd_density) * std::exp2(e.filter_stops);
}

}  // namespace

Lux metered_illuminance(const Exposure& e, double receptor_constant) {
    return Lux{receptor_constant * e.t_stop * e.t_stop / (e.shutter_time().value * e.iso) * filter_factor(e)};
}

Luminance grey_luminance(const Exposure& e) {
    return luminance_of_matt(metered_illuminance(e), grey_reflectance);
}

double metered_t_stop(Lux light, const Exposure& e, double receptor_constant) {
    return std::sqrt(light.value * e.shutter_time().value * e.iso / (receptor_constant * filter_factor(e)));
}

Stop over_exposure(Lux light, const Exposure& e) {
    return stops_between(metered_illuminance(e), light);
}

Stop over_grey(Luminance l, const Exposure& e) {
    return stops_between(grey_luminance(e), l);
}

}  // namespace rushlight
