// What the writer does not write, and what the reader does not read.

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <vector>

#include "io/store/result_reader.h"
#include "io/store/result_writer.h"
#include "sample_run.h"
#include "tests/support/contains.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

std::string refusal_to_write(const fs::path& folder) {
  try {
    ResultWriter writer(folder, sample::asked());
  } catch (const OutputError& error) {
    return error.what();
  }
  return {};
}

std::string refusal_to_read(const fs::path& file) {
  try {
    read_result_file(file);
  } catch (const ResultFileError& error) {
    return error.what();
  }
  return {};
}

TEST(Writer, creates_missing_folders_and_leaves_only_final_names) {
  const sample::Folder folder;
  EXPECT_EQ(sample::write(folder / "a" / "b"), folder / "a" / "b" / "result.vtkhdf");
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder / "a" / "b")) {
    names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  EXPECT_EQ(names, (std::vector<std::string>{"history.csv", "report.html", "report.md",
                                             "result.vtkhdf", "result.xdmf", "summary.json"}));
}

TEST(Writer, never_overwrites_finished_results) {
  for (const char* name : {"result.vtkhdf", "result.xdmf", "history.csv", "summary.json",
                           "report.md", "report.html"}) {
    const sample::Folder folder;
    std::ofstream(folder / name) << "mine";
    const std::string told = refusal_to_write(folder.path());
    EXPECT_TRUE(contains(told, folder.path().string()) && contains(told, name)) << told;
    EXPECT_EQ(sample::file_text(folder / name), "mine");
    EXPECT_FALSE(fs::exists(folder / "result.part.vtkhdf"));
  }
}

TEST(Writer, does_not_overwrite_what_appeared_during_the_run) {
  const sample::Folder folder;
  const Result run = sample::finished();
  ResultWriter writer(folder.path(), sample::asked());
  writer.begins(sample::beginning());
  writer.frame_taken(sample::frame(0, run.grid));
  std::ofstream(folder / "report.md") << "mine";
  EXPECT_THROW(writer.finish(run, sample::verdict()), OutputError);
  EXPECT_EQ(sample::file_text(folder / "report.md"), "mine");
  EXPECT_FALSE(fs::exists(folder / "result.vtkhdf"));
  EXPECT_FALSE(fs::exists(folder / "summary.json"));
  // Nothing that was computed is lost.
  EXPECT_TRUE(read_result_file(folder / "result.part.vtkhdf").complete);
  EXPECT_TRUE(fs::exists(folder / "summary.part.json"));
}

TEST(Writer, refuses_a_folder_another_run_is_writing_into) {
  const sample::Folder folder;
  ResultWriter first(folder.path(), sample::asked());
  const Result run = sample::finished();
  first.begins(sample::beginning());
  const std::string told = refusal_to_write(folder.path());
  EXPECT_TRUE(contains(told, "another run")) << told;
  first.frame_taken(sample::frame(0, run.grid));
  EXPECT_NO_THROW(first.finish(run, sample::verdict()));
}

TEST(Writer, names_a_folder_it_cannot_make_and_the_reason) {
  const sample::Folder folder;
  std::ofstream(folder / "file") << "x";
  const std::string told = refusal_to_write(folder / "file" / "results");
  EXPECT_TRUE(contains(told, (folder / "file").string()) && contains(told, "Not a directory"))
      << told;
  const std::string same = refusal_to_write(folder / "file");
  EXPECT_TRUE(contains(same, (folder / "file").string())) << same;
  // A file system that takes no files, whoever asks.
  const std::string no_files = refusal_to_write("/proc/self/fdinfo");
  EXPECT_TRUE(contains(no_files, "/proc/self/fdinfo")) << no_files;
}

TEST(Writer, names_a_folder_without_permission_and_the_reason) {
  if (::geteuid() == 0) GTEST_SKIP() << "the superuser may write everywhere";
  const sample::Folder folder;
  fs::permissions(folder.path(), fs::perms::owner_read | fs::perms::owner_exec);
  const std::string told = refusal_to_write(folder.path());
  fs::permissions(folder.path(), fs::perms::owner_all);
  EXPECT_TRUE(contains(told, folder.path().string()) && contains(told, "Permission denied"))
      << told;
}

TEST(Writer, a_frame_of_the_wrong_size_stops_the_run) {
  const sample::Folder folder;
  const Result run = sample::finished();
  ResultWriter writer(folder.path(), sample::asked());
  writer.begins(sample::beginning());
  EXPECT_TRUE(writer.step_done({}, 0.5));
  Frame frame = sample::frame(0, run.grid);
  frame.potential.pop_back();
  writer.frame_taken(frame);
  EXPECT_FALSE(writer.step_done({}, 0.5));
  EXPECT_THROW(writer.finish(run, sample::verdict()), OutputError);
}

TEST(Reader, names_what_is_wrong_with_a_file) {
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good");
  const auto check = [&](const std::string& name, const std::string& expected) {
    const std::string told = refusal_to_read(folder / name);
    EXPECT_TRUE(contains(told, (folder / name).string())) << told;
    EXPECT_TRUE(contains(told, expected)) << name << ": " << told;
  };
  check("missing", "no such file");
  fs::create_directory(folder / "folder");
  check("folder", "not a file");
  std::ofstream(folder / "empty").flush();
  check("empty", "not HDF5");
  std::ofstream(folder / "text") << std::string(5000, 'x');
  check("text", "not HDF5");
  fs::copy_file(good, folder / "short");
  fs::resize_file(folder / "short", fs::file_size(good) - 1000);
  check("short", "truncated");
  EXPECT_EQ(refusal_to_read(good), "");
}

TEST(Reader, refuses_a_file_cut_anywhere) {
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good");
  const auto size = fs::file_size(good);
  for (std::uintmax_t tenths = 0; tenths < 10; ++tenths) {
    const fs::path path = folder / "cut";
    fs::copy_file(good, path, fs::copy_options::overwrite_existing);
    fs::resize_file(path, size * tenths / 10);
    EXPECT_TRUE(contains(refusal_to_read(path), path.string())) << tenths;
  }
}

}  // namespace
}  // namespace tabmelt
