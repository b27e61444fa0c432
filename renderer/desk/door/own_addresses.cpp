#include "desk/door/own_addresses.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <unistd.h>

#include <array>

namespace rushlight::desk {

std::vector<std::string> own_addresses() {
    std::vector<std::string> all;
    ifaddrs* list = nullptr;
    if (::getifaddrs(&list) != 0) return all;
    for (const ifaddrs* i = list; i != nullptr; i = i->ifa_next) {
        if (i->ifa_addr == nullptr || i->ifa_addr->sa_family != AF_INET) continue;
        if ((i->ifa_flags & IFF_UP) == 0 || (i->ifa_flags & IFF_LOOPBACK) != 0) continue;
        std::array<char, INET_ADDRSTRLEN> text{};
        const auto* address = reinterpret_cast<const sockaddr_in*>(i->ifa_addr);
        if (::inet_ntop(AF_INET, &address->sin_addr, text.data(), text.size()) != nullptr)
            all.emplace_back(text.data());
    }
    ::freeifaddrs(list);
    return all;
}

std::string own_name() {
    std::array<char, 256> name{};
    return ::gethostname(name.data(), name.size() - 1) == 0 ? name.data() : "";
}

}  // namespace rushlight::desk
