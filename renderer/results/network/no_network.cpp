// Where the program is built without the network.
#include "results/network/network.h"

namespace rushlight {

bool has_network() {
    return false;
}

std::string network_remark() {
    return "The program was built without the denoising network, so the noise is smoothed by our own filter, which is "
           "coarser.";
}

std::vector<Vec3> without_noise(const NoisyPicture&, const Effort&) {
    return {};
}

}  // namespace rushlight
