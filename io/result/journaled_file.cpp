#include "io/result/journaled_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <system_error>
#include <utility>

#include "io/result/read_bytes.h"

namespace tabmelt {
namespace {

std::string words(int error) { return std::generic_category().message(error); }

}  // namespace

std::optional<std::string> refusal_of_size(std::uint64_t bytes) {
  rlimit most{};
  if (::getrlimit(RLIMIT_FSIZE, &most) != 0 || most.rlim_cur == RLIM_INFINITY) return {};
  if (bytes <= most.rlim_cur) return {};
  return words(EFBIG);
}

JournaledFile::~JournaledFile() { close(); }

bool JournaledFile::create(const std::filesystem::path& path) {
  path_ = path;
  descriptor_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (descriptor_ < 0) {
    failure_ = words(errno);
    return false;
  }
  if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) {
    failure_ = words(errno);  // someone else was faster; the file is theirs now
    ::close(descriptor_);
    descriptor_ = -1;
    return false;
  }
  return true;
}

bool JournaledFile::open_unfinished(const std::filesystem::path& path) {
  const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor < 0) return false;
  const bool in_use = ::flock(descriptor, LOCK_SH | LOCK_NB) != 0 && errno == EWOULDBLOCK;
  std::optional<CommitLog> log;
  if (!in_use) log = log_at_end_of(descriptor);
  if (!log) {
    ::close(descriptor);
    return false;
  }
  path_ = path;
  descriptor_ = descriptor;
  changes_ = std::move(log->changes);
  length_ = log->length_after;
  log_in_use_ = true;
  abandoned_ = true;
  return true;
}

void JournaledFile::fail(int error) {
  if (failure_.empty()) failure_ = words(error);
}

bool JournaledFile::written(std::uint64_t offset, const unsigned char* bytes, std::size_t count) {
  if (refusal_of_size(offset + count)) {
    fail(EFBIG);
    return false;
  }
  while (count > 0) {
    const ::ssize_t done = ::pwrite(descriptor_, bytes, count, static_cast<::off_t>(offset));
    if (done < 0 && errno == EINTR) continue;
    if (done <= 0) {
      fail(done < 0 ? errno : EIO);
      return false;
    }
    bytes += done;
    count -= static_cast<std::size_t>(done);
    offset += static_cast<std::uint64_t>(done);
  }
  on_disk_ = std::max(on_disk_, offset);
  return true;
}

void JournaledFile::fill_with_zeros(std::uint64_t from, std::uint64_t to) {
  static const std::vector<unsigned char> zeros(65536, 0);
  while (from < to) {
    const auto count = static_cast<std::size_t>(std::min<std::uint64_t>(zeros.size(), to - from));
    if (!written(from, zeros.data(), count)) return;
    from += count;
  }
}

void JournaledFile::remember(std::uint64_t offset, const unsigned char* bytes, std::size_t count) {
  changes_.push_back({offset, {bytes, bytes + count}});
}

void JournaledFile::write(std::uint64_t offset, const void* bytes, std::size_t count) {
  const auto* from = static_cast<const unsigned char*>(bytes);
  length_ = std::max(length_, offset + count);
  if (!diverted() && offset < committed_) {
    const auto old = static_cast<std::size_t>(std::min<std::uint64_t>(count, committed_ - offset));
    remember(offset, from, old);
    offset += old;
    from += old;
    count -= old;
  }
  if (count == 0) return;
  if (!diverted()) fill_with_zeros(on_disk_, offset);
  if (!diverted() && written(offset, from, count)) return;
  remember(offset, from, count);
}

void JournaledFile::read(std::uint64_t offset, void* bytes, std::size_t count) const {
  auto* to = static_cast<unsigned char*>(bytes);
  const std::uint64_t stored = std::min<std::uint64_t>(count, length_ - std::min(length_, offset));
  const std::size_t got = read_bytes(descriptor_, offset, to, stored);
  std::memset(to + got, 0, count - got);
  for (const FileChange& change : changes_) {
    const std::uint64_t begin = std::max(offset, change.offset);
    const std::uint64_t end = std::min(offset + count, change.offset + change.bytes.size());
    if (begin >= end) continue;
    std::memcpy(to + (begin - offset), change.bytes.data() + (begin - change.offset), end - begin);
  }
}

void JournaledFile::resize(std::uint64_t length) {
  length_ = length;
  if (!diverted()) fill_with_zeros(on_disk_, length_);
}

bool JournaledFile::carry_out_changes() {
  const std::vector<unsigned char> log = log_of(changes_, on_disk_, length_);
  if (!written(on_disk_, log.data(), log.size())) return false;
  log_in_use_ = true;
  for (const FileChange& change : changes_) {
    if (!written(change.offset, change.bytes.data(), change.bytes.size())) return false;
  }
  return true;
}

bool JournaledFile::commit() {
  if (diverted()) return false;
  if (!changes_.empty() && !carry_out_changes()) return false;
  if (length_ < on_disk_) {
    if (::ftruncate(descriptor_, static_cast<::off_t>(length_)) != 0) {
      fail(errno);
      return false;
    }
    on_disk_ = length_;
  }
  changes_.clear();
  log_in_use_ = false;
  committed_ = length_;
  return true;
}

bool JournaledFile::flush_to_disk() {
  if (diverted()) return false;
  // EINVAL: a file that needs none.
  if (::fsync(descriptor_) != 0 && errno != EINVAL) fail(errno);
  return !diverted();
}

void JournaledFile::close() {
  if (descriptor_ < 0) return;
  std::error_code ignored;
  // A write that failed may have left some of its bytes.
  if (log_in_use_) {
    changes_.clear();
  } else if (committed_ == 0) {
    std::filesystem::remove(path_, ignored);
  } else if (::ftruncate(descriptor_, static_cast<::off_t>(committed_)) != 0) {
    fail(errno);
  }
  if (::close(descriptor_) != 0 && errno != EINTR) fail(errno);
  descriptor_ = -1;
}

}  // namespace tabmelt
