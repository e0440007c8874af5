#include "io/command/progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <string_view>

#include "io/command/say.h"
#include "solver/words/printable.h"

namespace tabmelt::command {
namespace {

constexpr std::chrono::milliseconds redraw_interval{100};

bool on_a_terminal() {
  const char* kind = std::getenv("TERM");
  return isatty(STDERR_FILENO) != 0 && kind != nullptr && std::string_view(kind) != "dumb";
}

}  // namespace

ProgressLine::ProgressLine(bool quiet) : shown_(!quiet && on_a_terminal()) {}

ProgressLine::~ProgressLine() { erase(); }

void ProgressLine::print(std::FILE* stream, const std::string& text) {
  const std::lock_guard lock(mutex_);
  erase();
  say(stream, text);
}

std::string ProgressLine::bar(double share, int width, const std::string& words) {
  const std::string filled(static_cast<std::size_t>(share * width), '#');
  return fmt::format("[{:.<{}}] {}", filled, width, words);
}

bool ProgressLine::is_due() const {
  return shown_ && std::chrono::steady_clock::now() - last_drawn_ >= redraw_interval;
}

void ProgressLine::draw(const std::string& line) {
  fmt::print(stderr, "\r{}\x1b[K", printable(line));
  std::fflush(stderr);
  drawn_ = true;
  last_drawn_ = std::chrono::steady_clock::now();
}

void ProgressLine::erase() {
  if (!drawn_) return;
  std::fputs("\r\x1b[K", stderr);
  drawn_ = false;
}

ProgressBar::ProgressBar(std::size_t cases, bool quiet)
    : ProgressLine(quiet), fractions_(cases, 0.0) {}

void ProgressBar::report(std::size_t index, double fraction, double simulated_time) {
  const std::lock_guard lock(mutex_);
  fractions_.at(index) = std::clamp(fraction, 0.0, 1.0);
  if (!is_due()) return;
  const double cases = static_cast<double>(fractions_.size());
  const double mean = std::accumulate(fractions_.begin(), fractions_.end(), 0.0) / cases;
  const std::string what =
      fractions_.size() == 1
          ? fmt::format("{:.2f} ms into the weld", 1e3 * simulated_time)
          : fmt::format("{} of {} cases done",
                        std::count(fractions_.begin(), fractions_.end(), 1.0), fractions_.size());
  draw(bar(mean, 40, fmt::format("{:3.0f} %  {}", 100 * mean, what)));
}

}  // namespace tabmelt::command
