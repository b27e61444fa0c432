// What is fed with bytes that nobody meant: each reads them as a file of its kind and must come back, with something
// read or with an InputError of one line. Anything else is a fault and stops the program.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

namespace rushlight::fuzz {

void feed_lm63(const std::string& bytes);
void feed_eulumdat(const std::string& bytes);
void feed_setup_file(const std::string& bytes);
void feed_rough_model(const std::string& bytes);
void feed_gltf(const std::string& bytes);
/// What a meter said, as a spreadsheet writes it.
void feed_measured(const std::string& bytes);
/// A line "table.key = value", then the file in which it is to be set.
void feed_toml_text(const std::string& bytes);
/// Words after --level and --gel, one a line: "level key=50%".
void feed_what_if(const std::string& bytes);
/// Words after --guides.
void feed_guides(const std::string& bytes);
/// What a page of the desk sends to change a file; and to begin one.
void feed_edits(const std::string& bytes);
void feed_new_place(const std::string& bytes);
/// The head of a request to the desk.
void feed_request(const std::string& bytes);

}  // namespace rushlight::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
