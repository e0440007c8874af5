#include "io/result/commit_log.h"

#include <sys/stat.h>

#include <array>
#include <cstring>
#include <utility>

#include "io/result/read_bytes.h"

namespace tabmelt {
namespace {

constexpr std::array<unsigned char, 16> mark = {0xF5, 't', 'a', 'b', 'm', 'e', 'l', 't',
                                                ' ',  'c', 'o', 'm', 'm', 'i', 't', 0xFA};
constexpr std::size_t number_size = 8;
constexpr std::size_t ending_size = 2 * number_size + mark.size();

void append_number(std::vector<unsigned char>& to, std::uint64_t number) {
  for (std::size_t byte = 0; byte < number_size; ++byte) {
    to.push_back(static_cast<unsigned char>(number >> (8 * byte)));
  }
}

std::uint64_t number_at(const unsigned char* from) {
  std::uint64_t number = 0;
  for (std::size_t byte = 0; byte < number_size; ++byte) {
    number |= static_cast<std::uint64_t>(from[byte]) << (8 * byte);
  }
  return number;
}

bool filled(std::vector<unsigned char>& bytes, int descriptor, std::uint64_t offset) {
  return read_bytes(descriptor, offset, bytes.data(), bytes.size()) == bytes.size();
}

// The changes in a log without its ending, for a file that is `length_after` long afterwards.
std::optional<std::vector<FileChange>> changes_in(const std::vector<unsigned char>& records,
                                                  std::uint64_t length_after) {
  std::vector<FileChange> changes;
  const unsigned char* at = records.data();
  std::size_t left = records.size();
  while (left > 0) {
    if (left < 2 * number_size) return {};
    const std::uint64_t offset = number_at(at), count = number_at(at + number_size);
    at += 2 * number_size;
    left -= 2 * number_size;
    if (count > left || offset > length_after) return {};
    changes.push_back({offset, {at, at + count}});
    at += count;
    left -= static_cast<std::size_t>(count);
  }
  return changes;
}

}  // namespace

std::vector<unsigned char> log_of(const std::vector<FileChange>& changes, std::uint64_t begin,
                                  std::uint64_t length_after) {
  std::vector<unsigned char> log;
  for (const FileChange& change : changes) {
    append_number(log, change.offset);
    append_number(log, change.bytes.size());
    log.insert(log.end(), change.bytes.begin(), change.bytes.end());
  }
  append_number(log, begin);
  append_number(log, length_after);
  log.insert(log.end(), mark.begin(), mark.end());
  return log;
}

std::optional<CommitLog> log_at_end_of(int descriptor) {
  struct stat status {};
  if (::fstat(descriptor, &status) != 0 || !S_ISREG(status.st_mode)) return {};
  const auto length = static_cast<std::uint64_t>(status.st_size);
  if (length < ending_size) return {};
  const std::uint64_t records_end = length - ending_size;
  std::vector<unsigned char> ending(ending_size);
  if (!filled(ending, descriptor, records_end)) return {};
  if (std::memcmp(ending.data() + 2 * number_size, mark.data(), mark.size()) != 0) return {};
  const std::uint64_t begin = number_at(ending.data());
  const std::uint64_t length_after = number_at(ending.data() + number_size);
  if (begin > records_end || length_after > begin) return {};
  std::vector<unsigned char> records(static_cast<std::size_t>(records_end - begin));
  if (!filled(records, descriptor, begin)) return {};
  std::optional<std::vector<FileChange>> changes = changes_in(records, length_after);
  if (!changes) return {};
  return CommitLog{std::move(*changes), length_after};
}

}  // namespace tabmelt
