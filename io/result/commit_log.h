// What a commit changes within a file, kept at the file's end while it is carried out.
//
// Layout, numbers little-endian of 64 bits, B the length of the file without the log:
//   at B     for each change, oldest first: offset, count, then so many bytes
//   then     B, length of the file after the commit, mark of 16 bytes
// The mark is written last and is the last thing in the file: with it the log is complete.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace tabmelt {

struct FileChange {
  std::uint64_t offset;
  std::vector<unsigned char> bytes;
};

struct CommitLog {
  std::vector<FileChange> changes;  // oldest first
  std::uint64_t length_after;
};

// The bytes to append to a file of length `begin`.
std::vector<unsigned char> log_of(const std::vector<FileChange>& changes, std::uint64_t begin,
                                  std::uint64_t length_after);

// The log that an open file ends with; nothing if there is none, or not all of it, or if it makes
// no sense.
std::optional<CommitLog> log_at_end_of(int descriptor);

}  // namespace tabmelt
