// Disks that are full and files that may not grow: told with path and reason, nothing under a final
// name, the part file whole or absent, and a process that ends normally.

#include <gtest/gtest.h>
#include <sched.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <unistd.h>

#include <fstream>
#include <random>
#include <sstream>
#include <string>

#include "child.h"
#include "io/result/result_reader.h"
#include "io/result/result_writer.h"
#include "sample_run.h"

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

// Whether every frame reads back as it was written.
bool right(const StoredRun& stored) {
  const auto grid = sample::beginning().grid;
  for (std::size_t k = 0; k < stored.frame_times.size(); ++k) {
    const Frame got = stored.frame(k), wrote = rough_frame(k, grid);
    for (std::size_t cell = 0; cell < grid.cells(); ++cell) {
      if (stored.region[cell] != region::empty &&
          got.current_density[3 * cell] != wrote.current_density[3 * cell]) {
        return false;
      }
    }
  }
  return true;
}

// Writes a run with a part file after every frame, and returns one line: what happened, what the
// field file holds, and the names in the folder.
std::string account_of_a_run(const fs::path& folder) {
  std::ostringstream told;
  fs::path file = folder / "result.part.vtkhdf";
  try {
    const Result run = sample::finished();
    ResultWriter writer(folder, sample::asked(), {std::chrono::milliseconds(0)});
    writer.begins(sample::beginning());
    for (std::size_t k = 0; k < frames && writer.step_done({}, 0); ++k) {
      writer.frame_taken(rough_frame(k, run.grid));
    }
    file = writer.finish(run, sample::verdict());
    told << "finished";
  } catch (const OutputError& error) {
    told << "OutputError: " << error.what();
  }
  if (fs::exists(file)) {
    const StoredRun stored = read_result_file(file);
    told << " | " << stored.frame_times.size() << (right(stored) ? " right" : " wrong");
  }
  told << " | names";
  for (const auto& entry : fs::directory_iterator(folder)) {
    told << " " << entry.path().filename().string();
  }
  return told.str();
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

// Checks one account; returns whether the run got through.
bool checked(const sample::ChildOutcome& outcome, const fs::path& folder,
             const std::string& reason) {
  EXPECT_EQ(outcome.status, 0) << outcome.told;
  EXPECT_FALSE(has(outcome.told, " wrong")) << outcome.told;
  const std::string names =
      outcome.told.substr(std::min(outcome.told.find("| names"), outcome.told.size()));
  EXPECT_FALSE(has(names, ".tmp")) << outcome.told;
  if (outcome.told.rfind("finished", 0) == 0) {
    EXPECT_TRUE(has(outcome.told, "| 30 right")) << outcome.told;
    EXPECT_TRUE(has(names, " result.vtkhdf") && !has(names, ".part.")) << outcome.told;
    return true;
  }
  EXPECT_TRUE(has(outcome.told, "OutputError: cannot write " + folder.string())) << outcome.told;
  EXPECT_TRUE(has(outcome.told, "result.part.vtkhdf")) << outcome.told;
  EXPECT_TRUE(has(outcome.told, ": " + reason)) << outcome.told;
  std::istringstream list(names.substr(std::min(names.size(), std::string("| names").size())));
  for (std::string name; list >> name;) EXPECT_TRUE(has(name, ".part.")) << outcome.told;
  return false;
}

TEST(FullDisk, a_file_that_may_not_grow_is_reported) {
  int got_through = 0, stopped = 0, kept = 0;
  for (const rlim_t kilobytes : {1, 20, 60, 90, 120, 140, 160, 200, 300, 1000}) {
    const sample::Folder folder;
    const auto limit = [&] {
      ::signal(SIGXFSZ, SIG_DFL);  // would end the process
      rlimit bytes{};
      ::getrlimit(RLIMIT_FSIZE, &bytes);
      bytes.rlim_cur = kilobytes * 1000;
      return ::setrlimit(RLIMIT_FSIZE, &bytes) == 0;
    };
    const auto outcome = sample::in_child(limit, [&] { return account_of_a_run(folder.path()); });
    SCOPED_TRACE(std::to_string(kilobytes) + " kB");
    (checked(outcome, folder.path(), "File too large") ? got_through : stopped) += 1;
    kept += has(outcome.told, "Error") && has(outcome.told, " right");
  }
  EXPECT_GT(got_through, 0);
  EXPECT_GT(stopped, 3);
  EXPECT_GT(kept, 0);
}

// Mounts a small disk over a folder, seen by this process only; false if that is not permitted.
bool a_small_disk_at(const fs::path& folder, int kilobytes) {
  if (::geteuid() == 0) {
    if (::unshare(CLONE_NEWNS) != 0) return false;
  } else {
    // Whoever is not the superuser can be it in a name space of their own.
    const auto user = ::geteuid(), group = ::getegid();
    if (::unshare(CLONE_NEWNS | CLONE_NEWUSER) != 0) return false;
    std::ofstream("/proc/self/setgroups") << "deny";
    std::ofstream("/proc/self/uid_map") << "0 " << user << " 1";
    std::ofstream("/proc/self/gid_map") << "0 " << group << " 1";
  }
  const std::string size = "size=" + std::to_string(kilobytes) + "k";
  return ::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0 &&
         ::mount("tmpfs", folder.c_str(), "tmpfs", 0, size.c_str()) == 0;
}

TEST(FullDisk, is_reported_and_keeps_the_last_whole_part_file) {
  int got_through = 0, stopped = 0, kept = 0;
  for (const int kilobytes : {4, 40, 120, 160, 200, 240, 280, 320, 400, 560, 1000, 3000}) {
    const sample::Folder folder;
    const auto outcome = sample::in_child([&] { return a_small_disk_at(folder.path(), kilobytes); },
                                          [&] { return account_of_a_run(folder.path()); });
    if (outcome.status == sample::not_permitted) GTEST_SKIP() << "may not mount a small disk here";
    SCOPED_TRACE(std::to_string(kilobytes) + " kB");
    (checked(outcome, folder.path(), "No space left on device") ? got_through : stopped) += 1;
    kept += has(outcome.told, "Error") && has(outcome.told, " right");
  }
  EXPECT_GT(got_through, 0);
  EXPECT_GT(stopped, 3);
  EXPECT_GT(kept, 0);
}

}  // namespace
}  // namespace tabmelt
