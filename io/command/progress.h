// A progress bar on the last line of a terminal (standard error); nothing at all in a pipe.
#pragma once

#include <chrono>
#include <cstdio>
#include <mutex>
#include <string>
#include <vector>

#include "solver/result/observer.h"

namespace tabmelt::command {

// One bar for all cases of a call; may be told of progress from several threads.
class ProgressBar {
 public:
  // quiet: never drawn, whatever standard error is.
  ProgressBar(std::size_t cases, bool quiet);
  ~ProgressBar();
  ProgressBar(const ProgressBar&) = delete;
  ProgressBar& operator=(const ProgressBar&) = delete;

  // fraction in 0..1; simulated_time [s].
  void report(std::size_t index, double fraction, double simulated_time);
  // Writes text above the bar.
  void print(std::FILE* stream, const std::string& text);

 private:
  void erase();
  void draw(double simulated_time);

  const bool shown_;
  bool drawn_ = false;
  std::vector<double> fractions_;
  std::chrono::steady_clock::time_point last_drawn_;
  std::mutex mutex_;
};

// Passes the progress of one case on to the bar.
class CaseProgress : public Observer {
 public:
  CaseProgress(ProgressBar& bar, std::size_t index) : bar_(bar), index_(index) {}
  bool step_done(const StepRecord& record, double progress) override {
    bar_.report(index_, progress, record.time);
    return true;
  }

 private:
  ProgressBar& bar_;
  std::size_t index_;
};

}  // namespace tabmelt::command
