#include "io/files/whole_file.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <system_error>

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

std::string words(int error) { return std::generic_category().message(error); }

// Writing past the limit for file sizes would end the process (SIGXFSZ).
bool too_large(std::size_t bytes) {
  rlimit most{};
  return ::getrlimit(RLIMIT_FSIZE, &most) == 0 && most.rlim_cur != RLIM_INFINITY &&
         bytes > most.rlim_cur;
}

// 0 or the error number.
int write_and_flush(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ::ssize_t done = ::write(descriptor, bytes.data(), bytes.size());
    if (done < 0 && errno == EINTR) continue;
    if (done <= 0) return done < 0 ? errno : EIO;
    bytes.remove_prefix(static_cast<std::size_t>(done));
  }
  // EINVAL: a file that needs no flushing.
  return ::fsync(descriptor) != 0 && errno != EINVAL ? errno : 0;
}

}  // namespace

std::optional<std::string> failure_to_create(const fs::path& file, std::string_view bytes) {
  if (too_large(bytes.size())) return words(EFBIG);
  const int descriptor =
      ::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
  if (descriptor < 0) return words(errno);
  int error = write_and_flush(descriptor, bytes);
  // Some file systems tell of a full disk only here.
  if (::close(descriptor) != 0 && errno != EINTR && error == 0) error = errno;
  if (error == 0) return std::nullopt;
  ::unlink(file.c_str());
  return words(error);
}

std::optional<std::string> failure_to_replace(const fs::path& file, std::string_view bytes) {
  const fs::path beside = file.string() + ".tmp";
  ::unlink(beside.c_str());  // of a process that was killed
  if (auto reason = failure_to_create(beside, bytes)) return reason;
  if (::rename(beside.c_str(), file.c_str()) == 0) return std::nullopt;
  const int error = errno;
  ::unlink(beside.c_str());
  return words(error);
}

std::optional<std::string> failure_to_rename(const fs::path& from, const fs::path& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) {
    return std::nullopt;
  }
  // Not every file system knows the flag; a second name replaces nothing either.
  const bool unknown = errno == EINVAL || errno == ENOSYS;
  if (!unknown || ::link(from.c_str(), to.c_str()) != 0) return words(errno);
  ::unlink(from.c_str());
  return std::nullopt;
}

}  // namespace tabmelt
