// Streams a run into <folder>/result.part.vtkhdf and renames it to result.vtkhdf when finished.
// See io/result/LAYOUT in this header's second half for the layout of the file.
#pragma once

#include <filesystem>
#include <memory>
#include <string>

#include "io/case/read_case.h"
#include "solver/result/observer.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {

// Throws OutputError (message names the path and the reason) if the folder cannot be written or
// already holds results. After any I/O failure during the run step_done() returns false and
// finish() throws OutputError.
class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

class ResultWriter : public Observer {
 public:
  ResultWriter(const std::filesystem::path& folder, const Case& asked);
  ~ResultWriter() override;
  ResultWriter(const ResultWriter&) = delete;
  ResultWriter& operator=(const ResultWriter&) = delete;

  void begins(const Result&) override;
  bool step_done(const StepRecord&, double progress) override;
  void frame_taken(const Frame&) override;

  // Writes series, scalars, texts and views, marks the file complete and renames it; then writes
  // result.xdmf, history.csv, summary.json and report.md. A run that was stopped keeps its part
  // file. Returns the path of the field file.
  std::filesystem::path finish(const Result&, const Verdict&);
  std::filesystem::path part_file() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tabmelt
