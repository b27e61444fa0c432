// Where in a file something stands, and the one kind of error that a person's input can cause.
#pragma once

#include <stdexcept>
#include <string>

namespace rushlight {

/// Lines and columns count from 1; 0 means the place is not known.
struct Where {
    std::string file;
    int line = 0;
    int column = 0;
};

/// "file:line:column: what was found, what was expected, and the nearest valid word".
class InputError : public std::runtime_error {
public:
    InputError(const Where& where, const std::string& what) : std::runtime_error(written(where) + what) {}
    explicit InputError(const std::string& what) : std::runtime_error(what) {}

    static std::string written(const Where& w) {
        std::string s = w.file;
        if (w.line > 0) s += ":" + std::to_string(w.line);
        if (w.column > 0) s += ":" + std::to_string(w.column);
        return s.empty() ? s : s + ": ";
    }
};

}  // namespace rushlight
