#include "setup/text/whole_file.h"

#include "setup/text/inputs.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <system_error>

namespace rushlight {

std::string whole_file(const std::string& path, std::size_t most, const std::string& expected) {
    namespace fs = std::filesystem;
    remember_input(path);
    const auto refuse = [&](const std::string& problem) { throw InputError(Where{path}, problem); };
    const auto too_large = [&](double size) {
        refuse("the file has " + plain(std::ceil(size / 1e5) / 10) + " MB; expected no more than " +
               plain(static_cast<double>(most) / 1e6) + " MB");
    };
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) refuse("there is no such file; expected " + expected);
    if (fs::is_directory(status)) refuse("this is a folder; expected " + expected);
    if (!fs::is_regular_file(status)) refuse("this is no plain file; expected " + expected);
    const auto size = fs::file_size(path, error);
    if (!error && size > most) too_large(static_cast<double>(size));
    std::ifstream in(path, std::ios::binary);
    // It may grow while it is read.
    constexpr std::size_t block = 1 << 20;
    std::string bytes;
    while (in && bytes.size() <= most) {
        const std::size_t before = bytes.size();
        bytes.resize(before + std::min(block, most + 1 - before));
        in.read(bytes.data() + before, static_cast<std::streamsize>(bytes.size() - before));
        bytes.resize(before + static_cast<std::size_t>(std::max<std::streamsize>(0, in.gcount())));
    }
    if (in.bad() || !in.eof()) {
        if (bytes.size() > most) too_large(static_cast<double>(bytes.size()));
        refuse("the file cannot be read");
    }
    return bytes;
}

}  // namespace rushlight
