#include "io/store/reading_process.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <csignal>
#include <new>

namespace tabmelt {
namespace {

// More than any read of this program asks for. [byte]
constexpr std::uint64_t largest_answer = 4'000'000'000;

// What precedes the bytes of an answer.
struct Heading {
  std::uint64_t size = 0;
  bool refused = false;  // the bytes say why
};

// Whether all of it went; not if the other side has gone.
bool sent(int socket, const void* bytes, std::size_t count) {
  const auto* from = static_cast<const char*>(bytes);
  while (count > 0) {
    const ::ssize_t now = ::send(socket, from, count, MSG_NOSIGNAL);
    if (now < 0 && errno == EINTR) continue;
    if (now <= 0) return false;
    from += now;
    count -= static_cast<std::size_t>(now);
  }
  return true;
}

bool received(int socket, void* bytes, std::size_t count) {
  auto* to = static_cast<char*>(bytes);
  while (count > 0) {
    const ::ssize_t now = ::recv(socket, to, count, 0);
    if (now < 0 && errno == EINTR) continue;
    if (now <= 0) return false;
    to += now;
    count -= static_cast<std::size_t>(now);
  }
  return true;
}

// Ends this process if the next request takes longer. Processor time tells a loop from a busy
// machine; the clock is for a process that waits for ever.
void allow(double seconds) {
  itimerval time{};
  time.it_value.tv_sec = static_cast<time_t>(seconds);
  time.it_value.tv_usec = static_cast<suseconds_t>(1e6 * (seconds - std::floor(seconds)));
  ::setitimer(ITIMER_PROF, &time, nullptr);
  ::alarm(static_cast<unsigned>(20 * seconds));
}

[[noreturn]] void serve(int socket, double seconds,
                        const std::function<std::string(const ReadingProcess::Request&)>& read) {
  const rlimit none{0, 0};
  ::setrlimit(RLIMIT_CORE, &none);
  // What a crash would print is not for the person who asked for a picture.
  ::dup2(::open("/dev/null", O_WRONLY | O_CLOEXEC), STDERR_FILENO);
  ::signal(SIGALRM, SIG_DFL);
  ::signal(SIGPROF, SIG_DFL);
  ReadingProcess::Request request;
  while (received(socket, &request, sizeof request)) {
    Heading heading;
    std::string bytes;
    allow(seconds);
    try {
      bytes = read(request);
    } catch (const std::bad_alloc&) {
      heading.refused = true;
      bytes = "impossible size of an array";
    } catch (const std::exception& error) {
      heading.refused = true;
      bytes = error.what();
    }
    allow(0);
    heading.size = bytes.size();
    if (!sent(socket, &heading, sizeof heading) || !sent(socket, bytes.data(), bytes.size())) break;
  }
  ::_exit(0);
}

}  // namespace

ReadingProcess::ReadingProcess(std::uint64_t file_bytes,
                               const std::function<std::string(const Request&)>& read) {
  const double seconds = std::min(1e5, 1 + 0.2e-6 * static_cast<double>(file_bytes));
  int ends[2];
  if (::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) == 0) {
    process_ = ::fork();
    if (process_ == 0) serve(ends[1], seconds, read);
    ::close(ends[1]);
    socket_ = ends[0];
    if (process_ < 0) ::close(socket_);
  }
  if (process_ < 0) throw ReadingError("there is no process to read it in");
}

ReadingProcess::~ReadingProcess() {
  ::close(socket_);
  if (!ended_.empty()) return;
  // Closing is no sign to it: processes started later hold this end of the socket as well.
  ::kill(process_, SIGKILL);
  how_it_ended();
}

std::string ReadingProcess::how_it_ended() {
  int status = 0;
  while (::waitpid(process_, &status, 0) < 0 && errno == EINTR) {
  }
  const int signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
  return signal == SIGPROF || signal == SIGALRM ? "damaged (HDF5 comes to no end with it)"
                                                : "damaged (HDF5 crashes over it)";
}

std::string ReadingProcess::answer(const Request& request) {
  const std::lock_guard lock(mutex_);
  if (!ended_.empty()) throw ReadingError(ended_);
  Heading heading;
  std::string bytes;
  bool well = sent(socket_, &request, sizeof request) &&
              received(socket_, &heading, sizeof heading) && heading.size <= largest_answer;
  if (well) {
    bytes.resize(heading.size);
    well = received(socket_, bytes.data(), bytes.size());
  }
  if (!well) {
    ::kill(process_, SIGKILL);  // one that has ended does not mind
    ended_ = how_it_ended();
    throw ReadingError(ended_);
  }
  if (heading.refused) throw ReadingError(bytes);
  return bytes;
}

}  // namespace tabmelt
