// A writer that dies inside a transaction, once in each of its writes: the transaction is there as
// a whole or not at all.

#include <fcntl.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

#include "dying_writer.h"
#include "io/result/commit_log.h"
#include "io/result/field_file.h"
#include "io/result/journaled_file.h"
#include "io/result/result_reader.h"
#include "sample_run.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;
using sample::die_in_each_write;
using sample::LastWrite;

class TornCommit : public testing::TestWithParam<LastWrite> {};

// HDF5 keeps 64 frames in one node of an array's index. The 65th splits the node, so that the old
// frames are found in other places. Later the nodes of four arrays are rewritten one by one: with
// 103 frames and without the log, a death between them takes the newest frame's current density.
void keep_every_frame_whole(std::size_t acknowledged, LastWrite how) {
  const sample::Folder folder;
  const fs::path path = folder / "result.part.vtkhdf";
  const Result run = sample::beginning();
  FieldFile file(path, "invented", {});
  file.write_grid(run, 293.15);
  for (std::size_t k = 0; k < acknowledged; ++k) file.append(sample::frame(k, run.grid));

  std::size_t last_cell = run.grid.cells() - 1;
  while (run.grid.region(last_cell) == region::empty) --last_cell;
  const auto write = [&] { file.append(sample::frame(acknowledged, run.grid)); };
  std::size_t finished = 0;
  const auto examine = [&](const fs::path& torn) {
    const StoredRun stored = read_result_file(torn);
    ASSERT_GE(stored.frame_times.size(), acknowledged);
    if (stored.frame_times.size() > acknowledged) ++finished;
    // A frame that an index has lost reads as zeros everywhere: one cell tells.
    for (const FieldArray& array : field_arrays()) {
      const std::vector<float> got = stored.history(array.values, last_cell);
      ASSERT_EQ(got.size(), stored.frame_times.size() * array.components);
      for (std::size_t k = 0; k < stored.frame_times.size(); ++k) {
        const Frame wrote = sample::frame(k, run.grid);
        ASSERT_EQ(stored.frame_times[k], wrote.time);
        for (std::size_t n = 0; n < array.components; ++n)
          ASSERT_EQ(got[k * array.components + n],
                    (wrote.*array.values)[last_cell * array.components + n])
              << array.name << " of frame " << k;
      }
    }
  };
  const std::size_t died = die_in_each_write(path, how, write, examine);
  EXPECT_GT(died, 20U) << "one write for each array at the very least";
  EXPECT_GT(finished, 10U) << "each write of the old places comes after the log";
}

TEST_P(TornCommit, keeps_every_frame_when_an_index_grows) {
  keep_every_frame_whole(64, GetParam());
}
TEST_P(TornCommit, keeps_every_frame_when_indices_are_rewritten) {
  keep_every_frame_whole(103, GetParam());
}

TEST_P(TornCommit, leaves_the_old_bytes_or_the_new) {
  const sample::Folder folder;
  const fs::path path = folder / "file";
  const std::string old_bytes = "old head, old tail", new_bytes = "NEW head, old TAIL and more";
  JournaledFile file;
  ASSERT_TRUE(file.create(path));
  file.write(0, old_bytes.data(), old_bytes.size());
  ASSERT_TRUE(file.commit());

  const auto write = [&] {
    file.write(0, "NEW", 3);
    file.write(14, "TAIL and more", 13);
    file.commit();
  };
  std::vector<std::string> seen;
  const auto examine = [&](const fs::path& torn) {
    const std::string on_disk = sample::file_text(torn);
    JournaledFile unfinished;
    if (!unfinished.open_unfinished(torn)) {
      seen.push_back("old");
      EXPECT_EQ(on_disk.substr(0, old_bytes.size()), old_bytes);
      return;
    }
    seen.push_back("new");
    ASSERT_EQ(unfinished.length(), new_bytes.size());
    std::string read(new_bytes.size() + 2, '?');
    unfinished.read(0, read.data(), read.size());
    EXPECT_EQ(read, new_bytes + std::string(2, '\0')) << "the log is no part of the contents";
    unfinished.close();
    EXPECT_EQ(sample::file_text(torn), on_disk) << "reading leaves the file alone";
  };
  die_in_each_write(path, GetParam(), write, examine);
  // What is new, the log, two changes.
  const std::string after_log = GetParam() == LastWrite::whole ? "new" : "old";
  EXPECT_EQ(seen, (std::vector<std::string>{"old", after_log, "new", "new"}));
}

// The writes of this commit: the log, then two changes.
TEST(CommitOnAFullDisk, is_undone_before_its_log_is_whole_and_kept_after) {
  for (const std::size_t refused : {0U, 1U, 2U}) {
    const sample::Folder folder;
    const fs::path path = folder / "file";
    JournaledFile file;
    ASSERT_TRUE(file.create(path));
    file.write(0, "old head, old tail", 18);
    ASSERT_TRUE(file.commit());
    file.write(0, "NEW", 3);
    file.write(10, "NEW", 3);
    {
      const sample::FullFrom full(refused);
      EXPECT_FALSE(file.commit());
      EXPECT_EQ(file.failure(), "No space left on device");
      file.close();
    }
    JournaledFile unfinished;
    ASSERT_EQ(unfinished.open_unfinished(path), refused > 0) << refused;
    if (refused == 0) {
      EXPECT_EQ(sample::file_text(path), "old head, old tail");
      continue;
    }
    std::string read(18, '?');
    unfinished.read(0, read.data(), read.size());
    EXPECT_EQ(read, "NEW head, NEW tail") << refused;
  }
}

INSTANTIATE_TEST_SUITE_P(InEachWrite, TornCommit,
                         testing::Values(LastWrite::half, LastWrite::whole), [](const auto& how) {
                           return how.param == LastWrite::half ? "half" : "whole";
                         });

// The log of a file with these contents.
std::optional<CommitLog> log_in(const fs::path& path, const std::string& contents) {
  std::ofstream(path, std::ios::binary) << contents;
  const int descriptor = ::open(path.c_str(), O_RDONLY);
  std::optional<CommitLog> log = log_at_end_of(descriptor);
  ::close(descriptor);
  return log;
}

std::string text_of(const std::vector<unsigned char>& bytes) {
  return {bytes.begin(), bytes.end()};
}

TEST(CommitLog, counts_only_if_complete_and_at_the_end) {
  const sample::Folder folder;
  const std::vector<FileChange> changes = {{3, {'a', 'b'}}, {1000, {}}, {0, {'c'}}};
  const std::string body(2000, 'x');
  const std::string log = text_of(log_of(changes, body.size(), 1900));
  const auto read = log_in(folder / "whole", body + log);
  ASSERT_TRUE(read);
  EXPECT_EQ(read->length_after, 1900U);
  ASSERT_EQ(read->changes.size(), changes.size());
  for (std::size_t n = 0; n < changes.size(); ++n) {
    EXPECT_EQ(read->changes[n].offset, changes[n].offset);
    EXPECT_EQ(read->changes[n].bytes, changes[n].bytes);
  }
  for (std::size_t kept = 0; kept < log.size(); ++kept) {
    EXPECT_FALSE(log_in(folder / "cut", body + log.substr(0, kept))) << kept;
  }
  EXPECT_FALSE(log_in(folder / "more", body + log + "x"));
  EXPECT_FALSE(log_in(folder / "empty", ""));
}

TEST(CommitLog, is_refused_if_it_makes_no_sense) {
  const sample::Folder folder;
  const std::string body(100, 'x');
  const auto with = [&](std::vector<FileChange> changes, std::uint64_t begin, std::uint64_t after) {
    return log_in(folder / "file", body + text_of(log_of(changes, begin, after))).has_value();
  };
  EXPECT_TRUE(with({{5, {'a'}}}, 100, 100));
  EXPECT_FALSE(with({{5, {'a'}}}, 101, 100)) << "does not begin with a change";
  EXPECT_FALSE(with({{5, {'a'}}}, 99, 99)) << "does not begin with a change";
  EXPECT_FALSE(with({{5, {'a'}}}, 1000, 100)) << "begins behind its end";
  EXPECT_FALSE(with({{5, {'a'}}}, 100, 101)) << "a part of the file would be log";
  EXPECT_FALSE(with({{101, {'a'}}}, 100, 100)) << "a change outside the file";
}

TEST(CommitLog, of_a_file_in_use_is_left_to_its_writer) {
  const sample::Folder folder;
  JournaledFile writer, reader;
  ASSERT_TRUE(writer.create(folder / "file"));
  const std::string contents = "x" + text_of(log_of({{0, {'y'}}}, 1, 1));
  writer.write(0, contents.data(), contents.size());
  ASSERT_TRUE(writer.commit());
  EXPECT_FALSE(reader.open_unfinished(folder / "file"));
  writer.close();
  EXPECT_TRUE(reader.open_unfinished(folder / "file"));
  EXPECT_FALSE(JournaledFile().open_unfinished(folder / "none"));
}

}  // namespace
}  // namespace tabmelt
