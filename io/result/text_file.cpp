#include "io/result/text_file.h"

#include <cerrno>
#include <cstring>
#include <fstream>
#include <system_error>

namespace tabmelt {

std::optional<std::string> failure_to_write(const std::filesystem::path& file,
                                            const std::string& text) {
  errno = 0;
  std::ofstream out(file, std::ios::binary | std::ios::trunc);
  if (out) out.write(text.data(), static_cast<std::streamsize>(text.size()));
  if (out) out.close();  // the last block reaches the disk here, or not
  if (out) return std::nullopt;
  const int cause = errno;
  out.clear();
  std::error_code ignored;
  std::filesystem::remove(file, ignored);
  return cause ? std::generic_category().message(cause) : std::string("write failed");
}

}  // namespace tabmelt
