// Files that are there as a whole or not at all, that follow no link and replace nothing unasked.

#include "io/files/whole_file.h"

#include <gtest/gtest.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>

#include "sample_run.h"

namespace {
bool flag_is_unknown = false;
}  // namespace

// Takes the place of the C library's function in this executable: a file system that does not know
// the flag.
extern "C" int renameat2(int from_folder, const char* from, int to_folder, const char* to,
                         unsigned flags) noexcept {
  if (flag_is_unknown) {
    errno = EINVAL;
    return -1;
  }
  return static_cast<int>(::syscall(SYS_renameat2, from_folder, from, to_folder, to, flags));
}

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

void put(const fs::path& file, const std::string& text) { std::ofstream(file) << text; }

TEST(WholeFile, creating_follows_no_link_and_replaces_nothing) {
  const sample::Folder folder;
  put(folder / "mine", "mine");
  fs::create_symlink(folder / "mine", folder / "link");
  fs::create_symlink(folder / "nowhere", folder / "dangling");
  for (const char* name : {"mine", "link", "dangling"}) {
    EXPECT_EQ(failure_to_create(folder / name, "new"), "File exists") << name;
  }
  EXPECT_EQ(sample::file_text(folder / "mine"), "mine");
  EXPECT_FALSE(fs::exists(folder / "nowhere"));
  EXPECT_EQ(failure_to_create(folder / "new", "new"), std::nullopt);
  EXPECT_EQ(sample::file_text(folder / "new"), "new");
}

TEST(WholeFile, replacing_leaves_the_target_of_a_link_alone) {
  const sample::Folder folder;
  put(folder / "mine", "mine");
  for (const char* name : {"file", "file.tmp"}) fs::create_symlink(folder / "mine", folder / name);
  EXPECT_EQ(failure_to_replace(folder / "file", "new"), std::nullopt);
  EXPECT_EQ(sample::file_text(folder / "mine"), "mine");
  EXPECT_EQ(sample::file_text(folder / "file"), "new");
  EXPECT_FALSE(fs::is_symlink(folder / "file"));
  fs::create_directories(folder / "folder" / "with something");
  EXPECT_NE(failure_to_replace(folder / "folder", "new"), std::nullopt);
  EXPECT_TRUE(fs::exists(folder / "folder" / "with something"));
  EXPECT_FALSE(fs::exists(folder / "folder.tmp"));
}

TEST(WholeFile, renaming_replaces_nothing_on_any_file_system) {
  for (const bool unknown : {false, true}) {
    const sample::Folder folder;
    put(folder / "from", "from");
    put(folder / "mine", "mine");
    fs::create_symlink(folder / "nowhere", folder / "dangling");
    flag_is_unknown = unknown;
    for (const char* name : {"mine", "dangling"}) {
      EXPECT_EQ(failure_to_rename(folder / "from", folder / name), "File exists") << name;
    }
    EXPECT_EQ(sample::file_text(folder / "mine"), "mine");
    EXPECT_EQ(sample::file_text(folder / "from"), "from");
    EXPECT_EQ(failure_to_rename(folder / "from", folder / "to"), std::nullopt);
    flag_is_unknown = false;
    EXPECT_EQ(sample::file_text(folder / "to"), "from");
    EXPECT_FALSE(fs::exists(folder / "from"));
  }
}

}  // namespace
}  // namespace tabmelt
