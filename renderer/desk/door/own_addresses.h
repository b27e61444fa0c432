// What this machine is called on its networks.
#pragma once

#include <string>
#include <vector>

namespace rushlight::desk {

/// Addresses of the networks that are up, the loopback left out; IPv4.
std::vector<std::string> own_addresses();
std::string own_name();

}  // namespace rushlight::desk
