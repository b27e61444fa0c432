#include "command/outputs.h"

#include "pictures/files/write_file.h"
#include "pictures/words/printable.h"
#include "pictures/words/utf8.h"
#include "setup/text/inputs.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <cctype>
#include <cstdarg>
#include <cstdio>
#include <map>
#include <set>

namespace rushlight::command {

namespace {

constexpr std::size_t longest_stem = 120;  // bytes

void put(std::FILE* stream, const std::string& text) {
    const std::string shown = printable(text);
    // What does not arrive is noticed at the end, once for all.
    static_cast<void>(std::fwrite(shown.data(), 1, shown.size(), stream));
}

__attribute__((format(printf, 1, 0))) std::string formatted(const char* format, std::va_list words) {
    std::va_list again;
    va_copy(again, words);
    const int size = std::vsnprintf(nullptr, 0, format, again);
    va_end(again);
    std::string text(static_cast<std::size_t>(std::max(size, 0)) + 1, '\0');
    std::vsnprintf(text.data(), text.size(), format, words);
    text.pop_back();
    return text;
}

}  // namespace

void say(const char* format, ...) {
    std::va_list words;
    va_start(words, format);
    put(stdout, formatted(format, words));
    va_end(words);
}

void say_aside(const char* format, ...) {
    std::va_list words;
    va_start(words, format);
    put(stderr, formatted(format, words));
    va_end(words);
}

void hand_over(const std::string& text, const std::string& path) {
    if (path.empty()) return put(stdout, text);
    expect_output(path);  // somebody may have put something there since
    write_file(path, printable(text));
}

std::string file_stem(const std::string& file, const std::string& setup, const std::string& option) {
    std::string name = std::filesystem::path(file).stem().string() + "-" + setup;
    if (option != as_found_name) name += "-" + option;
    std::string safe;
    for (const char c : printable(name)) {
        const auto u = static_cast<unsigned char>(c);
        const bool keep = u >= 0x80 || std::isalnum(u) != 0 || c == '.' || c == '_';
        if (keep)
            safe += c;
        else if (!safe.empty() && safe.back() != '-')
            safe += '-';
    }
    safe = first_bytes(safe, longest_stem);
    while (!safe.empty() && safe.back() == '-') safe.pop_back();
    return safe;
}

std::string file_stem(const std::string& file, const SetupFile& all, const Setup& setup) {
    std::set<std::string> taken;
    std::map<std::string, int> numbers;
    for (const std::string& name : all.setup_names())
        for (const std::string& option : all.option_names(name)) {
            const std::string stem = file_stem(file, name, option);
            std::string own = stem;
            int& number = numbers[stem];
            while (!taken.insert(own).second) {
                const std::string end = "-" + std::to_string(number = std::max(2, number + 1));
                own = first_bytes(stem, longest_stem - end.size()) + end;
            }
            if (name == setup.name && option == setup.option) return own;
        }
    return file_stem(file, setup.name, setup.option);
}

void expect_output(const std::filesystem::path& path) {
    if (is_input(path))
        throw InputError(in_quotes(path.string()) +
                         " is read by this command, and would be written over: "
                         "choose another name with -o");
    expect_writable(path);
}

std::filesystem::path picture_path(const std::string& output, const std::string& stem) {
    std::filesystem::path png = output.empty() ? stem : output;
    std::error_code ignored;
    // What is there and no plain file is left as it was typed, and refused in these words.
    const auto there = std::filesystem::status(png, ignored);
    if (png.has_filename() && (!std::filesystem::exists(there) || std::filesystem::is_regular_file(there))) {
        if (png.extension() == ".exr") png.replace_extension();
        if (png.extension() != ".png") png += ".png";
    }
    expect_output(png);
    return png;
}

}  // namespace rushlight::command
