#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <set>

#include "io/command/commands.h"
#include "io/command/drawing.h"
#include "io/command/result_argument.h"

namespace tabmelt {
namespace fs = std::filesystem;

ExitStatus picture(const PictureOptions& options) {
  const std::string reason = reason_not_to_draw();
  if (!reason.empty()) throw DrawingError("cannot draw: " + reason);
  std::set<fs::path> used;
  for (const std::string& named : options.results) {
    const fs::path file = result_file(named);
    const fs::path beside = fs::absolute(file).lexically_normal().parent_path();
    fs::path folder = file.parent_path();
    if (options.folder) folder = *options.folder;
    if (options.folder && options.results.size() > 1) folder /= beside.filename();
    if (!used.insert(folder).second) {
      throw DrawingError(fmt::format("two results would be drawn into {}", folder.string()));
    }
    std::vector<fs::path> drawn;
    if (options.animation || options.frames) {
      drawn = animate_result(file, folder, options.frames ? Animation::frames : Animation::movie);
    } else {
      drawn = draw_result(file, folder);
      put_into_report(beside, drawn);
    }
    for (const fs::path& picture_file : drawn) fmt::print("{}\n", picture_file.string());
  }
  return ExitStatus::fine;
}

}  // namespace tabmelt
