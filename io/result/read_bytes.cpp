#include "io/result/read_bytes.h"

#include <unistd.h>

#include <cerrno>

namespace tabmelt {

std::size_t read_bytes(int descriptor, std::uint64_t offset, void* bytes, std::size_t count) {
  auto* to = static_cast<unsigned char*>(bytes);
  std::size_t got = 0;
  while (got < count) {
    const ::ssize_t done =
        ::pread(descriptor, to + got, count - got, static_cast<::off_t>(offset + got));
    if (done < 0 && errno == EINTR) continue;
    if (done <= 0) break;
    got += static_cast<std::size_t>(done);
  }
  return got;
}

}  // namespace tabmelt
