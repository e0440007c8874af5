#include "io/command/stop_signal.h"

#include <atomic>
#include <csignal>

namespace tabmelt::command {
namespace {

std::atomic<bool> requested{false};
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may only use such");

void request_stop(int) { requested = true; }

}  // namespace

void listen_for_stop() {
  struct sigaction action = {};
  action.sa_handler = request_stop;
  action.sa_flags = static_cast<int>(SA_RESETHAND | SA_RESTART);
  sigemptyset(&action.sa_mask);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction before = {};
    // `nohup` has the program ignore the end of its terminal; that stays.
    if (signal == SIGHUP && sigaction(signal, nullptr, &before) == 0 &&
        before.sa_handler == SIG_IGN)
      continue;
    sigaction(signal, &action, nullptr);
  }
}

bool stop_requested() { return requested; }

}  // namespace tabmelt::command
