// Transactions on a file: what was committed outlives what failed.

#include "io/result/journaled_file.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <random>
#include <string>

#include "sample_run.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

void put(JournaledFile& file, std::uint64_t offset, const std::string& text) {
  file.write(offset, text.data(), text.size());
}

std::string got(const JournaledFile& file, std::uint64_t offset, std::size_t count) {
  std::string text(count, '?');
  file.read(offset, text.data(), count);
  return text;
}

TEST(JournaledFile, keeps_changes_from_the_disk_until_they_are_committed) {
  const sample::Folder folder;
  const fs::path path = folder / "file";
  JournaledFile file;
  ASSERT_TRUE(file.create(path));
  put(file, 0, "old head, ");
  put(file, 10, "old tail");
  ASSERT_TRUE(file.commit());
  put(file, 0, "NEW");
  put(file, 14, "TAIL and more");  // over the committed end
  EXPECT_EQ(sample::file_text(path), "old head, old tail and more");
  EXPECT_EQ(got(file, 0, 27), "NEW head, old TAIL and more");
  ASSERT_TRUE(file.commit());
  EXPECT_EQ(sample::file_text(path), "NEW head, old TAIL and more");
  file.resize(8);
  ASSERT_TRUE(file.commit());
  EXPECT_EQ(sample::file_text(path), "NEW head");
  put(file, 10, "x");
  EXPECT_EQ(got(file, 0, 13), std::string("NEW head\0\0x\0\0", 13));
}

TEST(JournaledFile, goes_back_to_the_last_commit_when_given_up) {
  const sample::Folder folder;
  const fs::path path = folder / "file";
  {
    JournaledFile file;
    ASSERT_TRUE(file.create(path));
    put(file, 0, "kept");
    ASSERT_TRUE(file.commit());
    put(file, 2, "lost and more");
    file.abandon();
    put(file, 0, "L");
    EXPECT_EQ(got(file, 0, 15), "Lelost and more");
    EXPECT_FALSE(file.commit());
  }
  EXPECT_EQ(sample::file_text(path), "kept");
  {
    JournaledFile file;
    ASSERT_TRUE(file.create(folder / "never"));
    put(file, 0, "not committed");
  }
  EXPECT_FALSE(fs::exists(folder / "never"));
  JournaledFile second;
  EXPECT_FALSE(second.create(path));
  EXPECT_EQ(second.failure(), "File exists");
  second.close();
  EXPECT_EQ(sample::file_text(path), "kept");
}

// Against a plain string, with random writes, cuts and commits.
TEST(JournaledFile, reads_like_a_plain_file) {
  const sample::Folder folder;
  JournaledFile file;
  ASSERT_TRUE(file.create(folder / "file"));
  std::string plain;
  std::mt19937 random(7);
  for (int step = 0; step < 3000; ++step) {
    const std::size_t offset = random() % 2000;
    if (random() % 50 == 0) {
      ASSERT_TRUE(file.commit());
      ASSERT_EQ(sample::file_text(folder / "file"), plain) << step;
    } else {
      const std::string text(1 + random() % 90, static_cast<char>('a' + random() % 26));
      if (plain.size() < offset + text.size()) plain.resize(offset + text.size(), '\0');
      plain.replace(offset, text.size(), text);
      put(file, offset, text);
    }
    ASSERT_EQ(file.length(), plain.size());
    ASSERT_EQ(got(file, 0, plain.size()), plain) << step;
  }
}

// The limit holds for the whole process, so a child tries it, and must not die of SIGXFSZ.
TEST(JournaledFile, heeds_the_limit_for_file_sizes_without_a_signal) {
  const sample::Folder folder;
  const pid_t child = ::fork();
  ASSERT_GE(child, 0);
  if (child == 0) {
    ::alarm(60);
    ::signal(SIGXFSZ, SIG_DFL);
    const rlimit most{1000, 1000};
    if (::setrlimit(RLIMIT_FSIZE, &most) != 0) ::_exit(1);
    JournaledFile file;
    if (!file.create(folder / "file")) ::_exit(2);
    put(file, 0, std::string(900, 'k'));
    if (!file.commit()) ::_exit(3);
    put(file, 0, "changed");
    put(file, 900, std::string(101, 'x'));
    if (file.commit() || file.failure() != "File too large") ::_exit(4);
    file.close();
    ::_exit(0);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  ASSERT_TRUE(WIFEXITED(status));
  EXPECT_EQ(WEXITSTATUS(status), 0);
  EXPECT_EQ(sample::file_text(folder / "file"), std::string(900, 'k'));
}

}  // namespace
}  // namespace tabmelt
