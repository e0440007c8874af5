// Runs that end early: killed, stopped, given up, too large. Full disks: full_disk_test.cpp.

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <random>

#include "io/store/result_reader.h"
#include "io/store/result_writer.h"
#include "sample_run.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

constexpr Keeping after_every_frame{std::chrono::milliseconds(0)};

std::size_t entries(const fs::path& folder) {
  return static_cast<std::size_t>(
      std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

void expect_frames(const StoredRun& run, std::size_t least) {
  ASSERT_GE(run.frame_times.size(), least);
  const auto grid = sample::beginning().grid;
  for (std::size_t k = 0; k < run.frame_times.size(); ++k) {
    const Frame wrote = sample::frame(k, grid), got = run.frame(k);
    EXPECT_EQ(got.time, wrote.time);
    for (std::size_t cell = 0; cell < run.region.size(); ++cell) {
      if (run.region[cell] == mesh::empty) continue;
      ASSERT_EQ(got.temperature[cell], wrote.temperature[cell]) << "frame " << k;
      ASSERT_EQ(got.current_density[3 * cell + 1], wrote.current_density[3 * cell + 1]);
    }
  }
}

// The child writes frames for ever and acknowledges each through the pipe.
[[noreturn]] void write_for_ever(const fs::path& folder, int acknowledge) {
  const Result run = sample::beginning();
  ResultWriter writer(folder, sample::asked(), after_every_frame);
  writer.begins(run);
  for (std::size_t k = 0;; ++k) {
    writer.frame_taken(sample::frame(k, run.grid));
    if (!writer.step_done({}, 0)) ::_exit(1);
    const char done = 1;
    if (::write(acknowledge, &done, 1) != 1) ::_exit(2);
  }
}

TEST(Interrupted, a_killed_run_leaves_the_last_whole_part_file) {
  std::mt19937 random(20240607);
  std::uniform_int_distribution<int> microseconds(0, 30000);
  for (int kill_number = 0; kill_number < 12; ++kill_number) {
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

    const StoredRun run = read_result_file(folder / "result.part.vtkhdf");
    EXPECT_FALSE(run.complete);
    EXPECT_TRUE(run.peak_temperature.empty());
    EXPECT_EQ(run.texts.at("case"), sample::asked().text);
    expect_frames(run, acknowledged);
    // The folder can be used again, and nothing of the killed run stays.
    sample::write(folder.path());
    EXPECT_EQ(entries(folder.path()), 6U);
  }
}

TEST(Interrupted, a_short_run_leaves_the_disk_alone_until_it_ends) {
  const sample::Folder folder;
  const Result run = sample::finished();
  ResultWriter writer(folder.path(), sample::asked());
  writer.begins(sample::beginning());
  for (std::size_t k = 0; k < sample::frames; ++k) writer.frame_taken(sample::frame(k, run.grid));
  EXPECT_EQ(entries(folder.path()), 0U);
  writer.finish(run, sample::verdict());
  EXPECT_EQ(entries(folder.path()), 6U);
}

TEST(Interrupted, a_run_given_up_by_an_exception_keeps_its_frames) {
  const sample::Folder folder;
  {
    ResultWriter writer(folder.path(), sample::asked());
    writer.begins(sample::beginning());
    for (std::size_t k = 0; k < 3; ++k)
      writer.frame_taken(sample::frame(k, sample::beginning().grid));
  }
  const StoredRun run = read_result_file(folder / "result.part.vtkhdf");
  EXPECT_FALSE(run.complete);
  expect_frames(run, 3);
}

TEST(Interrupted, a_run_too_large_to_keep_is_stopped_and_keeps_what_there_is) {
  const sample::Folder folder;
  Result run = sample::finished();
  Keeping keeping;
  keeping.most_bytes = 200'000;
  ResultWriter writer(folder.path(), sample::asked(), keeping);
  writer.begins(sample::beginning());
  std::size_t taken = 0;
  for (; writer.step_done({}, 0) && taken < 10000; ++taken) {
    writer.frame_taken(sample::frame(taken, run.grid));
  }
  EXPECT_GT(taken, 10U);
  EXPECT_LT(taken, 1000U);
  run.ending = Ending::stopped_by_observer;
  try {
    writer.finish(run, sample::verdict());
    FAIL() << "who asked for more must be told";
  } catch (const OutputError& error) {
    const std::string told = error.what();
    EXPECT_NE(told.find("result.part.vtkhdf"), std::string::npos) << told;
    EXPECT_NE(told.find("numerics.frames"), std::string::npos) << told;
  }
  const StoredRun stored = read_result_file(folder / "result.part.vtkhdf");
  expect_frames(stored, taken);
  EXPECT_EQ(stored.series.at("current").size(), sample::steps);
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
                             "report.part.md", "report.part.html", "result.part.vtkhdf"}) {
      EXPECT_TRUE(fs::exists(folder / name)) << name;
    }
    EXPECT_EQ(entries(folder.path()), 6U);
    EXPECT_NE(sample::file_text(folder / "report.part.md").find("invented reason"),
              std::string::npos);
    EXPECT_NE(sample::file_text(folder / "result.part.xdmf").find("result.part.vtkhdf:"),
              std::string::npos);
    sample::write(folder.path());
    EXPECT_EQ(entries(folder.path()), 6U) << "part files of the earlier run must be gone";
  }
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
  const StoredRun stored = read_result_file(folder / "result.part.vtkhdf");
  EXPECT_EQ(stored.series.at("current").size(), sample::steps) << "what could be stored is";
}

}  // namespace
}  // namespace tabmelt
