// One command a file; each adds itself and says what it does when it is chosen.
#pragma once

#include <CLI/CLI.hpp>

namespace rushlight::command {

void add_check(CLI::App& app);
void add_read(CLI::App& app);
void add_frame(CLI::App& app);
void add_map(CLI::App& app);
void add_origins(CLI::App& app);
void add_compare(CLI::App& app);
void add_balance(CLI::App& app);
void add_day(CLI::App& app);
void add_brief(CLI::App& app);
void add_desk(CLI::App& app);
/// Last: it tells of all that were added.
void add_manual(CLI::App& app);

}  // namespace rushlight::command
