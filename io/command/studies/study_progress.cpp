#include "io/command/studies/study_progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <string_view>

#include "io/command/say.h"
#include "solver/words/printable.h"

namespace tabmelt::command {
namespace {

constexpr int bar_width = 30;
constexpr std::chrono::milliseconds redraw_interval{200};

bool on_a_terminal() {
  const char* kind = std::getenv("TERM");
  return isatty(STDERR_FILENO) != 0 && kind != nullptr && std::string_view(kind) != "dumb";
}

}  // namespace

std::string time_left_words(double seconds) {
  if (seconds < 90) return fmt::format("{:.0f} s", std::ceil(seconds));
  const auto minutes = static_cast<long>(std::lround(seconds / 60));
  if (minutes < 60) return fmt::format("{} min", minutes);
  return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

double time_left(double seconds_so_far, std::size_t computed, std::size_t to_come) {
  if (computed == 0) return -1;
  return seconds_so_far / static_cast<double>(computed) * static_cast<double>(to_come);
}

StudyProgress::StudyProgress(bool quiet)
    : shown_(!quiet && on_a_terminal()), begun_(std::chrono::steady_clock::now()) {}

StudyProgress::~StudyProgress() { erase(); }

void StudyProgress::stage(const std::string& what, std::size_t runs) {
  const std::lock_guard lock(mutex_);
  what_ = what;
  expected_ = runs;
  done_before_ = done_;
}

void StudyProgress::done(std::size_t runs, std::size_t computed) {
  const std::lock_guard lock(mutex_);
  done_ = runs;
  computed_ = computed;
  if (!shown_) return;
  const auto now = std::chrono::steady_clock::now();
  if (now - last_drawn_ < redraw_interval) return;
  last_drawn_ = now;
  draw();
}

void StudyProgress::print(std::FILE* stream, const std::string& text) {
  const std::lock_guard lock(mutex_);
  erase();
  say(stream, text);
}

void StudyProgress::erase() {
  if (!drawn_) return;
  std::fputs("\r\x1b[K", stderr);
  drawn_ = false;
}

void StudyProgress::draw() {
  const std::size_t here = done_ - done_before_;
  std::string line = what_ + fmt::format(": {} runs", here);
  if (expected_ > 0) {
    const std::size_t to_come = expected_ > here ? expected_ - here : 0;
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begun_;
    const auto filled = bar_width * here / std::max(expected_, here);
    line = fmt::format("[{:.<{}}] {}: {} of {} runs", std::string(filled, '#'), bar_width, what_,
                       here, std::max(expected_, here));
    const double left = time_left(passed.count(), computed_, to_come);
    if (left >= 0) line += ", " + time_left_words(left) + " left";
  }
  fmt::print(stderr, "\r{}\x1b[K", printable(line));
  std::fflush(stderr);
  drawn_ = true;
}

}  // namespace tabmelt::command
