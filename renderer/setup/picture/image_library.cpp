#include "setup/picture/image_library.h"

#include "quantity/module.h"

namespace rushlight {

ImageLibrary& image_library() {
    static ImageLibrary* const library = reinterpret_cast<ImageLibrary* (*)()>(
        from_module("rushlight_pictures.so", "reads photographs", "rushlight_image_library"))();
    return *library;
}

}  // namespace rushlight
