// Whether this was built with a sanitizer: several times as slow, and memory is not what it would be without.
#pragma once

namespace rushlight {

inline constexpr bool sanitized =
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
    true;
#elif defined(__has_feature)
    __has_feature(address_sanitizer) || __has_feature(thread_sanitizer);
#else
    false;
#endif

}  // namespace rushlight
