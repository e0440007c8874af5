#include "tests/command/program.h"

#include <fcntl.h>
#include <pty.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

void redirect(const fs::path& file, int flags, int descriptor) {
  const int opened = open(file.c_str(), flags, 0600);
  if (opened < 0 || dup2(opened, descriptor) < 0) _exit(126);
  close(opened);
}

// Only in the child process: becomes the program.
[[noreturn]] void become_program(const std::vector<std::string>& arguments) {
  std::vector<std::string> words = {TABMELT_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  execv(TABMELT_PROGRAM, pointers.data());
  _exit(127);
}

int exit_status(pid_t process) {
  int status = 0;
  if (waitpid(process, &status, 0) != process) throw std::runtime_error("waitpid failed");
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1 - WTERMSIG(status);
}

}  // namespace

Program::Program(const std::vector<std::string>& arguments, const fs::path& folder,
                 const std::string& standard_input)
    : out_(folder / "standard_output"), error_(folder / "standard_error") {
  write_file(folder / "standard_input", standard_input);
  process_ = fork();
  if (process_ < 0) throw std::runtime_error("fork failed");
  if (process_ > 0) return;
  redirect(folder / "standard_input", O_RDONLY, STDIN_FILENO);
  redirect(out_, O_WRONLY | O_CREAT | O_TRUNC, STDOUT_FILENO);
  redirect(error_, O_WRONLY | O_CREAT | O_TRUNC, STDERR_FILENO);
  if (chdir(folder.c_str()) != 0) _exit(126);
  become_program(arguments);
}

Finished Program::finished() {
  const int status = exit_status(process_);
  return {status, file_text(out_), file_text(error_)};
}

void Program::send(int signal) const { kill(process_, signal); }

Finished finished(const std::vector<std::string>& arguments, const fs::path& folder,
                  const std::string& standard_input) {
  return Program(arguments, folder, standard_input).finished();
}

std::string on_a_terminal(const std::vector<std::string>& arguments, const fs::path& folder) {
  int terminal = -1;
  const pid_t process = forkpty(&terminal, nullptr, nullptr, nullptr);
  if (process < 0) throw std::runtime_error("forkpty failed");
  if (process == 0) {
    setenv("TERM", "xterm", 1);
    if (chdir(folder.c_str()) != 0) _exit(126);
    become_program(arguments);
  }
  std::string text;
  char buffer[4096];
  // Reading fails with EIO once the other end is closed.
  for (ssize_t got; (got = read(terminal, buffer, sizeof buffer)) > 0;) {
    text.append(buffer, static_cast<std::size_t>(got));
  }
  close(terminal);
  exit_status(process);
  return text;
}

}  // namespace tabmelt::test
