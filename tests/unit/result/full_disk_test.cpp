// Disks that are full and files that may not grow: told with path and reason, nothing under a final
// name, the part file whole or absent, and a process that goes on.

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <random>
#include <string>

#include "io/store/result_reader.h"
#include "io/store/result_writer.h"
#include "sample_run.h"

namespace {
std::size_t room = std::string::npos;  // [byte] on the disk
}  // namespace

// Takes the place of the C library's function in this executable: a disk with that much room.
extern "C" ssize_t write(int descriptor, const void* bytes, size_t count) {
  if (room == 0) {
    errno = ENOSPC;
    return -1;
  }
  const auto done = ::syscall(SYS_write, descriptor, bytes, std::min(count, room));
  if (room != std::string::npos && done > 0) room -= static_cast<std::size_t>(done);
  return done;
}

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t frames = 30;

// Values that do not compress.
Frame rough_frame(std::size_t k, const mesh::AxisymmetricGrid& grid) {
  std::mt19937 random(static_cast<unsigned>(k));
  Frame frame = sample::frame(k, grid);
  for (float& value : frame.current_density) value = static_cast<float>(random());
  return frame;
}

// Writes a run with a part file after every frame; returns what went wrong, if anything.
std::string failure_of_a_run(const fs::path& folder) {
  try {
    const Result run = sample::finished();
    ResultWriter writer(folder, sample::asked(), {std::chrono::milliseconds(0)});
    writer.begins(sample::beginning());
    for (std::size_t k = 0; k < frames && writer.step_done({}, 0); ++k) {
      writer.frame_taken(rough_frame(k, run.grid));
    }
    writer.finish(run, sample::verdict());
  } catch (const OutputError& error) {
    return error.what();
  }
  return {};
}

// Returns the number of frames kept.
std::size_t expect_only_whole_frames(const fs::path& file) {
  if (!fs::exists(file)) return 0;
  const StoredRun stored = read_result_file(file);
  const auto grid = sample::beginning().grid;
  for (std::size_t k = 0; k < stored.frame_times.size(); ++k) {
    const Frame got = stored.frame(k), wrote = rough_frame(k, grid);
    for (std::size_t cell = 0; cell < grid.cells(); ++cell) {
      if (stored.region[cell] == mesh::empty) continue;
      EXPECT_EQ(got.current_density[3 * cell], wrote.current_density[3 * cell]) << k;
    }
  }
  return stored.frame_times.size();
}

void expect_part_files_only(const fs::path& folder, const std::string& told,
                            const std::string& reason) {
  EXPECT_EQ(told.rfind("cannot write " + folder.string(), 0), 0U) << told;
  EXPECT_NE(told.find("result.part.vtkhdf"), std::string::npos) << told;
  EXPECT_NE(told.find(": " + reason), std::string::npos) << told;
  for (const auto& entry : fs::directory_iterator(folder)) {
    const std::string name = entry.path().filename().string();
    EXPECT_TRUE(name.find(".part.") != std::string::npos && entry.path().extension() != ".tmp")
        << name;
  }
}

TEST(FullDisk, is_reported_and_keeps_the_last_whole_part_file) {
  std::size_t most_kept = 0, got_through = 0;
  for (const std::size_t kilobytes : {0, 50, 200, 500, 1000, 2000, 3000, 4500, 5000, 20000}) {
    SCOPED_TRACE(std::to_string(kilobytes) + " kB");
    const sample::Folder folder;
    room = kilobytes * 1000;
    const std::string told = failure_of_a_run(folder.path());
    room = std::string::npos;
    if (told.empty()) {
      ++got_through;
      EXPECT_EQ(expect_only_whole_frames(folder / "result.vtkhdf"), frames);
    } else {
      expect_part_files_only(folder.path(), told, "No space left on device");
      most_kept = std::max(most_kept, expect_only_whole_frames(folder / "result.part.vtkhdf"));
    }
  }
  EXPECT_GT(got_through, 0U);
  EXPECT_GT(most_kept, 10U);
}

// Passing the limit would end the process by a signal.
TEST(FullDisk, a_file_that_may_not_grow_is_reported) {
  const sample::Folder folder;
  rlimit bytes{};
  ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &bytes), 0);
  const rlimit few{120'000, bytes.rlim_max};
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &few), 0);
  const std::string told = failure_of_a_run(folder.path());
  ::setrlimit(RLIMIT_FSIZE, &bytes);
  expect_part_files_only(folder.path(), told, "File too large");
  EXPECT_GT(expect_only_whole_frames(folder / "result.part.vtkhdf"), 0U);
}

}  // namespace
}  // namespace tabmelt
