// A file that is written in transactions, so that a full disk leaves what was committed before.
//
// Bytes beyond the committed length go to the disk at once: nothing refers to them yet. Changes of
// bytes within it wait in memory until commit(), when everything new has found its place; they
// then overwrite blocks that the file owns already (gaps are filled with zeros, not left as
// holes), which an ordinary file system cannot refuse. On one that moves blocks when they are
// rewritten, or reports a full disk late, a commit itself can fail; that is told all the same.
//
// After the first failure, or abandon(), nothing reaches the disk any more: writes are accepted
// and kept in memory for reads, and close() cuts the file back to its committed length. So a
// library on top that cannot cope with failing writes need not meet one.
//
// The limit for file sizes of the process (RLIMIT_FSIZE) is heeded without raising SIGXFSZ.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace tabmelt {

// "File too large" if this process may not write files of so many bytes.
std::optional<std::string> refusal_of_size(std::uint64_t bytes);

class JournaledFile {
 public:
  JournaledFile() = default;
  ~JournaledFile();
  JournaledFile(const JournaledFile&) = delete;
  JournaledFile& operator=(const JournaledFile&) = delete;

  // Creates the file, which must not exist, and locks it (flock) where the file system can. False
  // with failure() set if that is not possible.
  bool create(const std::filesystem::path& path);

  void write(std::uint64_t offset, const void* bytes, std::size_t count);
  // Zeros beyond the end.
  void read(std::uint64_t offset, void* bytes, std::size_t count) const;
  void resize(std::uint64_t length);
  std::uint64_t length() const { return length_; }

  // Each returns whether all is well so far.
  bool commit();
  bool flush_to_disk();
  void abandon() { abandoned_ = true; }
  // Without a single commit the file is removed.
  void close();

  // What the operating system said first; empty if nothing has failed.
  const std::string& failure() const { return failure_; }
  std::uint64_t committed_length() const { return committed_; }

 private:
  struct Change {
    std::uint64_t offset;
    std::vector<unsigned char> bytes;
  };
  bool diverted() const { return abandoned_ || !failure_.empty(); }
  void remember(std::uint64_t offset, const unsigned char* bytes, std::size_t count);
  bool written(std::uint64_t offset, const unsigned char* bytes, std::size_t count);
  void fill_with_zeros(std::uint64_t from, std::uint64_t to);
  void fail(int error);

  std::filesystem::path path_;
  int descriptor_ = -1;
  std::uint64_t length_ = 0;     // as the user sees it
  std::uint64_t on_disk_ = 0;    // end of what has been written
  std::uint64_t committed_ = 0;  // length at the last commit
  bool abandoned_ = false;
  std::string failure_;
  std::vector<Change> changes_;  // oldest first
};

}  // namespace tabmelt
