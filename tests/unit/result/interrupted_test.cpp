// Runs that end early: killed, stopped, out of disk space.

#include <gtest/gtest.h>
#include <sched.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <fstream>
#include <functional>
#include <random>

#include "io/result/result_reader.h"
#include "io/result/result_writer.h"
#include "sample_run.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

std::size_t entries(const fs::path& folder) {
  return static_cast<std::size_t>(
      std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

// The child writes frames for ever and acknowledges each through the pipe.
[[noreturn]] void write_for_ever(const fs::path& folder, int acknowledge) {
  const Result run = sample::beginning();
  ResultWriter writer(folder, sample::asked());
  writer.begins(run);
  for (std::size_t k = 0;; ++k) {
    writer.frame_taken(sample::frame(k, run.grid));
    if (!writer.step_done({}, 0)) ::_exit(1);
    const char done = 1;
    if (::write(acknowledge, &done, 1) != 1) ::_exit(2);
  }
}

TEST(Interrupted, a_killed_run_leaves_every_acknowledged_frame) {
  std::mt19937 random(20240607);
  std::uniform_int_distribution<int> microseconds(0, 30000);
  std::size_t most = 0;
  for (int kill_number = 0; kill_number < 25; ++kill_number) {
    const sample::Folder folder;
    int pipe_ends[2];
    ASSERT_EQ(::pipe(pipe_ends), 0);
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      ::close(pipe_ends[0]);
      write_for_ever(folder.path(), pipe_ends[1]);
    }
    ::close(pipe_ends[1]);
    // At least one frame, then a random moment.
    char byte = 0;
    ASSERT_EQ(::read(pipe_ends[0], &byte, 1), 1);
    ::usleep(static_cast<useconds_t>(microseconds(random)));
    ::kill(child, SIGKILL);
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status));
    std::size_t acknowledged = 1;
    while (::read(pipe_ends[0], &byte, 1) == 1) ++acknowledged;
    ::close(pipe_ends[0]);
    most = std::max(most, acknowledged);

    const StoredRun run = read_result_file(folder / "result.part.vtkhdf");
    EXPECT_FALSE(run.complete);
    EXPECT_TRUE(run.peak_temperature.empty());
    EXPECT_EQ(run.texts.at("case"), sample::asked().text);
    ASSERT_GE(run.frame_times.size(), acknowledged);
    const auto grid = sample::beginning().grid;
    for (std::size_t k = 0; k < acknowledged; ++k) {
      const Frame wrote = sample::frame(k, grid), got = run.frame(k);
      EXPECT_EQ(got.time, wrote.time);
      for (std::size_t cell = 0; cell < run.region.size(); ++cell) {
        if (run.region[cell] == region::empty) continue;
        ASSERT_EQ(got.temperature[cell], wrote.temperature[cell]) << "frame " << k;
        ASSERT_EQ(got.current_density[3 * cell + 1], wrote.current_density[3 * cell + 1]);
      }
    }
    EXPECT_EQ(entries(folder.path()), 1U);
    // The folder can be used again.
    EXPECT_NO_THROW(sample::write(folder.path()));
  }
  EXPECT_GT(most, 5U) << "the kills came too early to test anything";
}

TEST(Interrupted, a_stopped_run_keeps_part_names_with_everything_in_them) {
  for (const Ending ending : {Ending::stopped_by_observer, Ending::failed}) {
    const sample::Folder folder;
    Result run = sample::finished();
    run.ending = ending;
    run.ending_reason = "invented reason";
    {
      ResultWriter writer(folder.path(), sample::asked());
      writer.begins(sample::beginning());
      writer.frame_taken(sample::frame(0, run.grid));
      writer.frame_taken(sample::frame(1, run.grid));
      EXPECT_EQ(writer.finish(run, sample::verdict()), folder / "result.part.vtkhdf");
    }
    const StoredRun stored = read_result_file(folder / "result.part.vtkhdf");
    EXPECT_FALSE(stored.complete);
    EXPECT_EQ(stored.frame_times.size(), 2U);
    EXPECT_EQ(stored.series.at("current").size(), sample::steps);
    EXPECT_EQ(stored.scalars.at("peak_current"), 1500);
    EXPECT_FALSE(stored.peak_temperature.empty());
    for (const char* name : {"result.part.xdmf", "history.part.csv", "summary.part.json",
                             "report.part.md", "result.part.vtkhdf"}) {
      EXPECT_TRUE(fs::exists(folder / name)) << name;
    }
    EXPECT_EQ(entries(folder.path()), 5U);
    EXPECT_NE(sample::file_text(folder / "report.part.md").find("invented reason"),
              std::string::npos);
    EXPECT_NE(sample::file_text(folder / "result.part.xdmf").find("result.part.vtkhdf:"),
              std::string::npos);
    sample::write(folder.path());
    EXPECT_EQ(entries(folder.path()), 5U) << "part files of the earlier run must be gone";
  }
}

// What a child that ran out of space found out; it must end normally, HDF5's clean-up included.
struct OutOfSpace {
  int exit_status = -1;
  std::string report;
};

// Incompressible frames until the writer gives up, then finish().
void write_until_full(const fs::path& folder, const fs::path& report) {
  std::ofstream told(report);
  try {
    const Result run = sample::finished();
    ResultWriter writer(folder, sample::asked());
    writer.begins(sample::beginning());
    std::mt19937 random(1);
    int frames = 0;
    for (; frames < 20000 && writer.step_done({}, 0); ++frames) {
      Frame frame = sample::frame(static_cast<std::size_t>(frames), run.grid);
      for (float& value : frame.current_density) value = static_cast<float>(random());
      writer.frame_taken(frame);
    }
    told << "frames " << frames << "\n";
    writer.finish(run, sample::verdict());
    told << "finished\n";
  } catch (const OutputError& error) {
    told << "OutputError: " << error.what() << "\n";
  }
}

OutOfSpace in_child(const std::function<bool()>& limit, const std::function<void()>& run,
                    const fs::path& report) {
  const pid_t child = ::fork();
  if (child == 0) {
    if (!limit()) ::_exit(77);
    run();
    std::exit(0);  // not _exit: what HDF5 does at the end must survive too
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status), sample::file_text(report)};
}

TEST(Interrupted, a_file_that_may_not_grow_is_reported_and_gets_no_final_name) {
  const sample::Folder folder, aside;
  const auto limit = [] {
    ::signal(SIGXFSZ, SIG_IGN);
    const rlimit bytes{400000, 400000};
    return ::setrlimit(RLIMIT_FSIZE, &bytes) == 0;
  };
  const auto outcome = in_child(
      limit, [&] { write_until_full(folder.path(), aside / "told"); }, aside / "told");
  EXPECT_EQ(outcome.exit_status, 0) << outcome.report;
  EXPECT_NE(outcome.report.find("OutputError: cannot write " +
                                (folder / "result.part.vtkhdf").string() + ": File too large"),
            std::string::npos)
      << outcome.report;
  EXPECT_EQ(outcome.report.find("finished"), std::string::npos);
  EXPECT_EQ(outcome.report.find("frames 0\n"), std::string::npos);
  EXPECT_EQ(outcome.report.find("frames 20000\n"), std::string::npos);
  for (const auto& entry : fs::directory_iterator(folder.path())) {
    EXPECT_EQ(entry.path().filename(), "result.part.vtkhdf");
  }
}

// Mounts a disk of 600 kB over a folder, seen by this process only; false if that is not allowed.
bool a_small_disk_at(const fs::path& folder) {
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
  return ::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0 &&
         ::mount("tmpfs", folder.c_str(), "tmpfs", 0, "size=600k") == 0;
}

TEST(Interrupted, a_full_disk_is_reported_and_keeps_the_frames_before) {
  const sample::Folder folder, aside;
  const auto limit = [&] { return a_small_disk_at(folder.path()); };
  const auto run = [&] {
    write_until_full(folder.path(), aside / "told");
    std::ofstream told(aside / "told", std::ios::app);
    for (const auto& entry : fs::directory_iterator(folder.path())) {
      told << "left " << entry.path().filename().string() << "\n";
    }
    try {
      const StoredRun stored = read_result_file(folder / "result.part.vtkhdf");
      const auto grid = sample::beginning().grid;
      std::size_t right = 0;
      for (std::size_t k = 0; k < stored.frame_times.size(); ++k) {
        const Frame got = stored.frame(k), wrote = sample::frame(k, grid);
        bool same = got.time == wrote.time;
        for (std::size_t cell = 0; cell < grid.cells(); ++cell) {
          same = same && (stored.region[cell] == region::empty ||
                          got.temperature[cell] == wrote.temperature[cell]);
        }
        right += same;
      }
      told << "readable " << stored.frame_times.size() << " right " << right << "\n";
    } catch (const std::exception& error) {
      told << "unreadable: " << error.what() << "\n";
    }
  };
  const auto outcome = in_child(limit, run, aside / "told");
  if (outcome.exit_status == 77) GTEST_SKIP() << "may not mount a small disk here";
  EXPECT_EQ(outcome.exit_status, 0) << outcome.report;
  EXPECT_NE(outcome.report.find("result.part.vtkhdf: No space left on device"), std::string::npos)
      << outcome.report;
  EXPECT_EQ(outcome.report.find("finished"), std::string::npos);
  EXPECT_NE(outcome.report.find("left result.part.vtkhdf\n"), std::string::npos);
  EXPECT_EQ(outcome.report.find("left result.vtkhdf"), std::string::npos);
  // The frame that failed was the last one tried.
  int tried = 0, readable = 0, right = 0;
  ASSERT_EQ(std::sscanf(outcome.report.c_str(), "frames %d", &tried), 1);
  const auto line = outcome.report.find("readable ");
  ASSERT_NE(line, std::string::npos) << outcome.report;
  ASSERT_EQ(std::sscanf(outcome.report.c_str() + line, "readable %d right %d", &readable, &right),
            2);
  EXPECT_GE(readable, tried - 1) << outcome.report;
  EXPECT_EQ(readable, right) << outcome.report;
}

TEST(Interrupted, a_text_that_does_not_fit_leaves_nothing_under_a_final_name) {
  const sample::Folder folder;
  // A folder where the table should go.
  const Result run = sample::finished();
  ResultWriter writer(folder.path(), sample::asked());
  writer.begins(sample::beginning());
  writer.frame_taken(sample::frame(0, run.grid));
  fs::create_directory(folder / "history.part.csv");
  try {
    writer.finish(run, sample::verdict());
    FAIL() << "finish() must not pass over a file it cannot write";
  } catch (const OutputError& error) {
    EXPECT_NE(std::string(error.what()).find("history.part.csv"), std::string::npos);
  }
  for (const char* name :
       {"result.vtkhdf", "result.xdmf", "history.csv", "summary.json", "report.md"}) {
    EXPECT_FALSE(fs::exists(folder / name)) << name;
  }
}

}  // namespace
}  // namespace tabmelt
