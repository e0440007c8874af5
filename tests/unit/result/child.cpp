#include "child.h"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <stdexcept>

namespace tabmelt::sample {
namespace {

// Processor time tells a loop from a busy machine; the clock is for a child that sleeps.
constexpr unsigned most_seconds = 200;

}  // namespace

ChildOutcome in_child(const std::function<bool()>& prepare, const std::function<std::string()>& run,
                      unsigned processor_seconds) {
  int ends[2];
  if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
  std::fflush(nullptr);  // or the child would print it again
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("no child process");
  if (child == 0) {
    ::close(ends[0]);
    const rlimit processor{processor_seconds, processor_seconds + 1};
    ::setrlimit(RLIMIT_CPU, &processor);
    const rlimit no_core{0, 0};
    ::setrlimit(RLIMIT_CORE, &no_core);
    ::alarm(most_seconds);
    if (!prepare()) ::_exit(not_permitted);
    const std::string told = run();
    // Shorter than a pipe holds, so this cannot block.
    const bool all =
        ::write(ends[1], told.data(), told.size()) == static_cast<::ssize_t>(told.size());
    ::close(ends[1]);
    // Counts of lines, where they are kept, are written on the way out: no bound on files any more.
    rlimit bytes{};
    ::getrlimit(RLIMIT_FSIZE, &bytes);
    bytes.rlim_cur = bytes.rlim_max;
    ::setrlimit(RLIMIT_FSIZE, &bytes);
    std::exit(all ? 0 : 1);
  }
  ::close(ends[1]);
  ChildOutcome outcome;
  char buffer[4096];
  for (;;) {
    const ::ssize_t count = ::read(ends[0], buffer, sizeof buffer);
    if (count <= 0) break;
    outcome.told.append(buffer, static_cast<std::size_t>(count));
  }
  ::close(ends[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  outcome.status = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
  return outcome;
}

}  // namespace tabmelt::sample
