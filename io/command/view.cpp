#include "io/command/commands.h"
#include "io/command/drawing.h"
#include "io/command/result_argument.h"

namespace tabmelt {

ExitStatus view(const ViewOptions& options) {
  std::vector<std::filesystem::path> files;
  for (const std::string& named : options.results) files.push_back(result_file(named));
  show_results(files);
  return ExitStatus::fine;
}

}  // namespace tabmelt
