#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <set>

#include "io/command/commands.h"
#include "io/command/drawing.h"
#include "io/result/result_reader.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

// A result may be named by its folder; a finished file goes before the part of a cut-short run.
fs::path result_file(const fs::path& named) {
  std::error_code ignored;
  if (!fs::is_directory(named, ignored)) return named;
  for (const char* name : {"result.vtkhdf", "result.part.vtkhdf"}) {
    if (fs::exists(named / name, ignored)) return named / name;
  }
  throw ResultFileError(fmt::format("{}: this folder holds no result.vtkhdf", named.string()));
}

}  // namespace

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
    for (const fs::path& drawn : draw_result(file, folder)) {
      fmt::print("{}\n", drawn.string());
    }
  }
  return ExitStatus::fine;
}

}  // namespace tabmelt
