#include <fmt/format.h>

#include <cstdio>
#include <stdexcept>

#include "io/command/commands.h"
#include "io/command/drawing.h"
#include "io/command/result_argument.h"
#include "io/command/temperature_range.h"

namespace tabmelt::command {

ExitStatus view(const ViewOptions& options) {
  std::optional<pictures::TemperatureRange> range;
  try {
    if (options.range) range = temperature_range_in(*options.range);
  } catch (const std::invalid_argument& error) {
    fmt::print(stderr, "tabmelt: {}\n", error.what());
    return ExitStatus::wrong_input;
  }
  std::vector<std::filesystem::path> files;
  for (const std::string& named : options.results) files.push_back(result_file(named));
  show_results(files, range);
  return ExitStatus::fine;
}

}  // namespace tabmelt::command
