// A result file with bytes changed: it is refused, or all of it can be read; unchanged it is read.
// The input is a list of changes to a sound file: four bytes of where, one of how many, then the
// new bytes; a count of 0 cuts the file there.
#include <fcntl.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <csignal>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "io/store/result_reader.h"
#include "tests/unit/result/sample_run.h"

namespace {

const std::string& sound_file() {
  static const std::string bytes = [] {
    const tabmelt::sample::Folder folder;
    return tabmelt::sample::file_text(tabmelt::sample::write(folder / "run"));
  }();
  return bytes;
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

// HDF5 opens no file that has no name.
const std::string& path() {
  static const tabmelt::sample::Folder folder;
  static const std::string name = folder / "result";
  return name;
}

int file() {
  static const int opened = ::open(path().c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0600);
  if (opened < 0) std::abort();
  return opened;
}

void read_all(bool sound) {
  try {
    const tabmelt::StoredRun run = tabmelt::read_result_file(path());
    for (std::size_t k = 0; k < run.frame_times.size(); ++k)
      for (const float T : run.frame(k).temperature)
        if (!std::isfinite(T)) std::abort();
    for (const float T : run.history(&tabmelt::Frame::temperature, 0))
      if (!std::isfinite(T)) std::abort();
  } catch (const tabmelt::ResultFileError& error) {
    if (sound || std::string(error.what()).rfind(path(), 0) != 0) std::abort();
  }
}

#ifdef TABMELT_FUZZ
int reader = -1;  // a socket to the process that reads

void read_in_helper(bool sound) {
  char done = sound ? 1 : 0;
  ::ssize_t count = ::write(reader, &done, 1);
  while (count == 1 && (count = ::read(reader, &done, 1)) < 0 && errno == EINTR) count = 1;
  // Else it has come to a bad end, and has said how.
  if (count != 1) std::abort();
}
#endif

}  // namespace

#ifdef TABMELT_FUZZ
// The process that reads divides for every file, which takes the longer the more memory it has,
// and libFuzzer has much. So the reading is done by one that was divided off before.
extern "C" void start_reading_helper() {
  int ends[2];
  file();
  if (::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0) std::abort();
  const pid_t helper = ::fork();
  if (helper < 0) std::abort();
  if (helper > 0) {
    ::close(ends[1]);
    reader = ends[0];
    return;
  }
  ::close(ends[0]);
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  for (char next = 0; ::read(ends[1], &next, 1) == 1;) {
    read_all(next == 1);
    if (::write(ends[1], &next, 1) != 1) break;
  }
  ::_exit(0);
}
#endif

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes = changed(sound_file(), data, size);
  if (::ftruncate(file(), 0) != 0 ||
      ::pwrite(file(), bytes.data(), bytes.size(), 0) != static_cast<::ssize_t>(bytes.size()))
    std::abort();
#ifdef TABMELT_FUZZ
  read_in_helper(bytes == sound_file());
#else
  read_all(bytes == sound_file());
#endif
  return 0;
}
