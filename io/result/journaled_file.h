// A file that is written in transactions, so that neither a full disk nor the death of the process
// takes what was committed before.
//
// Bytes beyond the committed length go to the disk at once: nothing refers to them yet. Changes of
// bytes within it wait in memory until commit(), when everything new has found its place. commit()
// first appends them all to the file as a log (io/result/commit_log.h), then overwrites the old
// bytes, then cuts the log off. So a file whose writer died holds the last commit as a whole or
// the one before: either its log is complete, and open_unfinished() reads the file as if the
// changes had been made, or nothing within the committed length has been touched.
//
// The changes overwrite blocks that the file owns already (gaps are filled with zeros, not left as
// holes), which an ordinary file system cannot refuse. On one that moves blocks when they are
// rewritten, or reports a full disk late, a commit can fail after its log is complete; that is
// told all the same, and the log stays in the file.
//
// After the first failure, or abandon(), nothing reaches the disk any more: writes are accepted
// and kept in memory for reads, and close() cuts the file back to its committed length. So a
// library on top that cannot cope with failing writes need not meet one.
//
// The limit for file sizes of the process (RLIMIT_FSIZE) is heeded without raising SIGXFSZ.
// A power cut is not covered: the disk may keep later writes and lose earlier ones.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "io/result/commit_log.h"

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

  // Opens a file whose writer died in the middle of a commit, for reading, with that commit carried
  // out in memory. False for any other file, and for one that a writer has locked.
  bool open_unfinished(const std::filesystem::path& path);

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
  bool diverted() const { return abandoned_ || !failure_.empty(); }
  void remember(std::uint64_t offset, const unsigned char* bytes, std::size_t count);
  bool written(std::uint64_t offset, const unsigned char* bytes, std::size_t count);
  void fill_with_zeros(std::uint64_t from, std::uint64_t to);
  bool carry_out_changes();
  void fail(int error);

  std::filesystem::path path_;
  int descriptor_ = -1;
  std::uint64_t length_ = 0;     // as the user sees it
  std::uint64_t on_disk_ = 0;    // end of what has been written
  std::uint64_t committed_ = 0;  // length at the last commit
  bool abandoned_ = false;
  bool log_in_use_ = false;  // the file needs the log at its end
  std::string failure_;
  std::vector<FileChange> changes_;  // oldest first
};

}  // namespace tabmelt
