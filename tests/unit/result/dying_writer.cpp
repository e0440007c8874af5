#include "dying_writer.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>
#include <string>

#include "sample_run.h"

namespace tabmelt::sample {
namespace {

namespace fs = std::filesystem;

enum class At { nothing, death, full_disk };
At end = At::nothing;
std::size_t writes_left = 0;
LastWrite last = LastWrite::whole;

void put_back(const fs::path& path, const std::string& bytes) {
  std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  fs::resize_file(path, bytes.size());
}

}  // namespace

void die_in_write(std::size_t number, LastWrite how) {
  writes_left = number;
  last = how;
  end = At::death;
}

FullFrom::FullFrom(std::size_t number) {
  writes_left = number;
  end = At::full_disk;
}

FullFrom::~FullFrom() { end = At::nothing; }

std::size_t die_in_each_write(const fs::path& file, LastWrite how,
                              const std::function<void()>& write,
                              const std::function<void(const fs::path&)>& examine) {
  const std::string before = file_text(file);
  const fs::path copy = file.string() + ".copy";
  for (std::size_t number = 0;; ++number) {
    const pid_t child = ::fork();
    if (child == 0) {
      ::alarm(60);
      die_in_write(number, how);
      write();
      ::_exit(0);
    }
    int status = 0;
    if (child < 0 || ::waitpid(child, &status, 0) != child) {
      ADD_FAILURE() << "no child";
      return number;
    }
    if (!WIFSIGNALED(status)) {
      EXPECT_EQ(WEXITSTATUS(status), 0);
      return number;
    }
    EXPECT_EQ(WTERMSIG(status), SIGKILL);
    fs::copy_file(file, copy, fs::copy_options::overwrite_existing);
    examine(copy);
    put_back(file, before);
    if (testing::Test::HasFailure()) return number;
  }
}

}  // namespace tabmelt::sample

// Takes the place of the C library's function in this executable.
extern "C" ssize_t pwrite(int descriptor, const void* bytes, size_t count, off_t offset) {
  using namespace tabmelt::sample;
  const bool ends = end != At::nothing && writes_left == 0;
  if (writes_left > 0) --writes_left;
  if (ends && end == At::full_disk) {
    errno = ENOSPC;
    return -1;
  }
  const size_t now = ends && last == LastWrite::half ? count / 2 : count;
  const auto done = static_cast<ssize_t>(::syscall(SYS_pwrite64, descriptor, bytes, now, offset));
  if (ends) ::kill(::getpid(), SIGKILL);
  return done;
}
