// The program: picks the command and turns what it returns or throws into an exit status.
#include <fmt/format.h>
#include <poll.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <sstream>
#include <string_view>

#include "io/command/command_line.h"
#include "io/command/failure.h"
#include "io/command/say.h"
#include "io/command/self_description.h"
#include "io/study/processes.h"

namespace {

using tabmelt::command::ExitStatus;

// A failed assertion or a library's abort() is our bug; say so instead of dying of a signal.
void report_abort(int) {
  constexpr std::string_view text = "tabmelt: internal error, please report it\n";
  std::fwrite(text.data(), 1, text.size(), stderr);
  std::_Exit(static_cast<int>(ExitStatus::own_bug));
}

int number(ExitStatus status) { return static_cast<int>(status); }

// Whoever read standard output from a pipe has seen enough, as `head` does: nothing to complain of.
bool reader_has_gone() {
  pollfd out{1, 0, 0};
  return ::poll(&out, 1, 0) == 1 && (out.revents & POLLERR) != 0;
}

ExitStatus status_of(const std::function<ExitStatus()>& command) {
  try {
    const ExitStatus status = command();
    // A full disk behind a redirected standard output shows here.
    const bool lost = std::fflush(stdout) != 0 || std::ferror(stdout) != 0;
    if (lost && !reader_has_gone()) {
      fmt::print(stderr, "tabmelt: standard output could not be written\n");
      return std::max(status, ExitStatus::unfinished);
    }
    return status;
  } catch (...) {
    const tabmelt::command::Failure failure = tabmelt::command::current_failure();
    tabmelt::command::say(stderr, failure.message);
    return failure.status;
  }
}

}  // namespace

int main(int argument_count, char** arguments) {
  tabmelt::command::hold_standard_descriptors();
  std::signal(SIGABRT, report_abort);
  std::signal(SIGPIPE, SIG_IGN);

  CLI::App app("", "tabmelt");
  app.failure_message([](const CLI::App*, const CLI::Error& error) {
    return fmt::format("tabmelt: {}\n`tabmelt --help` tells more.\n", error.what());
  });
  tabmelt::command::AllOptions options;
  tabmelt::command::Chosen chosen;
  tabmelt::command::add_commands(app, options, chosen);

  try {
    app.parse(argument_count, arguments);
  } catch (const CLI::ParseError& error) {
    const std::vector<std::string> asked(arguments + 1, arguments + argument_count);
    const auto meant =
        error.get_exit_code() == 0 ? std::nullopt : tabmelt::command::suggestion(app, asked);
    if (meant) {
      tabmelt::command::say(stderr,
                            fmt::format("tabmelt: {}\n`tabmelt --help` tells more.\n", *meant));
      return number(ExitStatus::wrong_input);
    }
    // Its message repeats what was typed, or what a script took from elsewhere.
    std::ostringstream told, complaint;
    const bool asked_for_help = app.exit(error, told, complaint) == 0;
    tabmelt::command::say(stdout, told.str());
    tabmelt::command::say(stderr, complaint.str());
    return number(asked_for_help ? ExitStatus::fine : ExitStatus::wrong_input);
  }
  const ExitStatus status = status_of(chosen);
  tabmelt::leave_processes(status != ExitStatus::fine);
  if (status == ExitStatus::fine) return number(status);
  // Without the exit handlers of the libraries: HDF5's crash on a file that could not be written.
  std::fflush(nullptr);
  std::_Exit(number(status));
}
