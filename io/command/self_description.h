// What the program tells about its own commands: the manual page, shell completions, and the
// nearest command to one that does not exist. All of it from the tree of commands that reads the
// command line.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

#include "io/command/exit_status.h"

namespace tabmelt::command {

// Prints a completion script for bash.
ExitStatus print_completion(const CLI::App&);
// Prints the manual page tabmelt(1) in roff (man macros): help of every command, the words of the
// verdict and the keys of a case file.
ExitStatus print_manual(const CLI::App&);

// Why the command line could not be read, in one line with the nearest known word; nothing if there
// is no word to suggest one for. `asked`: the words after the program's name.
std::optional<std::string> suggestion(const CLI::App&, const std::vector<std::string>& asked);

}  // namespace tabmelt::command
