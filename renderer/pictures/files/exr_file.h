// Layers of light as the bytes of an OpenEXR file, floats of 32 bits. The only file that sees OpenEXR.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

namespace rushlight {

struct ExrFile {
    int width = 0, height = 0;
    std::vector<std::string> channels;
    std::map<std::string, int> whole_numbers;  // notes in its header, by name
    std::map<std::string, float> numbers;
};

/// `row` fills line `y` from the top, for every pixel one float a channel. Throws OutputError.
std::string exr_file(const ExrFile& file, const std::function<void(int y, float* to)>& row);

}  // namespace rushlight
