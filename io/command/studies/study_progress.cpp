#include "io/command/studies/study_progress.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace tabmelt::command {
namespace {

// "12 s", "3 min", "1 h 20 min"
std::string time_left_words(double seconds) {
  if (seconds < 90) return fmt::format("{:.0f} s", std::ceil(seconds));
  const auto minutes = static_cast<long>(std::lround(seconds / 60));
  if (minutes < 60) return fmt::format("{} min", minutes);
  return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

}  // namespace

void StudyProgress::stage(const std::string& what, std::size_t runs) {
  const std::lock_guard lock(mutex_);
  what_ = what;
  expected_ = runs;
  done_before_ = done_;
}

void StudyProgress::done(std::size_t runs, std::size_t computed) {
  const std::lock_guard lock(mutex_);
  done_ = runs;
  if (!is_due()) return;
  const std::size_t here = done_ - done_before_;
  if (expected_ == 0) return draw(fmt::format("{}: {} runs", what_, here));
  const std::size_t all = std::max(expected_, here);
  std::string words = fmt::format("{}: {} of {} runs", what_, here, all);
  // Runs that were there already took no time and say nothing about those to come.
  if (computed > 0) {
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begun_;
    const double each = passed.count() / static_cast<double>(computed);
    words += ", " + time_left_words(each * static_cast<double>(all - here)) + " left";
  }
  draw(bar(static_cast<double>(here) / static_cast<double>(all), 30, words));
}

}  // namespace tabmelt::command
