// A result file with bytes changed: it is refused, or all of it can be read. The input is a list of
// changes to a sound file: four bytes of where, one of how many, then the new bytes; a count of 0
// cuts the file there.
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "io/store/result_reader.h"
#include "tests/unit/result/sample_run.h"

namespace {

std::string sound_file() {
  const tabmelt::sample::Folder folder;
  return tabmelt::sample::file_text(tabmelt::sample::write(folder / "run"));
}

std::string changed(std::string file, const std::uint8_t* data, std::size_t size) {
  while (size >= 5 && !file.empty()) {
    std::size_t where = 0;
    for (int n = 0; n < 4; ++n) where = where << 8 | data[n];
    where %= file.size();
    const std::size_t count = std::min<std::size_t>(data[4] % 17, size - 5);
    if (data[4] % 17 == 0) file.resize(where);
    for (std::size_t n = 0; n < count && where + n < file.size(); ++n)
      file[where + n] = static_cast<char>(data[5 + n]);
    data += 5 + count;
    size -= 5 + count;
  }
  return file;
}

void read_all(const std::string& path) {
  const tabmelt::StoredRun run = tabmelt::read_result_file(path);
  for (std::size_t k = 0; k < run.frame_times.size(); ++k)
    for (const float T : run.frame(k).temperature)
      if (!std::isfinite(T)) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const std::string sound = sound_file();
  static const int file = ::memfd_create("result", MFD_CLOEXEC);
  static const std::string path = "/proc/self/fd/" + std::to_string(file);
  const std::string bytes = changed(sound, data, size);
  if (file < 0 || ::ftruncate(file, 0) != 0 ||
      ::pwrite(file, bytes.data(), bytes.size(), 0) != static_cast<::ssize_t>(bytes.size()))
    std::abort();
  try {
    read_all(path);
  } catch (const tabmelt::ResultFileError& error) {
    if (std::string(error.what()).rfind(path, 0) != 0) std::abort();
  }
  return 0;
}
