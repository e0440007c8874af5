// How far a study is and how long it will take.
#pragma once

#include <chrono>
#include <cstddef>
#include <string>

#include "io/command/progress.h"

namespace tabmelt::command {

class StudyProgress : public ProgressLine {
 public:
  explicit StudyProgress(bool quiet) : ProgressLine(quiet) {}

  // What is being done, and how many runs it will take in all; 0: nobody knows.
  void stage(const std::string& what, std::size_t runs);
  // So many are done, so many of them had to be computed; from any thread.
  void done(std::size_t runs, std::size_t computed);

 private:
  std::string what_;
  std::size_t expected_ = 0, done_ = 0, done_before_ = 0;
  const std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
};

}  // namespace tabmelt::command
