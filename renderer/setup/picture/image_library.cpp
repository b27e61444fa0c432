#include "setup/picture/image_library.h"

#include <dlfcn.h>

#include <filesystem>
#include <stdexcept>
#include <string>

namespace rushlight {

namespace {

namespace fs = std::filesystem;

constexpr const char* module_name = "rushlight_pictures.so";

/// Beside the program, where it was built; or where a package puts it.
fs::path module_path() {
    std::error_code ignored;
    fs::path folder = fs::read_symlink("/proc/self/exe", ignored).parent_path();
    constexpr int levels = 4;  // tests lie in folders of the folder of the build
    for (int level = 0; level < levels && !folder.empty(); ++level, folder = folder.parent_path())
        for (const fs::path& path : {folder / module_name, folder / "lib" / "rushlight" / module_name})
            if (fs::is_regular_file(path, ignored)) return path;
    throw std::runtime_error(std::string(module_name) +
                             " is missing, which reads photographs; it belongs beside the program");
}

ImageLibrary* loaded() {
    void* const module = ::dlopen(module_path().c_str(), RTLD_NOW | RTLD_LOCAL);
    if (module == nullptr) throw std::runtime_error(std::string("cannot load what pictures need: ") + ::dlerror());
    auto* const make = reinterpret_cast<ImageLibrary* (*)()>(::dlsym(module, "rushlight_image_library"));
    if (make == nullptr) throw std::runtime_error(std::string(module_name) + " is another program's");
    return make();
}

}  // namespace

ImageLibrary& image_library() {
    static ImageLibrary* const library = loaded();
    return *library;
}

}  // namespace rushlight
