// Streams a run into a folder.
//
// A finished run leaves, all renamed into place at the very end:
//
//   result.vtkhdf   fields, series, numbers and texts (layout: io/store/field_file.h)
//   result.xdmf     for readers that do not play VTKHDF steps (io/store/xdmf.h)
//   history.csv     one row per time step (io/store/history_table.h)
//   summary.json    the outcome for scripts (io/report/summary.h)
//   report.md       the outcome for people (io/report/report.h)
//   report.html     the same as a page; pictures can be put in (io/report/html_report.h)
//
// Until then nothing is there, or `.part` stands before the suffix: result.part.vtkhdf, always a
// whole file that opens like a result, appears when the run is stopped or fails, then with
// history.part.csv, summary.part.json, report.part.md, report.part.html and result.part.xdmf beside
// it; and after every half minute of a long run, then without series, numbers and views. A process
// that is killed leaves the last whole one or none. `complete` in it is 1 only if the run was, and
// the results could not get their final names.
//
// Frames are kept in memory, packed (about one sixth), up to 1 GB; a run that needs more is
// stopped. Writing a part file takes as much again.
//
// Finished results are never overwritten; part files of an earlier run are, unless that run is
// still writing. Runs may be written from several threads at once, one writer each.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <stdexcept>
#include <string>

#include "io/case/read_case.h"
#include "solver/result/observer.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {

class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// What was computed could not be written as it should.
class LostOutputError : public OutputError {
 public:
  using OutputError::OutputError;
};

struct Keeping {
  std::chrono::milliseconds between_parts{30000};  // at least, from one part file to the next
  std::uint64_t most_bytes = 1'000'000'000;        // of fields
  // False: no date in any file, so that two runs of one case leave the same bytes. The seconds a
  // run took are left out where Result::cpu_seconds is 0.
  bool dated = true;
};

class ResultWriter : public Observer {
 public:
  // Creates the folder if it is missing. Throws OutputError, naming the path and the reason, if it
  // cannot be written, already holds results, or another run is writing into it.
  ResultWriter(const std::filesystem::path& folder, const Case& asked, const Keeping& = {});
  ~ResultWriter() override;
  ResultWriter(const ResultWriter&) = delete;
  ResultWriter& operator=(const ResultWriter&) = delete;

  void begins(const Result&) override;
  // False once anything could not be written or the fields are too large: the run should stop.
  bool step_done(const StepRecord&, double progress) override;
  void frame_taken(const Frame&) override;

  // Completes the files as described above. Returns the path of the field file. Throws
  // LostOutputError, naming the path and the reason, if anything could not be written now or during
  // the run or if the fields became too large; no file then has its final name, and nothing that
  // was written is lost.
  std::filesystem::path finish(const Result&, const Verdict&);
  std::filesystem::path part_file() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tabmelt
