// Reads a result file (finished or part) back. Throws ResultFileError that names the file and what
// is wrong with it: foreign, truncated, of a newer layout, without frames.
#pragma once

#include <filesystem>
#include <stdexcept>

#include "solver/result/stored_run.h"

namespace tabmelt {

class ResultFileError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

StoredRun read_result_file(const std::filesystem::path& file);

}  // namespace tabmelt
