// Streams a run into a folder.
//
// A finished run leaves, all renamed into place at the very end:
//
//   result.vtkhdf   fields, series, numbers and texts (layout: io/result/field_file.h)
//   result.xdmf     for readers that do not play VTKHDF steps (io/result/xdmf.h)
//   history.csv     one row per time step (io/result/history_table.h)
//   summary.json    the outcome for scripts (io/result/summary.h)
//   report.md       the outcome for people (io/result/report.h)
//   report.html     the same as a page; pictures can be put in (io/result/html_report.h)
//
// Until then, and for good if the run was stopped, failed or was killed, the same files carry
// `.part` before their suffix: result.part.vtkhdf holds every frame so far and can be read. A run
// that was stopped or failed still gets series, numbers, texts and views there, with `complete` 0,
// and history.part.csv, summary.part.json, report.part.md, report.part.html and result.part.xdmf
// beside it.
//
// Finished results are never overwritten; part files of an earlier run are, unless that run is
// still writing. Runs may be written from several threads at once, one writer each.
#pragma once

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

class ResultWriter : public Observer {
 public:
  // Creates the folder if it is missing. Throws OutputError, naming the path and the reason, if it
  // cannot be written, already holds results, or another run is writing into it.
  ResultWriter(const std::filesystem::path& folder, const Case& asked);
  ~ResultWriter() override;
  ResultWriter(const ResultWriter&) = delete;
  ResultWriter& operator=(const ResultWriter&) = delete;

  void begins(const Result&) override;
  // False once anything could not be written: the run should stop.
  bool step_done(const StepRecord&, double progress) override;
  void frame_taken(const Frame&) override;

  // Completes the files as described above. Returns the path of the field file. Throws OutputError,
  // naming the path and the reason, if anything could not be written now or during the run; no
  // file then has its final name.
  std::filesystem::path finish(const Result&, const Verdict&);
  std::filesystem::path part_file() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tabmelt
