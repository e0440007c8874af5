// What the writer does not write, and what the reader does not read.

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <utility>
#include <vector>

#include "io/result/result_reader.h"
#include "io/result/result_writer.h"
#include "sample_run.h"

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

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
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
    EXPECT_TRUE(has(told, folder.path().string()) && has(told, name)) << told;
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
}

TEST(Writer, refuses_a_folder_another_run_is_writing_into) {
  const sample::Folder folder;
  ResultWriter first(folder.path(), sample::asked());
  const Result run = sample::finished();
  first.begins(sample::beginning());
  const std::string told = refusal_to_write(folder.path());
  EXPECT_TRUE(has(told, "another run")) << told;
  first.frame_taken(sample::frame(0, run.grid));
  EXPECT_NO_THROW(first.finish(run, sample::verdict()));
}

TEST(Writer, names_a_folder_it_cannot_make_and_the_reason) {
  const sample::Folder folder;
  std::ofstream(folder / "file") << "x";
  const std::string told = refusal_to_write(folder / "file" / "results");
  EXPECT_TRUE(has(told, (folder / "file").string()) && has(told, "Not a directory")) << told;
  const std::string same = refusal_to_write(folder / "file");
  EXPECT_TRUE(has(same, (folder / "file").string())) << same;
  // A file system that takes no files, whoever asks.
  const std::string no_files = refusal_to_write("/proc/self/fdinfo");
  EXPECT_TRUE(has(no_files, "/proc/self/fdinfo")) << no_files;
}

TEST(Writer, names_a_folder_without_permission_and_the_reason) {
  if (::geteuid() == 0) GTEST_SKIP() << "the superuser may write everywhere";
  const sample::Folder folder;
  fs::permissions(folder.path(), fs::perms::owner_read | fs::perms::owner_exec);
  const std::string told = refusal_to_write(folder.path());
  fs::permissions(folder.path(), fs::perms::owner_all);
  EXPECT_TRUE(has(told, folder.path().string()) && has(told, "Permission denied")) << told;
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

TEST(Reader, says_so_if_another_process_is_writing_the_file) {
  const sample::Folder folder;
  const fs::path path = sample::write(folder.path());
  // The lock that HDF5 holds in the process that writes.
  const int descriptor = ::open(path.c_str(), O_RDWR | O_CLOEXEC);
  ASSERT_EQ(::flock(descriptor, LOCK_EX | LOCK_NB), 0);
  const std::string told = refusal_to_read(path);
  ::close(descriptor);
  EXPECT_TRUE(has(told, "still writing")) << told;
  EXPECT_EQ(refusal_to_read(path), "");
}

TEST(Reader, names_what_is_wrong_with_a_file) {
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good");
  const auto check = [&](const std::string& name, const std::string& expected) {
    const std::string told = refusal_to_read(folder / name);
    EXPECT_TRUE(has(told, (folder / name).string())) << told;
    EXPECT_TRUE(has(told, expected)) << name << ": " << told;
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
  { ResultWriter writer(folder / "early", sample::asked()); }
  check("early/result.part.vtkhdf", "no frames");
  {
    ResultWriter writer(folder / "grid", sample::asked());
    writer.begins(sample::beginning());
  }
  check("grid/result.part.vtkhdf", "no frames");
  EXPECT_EQ(refusal_to_read(good), "");
}

// Files of other programs and damaged ones, made from a good one.
const char* const altered_script = R"python(
import shutil, sys
try:
    import h5py
except ImportError as missing:
    print(missing); sys.exit(77)
good, folder = sys.argv[1:]
h5py.File(folder + '/foreign', 'w').create_group('something')
with h5py.File(folder + '/newer', 'w') as f:
    f.attrs.update(schema_name='tabmelt-result', schema_version=2, program_version='9.9')
with h5py.File(folder + '/older', 'w') as f:
    f.attrs.update(schema_name='tabmelt-result', schema_version=0, program_version='0.0')
def altered(name):
    shutil.copy(good, folder + '/' + name)
    return h5py.File(folder + '/' + name, 'r+')
with altered('no_edges') as f: del f['mesh/r_edges']
with altered('no_array') as f: del f['VTKHDF/CellData/electric_potential']
with altered('no_version') as f: del f.attrs['schema_version']
with altered('no_steps') as f: f['VTKHDF/Steps'].attrs['NSteps'] = 0
with altered('shorter') as f: f['VTKHDF/CellData/liquid_fraction'].resize(3 * 12 * 9, axis=0)
with altered('fewer') as f: f['VTKHDF/Steps/Values'].resize(2, axis=0)
)python";

TEST(Reader, tells_foreign_older_newer_and_damaged_files_apart) {
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good");
  const auto made =
      sample::run_python(altered_script, good.string() + " " + folder.path().string());
  if (made.status == sample::module_missing) GTEST_SKIP() << "no h5py: " << made.output;
  ASSERT_EQ(made.status, 0) << made.output;
  const std::pair<const char*, const char*> expected[] = {
      {"foreign", "HDF5, but not a tabmelt result"},
      {"newer", "newer program (9.9)"},
      {"older", "older program (0.0)"},
      {"no_edges", "damaged"},
      {"no_array", "damaged"},
      {"no_version", "damaged"},
      {"no_steps", "no frames"}};
  for (const auto& [name, words] : expected) {
    const std::string told = refusal_to_read(folder / name);
    EXPECT_TRUE(has(told, (folder / name).string()) && has(told, words)) << name << ": " << told;
  }
  // Lists of different length are trimmed to the shortest.
  EXPECT_EQ(read_result_file(folder / "shorter").frame_times.size(), 3U);
  EXPECT_EQ(read_result_file(folder / "fewer").frame_times.size(), 2U);
}

// A frame that does not decode, at the end or in the middle.
const char* const torn_script = R"python(
import shutil, sys
try:
    import h5py
except ImportError as missing:
    print(missing); sys.exit(77)
good, folder = sys.argv[1:]
for name, frame, complete in (('last', 3, 0), ('middle', 1, 0), ('finished', 3, 1)):
    shutil.copy(good, folder + '/' + name)
    with h5py.File(folder + '/' + name, 'r+') as f:
        f.attrs.modify('complete', complete)
        f['VTKHDF/CellData/temperature'].id.write_direct_chunk((frame * 12 * 9,), b'torn')
)python";

TEST(Reader, drops_torn_frames_from_the_end_and_names_others) {
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good");
  const auto made = sample::run_python(torn_script, good.string() + " " + folder.path().string());
  if (made.status == sample::module_missing) GTEST_SKIP() << "no h5py: " << made.output;
  ASSERT_EQ(made.status, 0) << made.output;
  EXPECT_EQ(read_result_file(folder / "last").frame_times.size(), 3U);
  const StoredRun middle = read_result_file(folder / "middle");
  ASSERT_EQ(middle.frame_times.size(), 4U);
  EXPECT_NO_THROW(middle.frame(0));
  EXPECT_THROW(middle.frame(1), ResultFileError);
  EXPECT_NO_THROW(middle.frame(2));
  // A finished run is not shortened in silence.
  const StoredRun finished = read_result_file(folder / "finished");
  ASSERT_EQ(finished.frame_times.size(), 4U);
  EXPECT_THROW(finished.frame(3), ResultFileError);
  fs::remove(folder / "middle");
  try {
    middle.frame(0);
    FAIL() << "the file has gone";
  } catch (const ResultFileError& error) {
    EXPECT_TRUE(has(error.what(), "no such file")) << error.what();
  }
}

TEST(Reader, refuses_a_file_cut_anywhere) {
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good");
  const auto size = fs::file_size(good);
  for (std::uintmax_t tenths = 0; tenths < 10; ++tenths) {
    const fs::path path = folder / "cut";
    fs::copy_file(good, path, fs::copy_options::overwrite_existing);
    fs::resize_file(path, size * tenths / 10);
    EXPECT_TRUE(has(refusal_to_read(path), path.string())) << tenths;
  }
}

}  // namespace
}  // namespace tabmelt
