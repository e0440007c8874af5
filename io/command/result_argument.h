// A result named on the command line.
#pragma once

#include <filesystem>

namespace tabmelt::command {

// A result may be named by its folder; a finished file goes before the part of a cut-short run.
// Throws ResultFileError if the folder holds neither.
std::filesystem::path result_file(const std::filesystem::path& named);

}  // namespace tabmelt::command
