// Stands in for io/store/reading_process.cpp as well.
#include "tests/fuzz/reading_helper.h"

#include <sanitizer/common_interface_defs.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <iterator>
#include <new>
#include <string>

#include "io/store/reading_process.h"

namespace {

std::function<std::string(const tabmelt::ReadingProcess::Request&)> reading;

// Whether the helper is inside of what the program does in a process divided off. Shared with it.
volatile bool& inside() {
  static auto* const shared = static_cast<volatile bool*>(
      ::mmap(nullptr, 1, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0));
  if (shared == MAP_FAILED) std::abort();
  return *shared;
}

// Of processor time; HDF5 can be led round in circles. A sound file takes some milliseconds.
void allow(long microseconds) {
  const itimerval time{{0, 0}, {0, microseconds}};
  ::setitimer(ITIMER_PROF, &time, nullptr);
}

struct Helper {
  pid_t process = -1;
  int socket = -1;
  int said = -1;  // what it writes to standard error
  int files = 0;  // that it has read
};

Helper divided_off(void (*read)(bool)) {
  int ends[2];
  inside() = false;
  if (::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0) std::abort();
  const int said = ::memfd_create("said", MFD_CLOEXEC);
  const Helper helper{::fork(), ends[0], said, 0};
  if (helper.process < 0) std::abort();
  if (helper.process > 0) {
    ::close(ends[1]);
    return helper;
  }
  ::close(ends[0]);
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  ::dup2(said, STDERR_FILENO);
  __sanitizer_set_death_callback(nullptr);  // that of libFuzzer, which would call this a find
  for (char sound = 0; ::read(ends[1], &sound, 1) == 1;) {
    read(sound == 1);
    if (::write(ends[1], &sound, 1) != 1) break;
  }
  ::_exit(0);
}

void end(Helper& helper) {
  ::close(helper.socket);
  ::kill(helper.process, SIGKILL);
  while (::waitpid(helper.process, nullptr, 0) < 0 && errno == EINTR) {
  }
  ::close(helper.said);
  helper = {};
}

std::string text_of(int file) {
  std::string text;
  char part[4096];
  for (::ssize_t count; (count = ::pread(file, part, sizeof part, std::ssize(text))) > 0;)
    text.append(part, static_cast<std::size_t>(count));
  return text;
}

// Whether a report of the sanitizers is about our code: the innermost place that is not theirs.
// HDF5 is built without them, and what they find there is its own.
bool blames_us(const std::string& report) {
  const auto of_ours = std::min(report.find(" in tabmelt::"), report.find(": runtime error: "));
  return of_ours < report.find("/libhdf5");
}

}  // namespace

void read_in_helper(void (*read)(bool), bool sound) {
  // HDF5 keeps a little of each damaged file.
  constexpr int most_files = 1000;
  static Helper helper;
  if (helper.process < 0) helper = divided_off(read);
  char answer = sound ? 1 : 0;
  ::ssize_t count = ::write(helper.socket, &answer, 1);
  while (count == 1 && (count = ::read(helper.socket, &answer, 1)) < 0 && errno == EINTR) count = 1;
  const bool came_to_an_end = count != 1;
  if (came_to_an_end && (sound || !inside() || blames_us(text_of(helper.said)))) {
    std::fputs(text_of(helper.said).c_str(), stderr);
    std::abort();
  }
  if (came_to_an_end || ++helper.files == most_files) end(helper);
}

namespace tabmelt {

ReadingProcess::ReadingProcess(std::uint64_t,
                               const std::function<std::string(const Request&)>& read) {
  reading = read;
}

ReadingProcess::~ReadingProcess() { reading = nullptr; }

std::string ReadingProcess::answer(const Request& request) {
  inside() = true;
  std::string bytes, refusal;
  bool refused = true;
  allow(400'000);
  try {
    bytes = reading(request);
    refused = false;
  } catch (const std::bad_alloc&) {
    refusal = "impossible size of an array";
  } catch (const std::exception& error) {
    refusal = error.what();
  }
  allow(0);
  inside() = false;
  if (refused) throw ReadingError(refusal);
  return bytes;
}

}  // namespace tabmelt
