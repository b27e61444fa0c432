// Modules: what is too heavy to be loaded at every start lies beside the program, and is loaded when it is first
// needed.
#pragma once

#include <dlfcn.h>

#include <filesystem>
#include <stdexcept>
#include <string>

namespace rushlight {

inline std::filesystem::path module_path(const char* name, const char* what_for) {
    namespace fs = std::filesystem;
    std::error_code ignored;
    fs::path folder = fs::read_symlink("/proc/self/exe", ignored).parent_path();
    constexpr int levels = 4;  // tests lie in folders of the folder of the build
    for (int level = 0; level < levels && !folder.empty(); ++level, folder = folder.parent_path()) {
        // Where anybody may write, anybody may have put a module.
        if ((fs::status(folder, ignored).permissions() & fs::perms::others_write) != fs::perms::none) continue;
        for (const fs::path& path : {folder / name, folder / "lib" / "rushlight" / name})
            if (fs::is_regular_file(path, ignored)) return path;
    }
    throw std::runtime_error(std::string(name) + " is missing, which " + what_for + "; it belongs beside the program");
}

/// The function `symbol` of the module `name`, which lies beside the program, where it was built, or where a package
/// puts it. Throws std::runtime_error, in one sentence that says `what_for` it is: "reads photographs".
inline void* from_module(const char* name, const char* what_for, const char* symbol) {
    void* const module = ::dlopen(module_path(name, what_for).c_str(), RTLD_NOW | RTLD_LOCAL);
    if (module == nullptr)
        throw std::runtime_error(std::string(name) + ", which " + what_for + ", cannot be loaded: " + ::dlerror());
    void* const found = ::dlsym(module, symbol);
    if (found == nullptr) throw std::runtime_error(std::string(name) + " is another program's");
    return found;
}

}  // namespace rushlight
