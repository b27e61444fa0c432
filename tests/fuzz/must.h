// What is asked of everything that is fed.
#pragma once

#include "setup/text/where.h"

#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>

namespace rushlight::fuzz {

inline void must(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "broken: %s\n", what);
    std::abort();
}

inline bool one_line(const std::string& text) {
    return !text.empty() && text.find('\n') == std::string::npos;
}

/// Lines, each with something in it.
inline bool full_lines(const std::string& text) {
    return !text.empty() && text.front() != '\n' && text.back() != '\n' && text.find("\n\n") == std::string::npos;
}

/// An answer is an InputError, one line an error. Returns whether there was none.
inline bool feed(const std::function<void()>& read) {
    try {
        read();
        return true;
    } catch (const InputError& error) {
        must(full_lines(error.what()), "an answer is one line an error");
        return false;
    }
}

}  // namespace rushlight::fuzz
