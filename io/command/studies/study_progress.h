// How far a study is and how long it will take, on the last line of a terminal; nothing in a pipe.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdio>
#include <mutex>
#include <string>

namespace tabmelt::command {

class StudyProgress {
 public:
  explicit StudyProgress(bool quiet);
  ~StudyProgress();
  StudyProgress(const StudyProgress&) = delete;
  StudyProgress& operator=(const StudyProgress&) = delete;

  // What is being done, and how many runs it will take in all; 0: nobody knows.
  void stage(const std::string& what, std::size_t runs);
  // So many are done, so many of them had to be computed; from any thread.
  void done(std::size_t runs, std::size_t computed);
  // Prints above the line.
  void print(std::FILE* stream, const std::string& text);

 private:
  void erase();
  void draw();

  const bool shown_;
  bool drawn_ = false;
  std::string what_;
  std::size_t expected_ = 0, done_ = 0, computed_ = 0, done_before_ = 0;
  std::chrono::steady_clock::time_point begun_, last_drawn_;
  std::mutex mutex_;
};

// "12 s", "3 min", "1 h 20 min"
std::string time_left_words(double seconds);

// Expected seconds for the runs still to come, from those computed so far; negative: not known yet.
double time_left(double seconds_so_far, std::size_t computed, std::size_t to_come);

}  // namespace tabmelt::command
