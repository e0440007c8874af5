// How far the work is, on the last line of a terminal (standard error); nothing at all in a pipe.
#pragma once

#include <chrono>
#include <cstdio>
#include <mutex>
#include <string>
#include <vector>

#include "io/command/stop_signal.h"

namespace tabmelt::command {

// The line, whatever it says; may be told of progress and printed above from several threads.
class ProgressLine {
 public:
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  // Writes text above the line.
  void print(std::FILE* stream, const std::string& text);

 protected:
  // quiet: never drawn, whatever standard error is.
  explicit ProgressLine(bool quiet);
  ~ProgressLine();

  // "[####......] words"; share in 0..1.
  static std::string bar(double share, int width, const std::string& words);
  // Whether there is a line to be seen and it was last drawn long enough ago. With mutex_ held, as
  // draw().
  bool is_due() const;
  void draw(const std::string& line);

  std::mutex mutex_;

 private:
  void erase();

  const bool shown_;
  bool drawn_ = false;
  std::chrono::steady_clock::time_point last_drawn_;
};

// One bar for all cases of a call.
class ProgressBar : public ProgressLine {
 public:
  ProgressBar(std::size_t cases, bool quiet);

  // fraction in 0..1; simulated_time [s].
  void report(std::size_t index, double fraction, double simulated_time);

 private:
  std::vector<double> fractions_;
};

// Passes the progress of one case on to the bar, and stops it when asked.
class CaseProgress : public StopWhenAsked {
 public:
  CaseProgress(ProgressBar& bar, std::size_t index) : bar_(bar), index_(index) {}
  bool step_done(const StepRecord& record, double progress) override {
    bar_.report(index_, progress, record.time);
    return StopWhenAsked::step_done(record, progress);
  }

 private:
  ProgressBar& bar_;
  std::size_t index_;
};

}  // namespace tabmelt::command
