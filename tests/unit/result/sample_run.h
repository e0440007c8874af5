// An invented run, small and with a different value in every place, so that a mix-up shows.
#pragma once

#include <filesystem>
#include <string>

#include "io/case/read_case.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"
#include "tests/support/temporary_folder.h"

namespace tabmelt::sample {

inline constexpr std::size_t nr = 12, nz = 9, frames = 4, steps = 7;

Case asked();
// As given to Observer::begins: grid and names only.
Result beginning();
Frame frame(std::size_t k, const mesh::AxisymmetricGrid& grid);
Result finished();
Verdict verdict();

using Folder = test::TemporaryFolder;
using test::file_text;

// Writes the whole run; returns the field file.
std::filesystem::path write(const std::filesystem::path& folder);

// Runs a Python script with the system interpreter. Its exit status: 0 all right; 77 a module is
// missing; anything else is a failure, told in `output`.
struct ScriptOutcome {
  int status = 0;
  std::string output;
};
ScriptOutcome run_python(const std::string& script, const std::string& arguments);
inline constexpr int module_missing = 77;

}  // namespace tabmelt::sample
