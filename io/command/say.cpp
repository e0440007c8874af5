#include "io/command/say.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>

#include "solver/words/printable.h"

namespace tabmelt::command {

void say(std::FILE* stream, const std::string& text) {
  const std::string clean = printable_lines(text);
  std::fwrite(clean.data(), 1, clean.size(), stream);
  std::fflush(stream);
}

void hold_standard_descriptors() {
  for (int descriptor = STDIN_FILENO; descriptor <= STDERR_FILENO; ++descriptor) {
    if (::fcntl(descriptor, F_GETFD) != -1 || errno != EBADF) continue;
    // Takes the lowest number that is free: this one.
    if (::open("/dev/null", O_RDWR) != descriptor) ::_exit(4);
  }
}

}  // namespace tabmelt::command
