// What a command hands over: words on the screen, and files under names that hurt nobody.
#pragma once

#include "setup/read/setup_file.h"

#include <filesystem>
#include <string>

namespace rushlight::command {

/// To standard output, as printf does it, with nothing in it that steers a terminal: see printable().
__attribute__((format(printf, 1, 2))) void say(const char* format, ...);
/// The same to standard error.
__attribute__((format(printf, 1, 2))) void say_aside(const char* format, ...);
/// Text of any length and content to standard output, or into the file at `path` where there is one.
void hand_over(const std::string& text, const std::string& path = "");

/// "workshop-1-wide-black" from the names of the file, the set-up and the option: safe as a file name.
std::string file_stem(const std::string& file, const std::string& setup, const std::string& option);
/// The same, and another for every set-up and option of the file: of names that come to the same, the later ones in the
/// file are numbered.
std::string file_stem(const std::string& file, const SetupFile& all, const Setup& setup);

/// Throws where nothing could, or should, be written at `path`: no folder, no right, no plain file in its place, or a
/// file that this run has read.
void expect_output(const std::filesystem::path& path);
/// The picture's path: `output` as it was typed, or `stem`, ending in .png. Throws as expect_output() does.
std::filesystem::path picture_path(const std::string& output, const std::string& stem);

}  // namespace rushlight::command
