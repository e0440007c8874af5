#include "io/command/result_argument.h"

#include <fmt/format.h>

#include "io/store/result_reader.h"

namespace tabmelt::command {

std::filesystem::path result_file(const std::filesystem::path& named) {
  std::error_code ignored;
  if (!std::filesystem::is_directory(named, ignored)) return named;
  for (const char* name : {"result.vtkhdf", "result.part.vtkhdf"}) {
    if (std::filesystem::exists(named / name, ignored)) return named / name;
  }
  throw ResultFileError(fmt::format("{}: this folder holds no result.vtkhdf", named.string()));
}

}  // namespace tabmelt::command
