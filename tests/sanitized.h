// Whether this was built with the address sanitizer: a few times as slow, and what is freed stays for a while.
#pragma once

namespace rushlight {

inline constexpr bool address_sanitized =
#if defined(__SANITIZE_ADDRESS__)
    true;
#elif defined(__has_feature)
    __has_feature(address_sanitizer);
#else
    false;
#endif

}  // namespace rushlight
