#include "io/command/progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <string_view>

#include "io/command/say.h"

namespace tabmelt::command {
namespace {

constexpr int bar_width = 40;
constexpr std::chrono::milliseconds redraw_interval{100};

bool on_a_terminal() {
  const char* kind = std::getenv("TERM");
  return isatty(STDERR_FILENO) != 0 && kind != nullptr && std::string_view(kind) != "dumb";
}

}  // namespace

ProgressBar::ProgressBar(std::size_t cases, bool quiet)
    : shown_(!quiet && on_a_terminal()), fractions_(cases, 0.0) {}

ProgressBar::~ProgressBar() { erase(); }

void ProgressBar::report(std::size_t index, double fraction, double simulated_time) {
  if (!shown_) return;
  const std::lock_guard lock(mutex_);
  fractions_.at(index) = std::clamp(fraction, 0.0, 1.0);
  const auto now = std::chrono::steady_clock::now();
  if (now - last_drawn_ < redraw_interval) return;
  last_drawn_ = now;
  draw(simulated_time);
}

void ProgressBar::print(std::FILE* stream, const std::string& text) {
  const std::lock_guard lock(mutex_);
  erase();
  say(stream, text);
}

void ProgressBar::erase() {
  if (!drawn_) return;
  std::fputs("\r\x1b[K", stderr);
  drawn_ = false;
}

void ProgressBar::draw(double simulated_time) {
  const double cases = static_cast<double>(fractions_.size());
  const double mean = std::accumulate(fractions_.begin(), fractions_.end(), 0.0) / cases;
  const auto filled = static_cast<std::size_t>(mean * bar_width);
  const std::string bar(filled, '#');
  const std::string what =
      fractions_.size() == 1
          ? fmt::format("{:.2f} ms into the weld", 1e3 * simulated_time)
          : fmt::format("{} of {} cases done",
                        std::count(fractions_.begin(), fractions_.end(), 1.0), fractions_.size());
  fmt::print(stderr, "\r[{:.<{}}] {:3.0f} %  {}\x1b[K", bar, bar_width, 100 * mean, what);
  std::fflush(stderr);
  drawn_ = true;
}

}  // namespace tabmelt::command
