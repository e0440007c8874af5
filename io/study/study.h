// A case computed many times with some of its numbers changed, on all cores and in all processes.
//
// Every finished run is kept at once in the study's folder (run_store.h) and never computed again:
// a study that was killed goes on where it stopped, and each kind of study uses the runs of the
// others. What is computed does not depend on threads, processes or on what was there before.
#pragma once

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "io/study/knob.h"
#include "io/study/processes.h"
#include "io/study/run_store.h"
#include "solver/result/observer.h"
#include "solver/search/judged.h"

namespace tabmelt {

// The case as it was asked for: its text, and what is laid over it in every run.
struct StudiedCase {
  std::string name;
  std::filesystem::path file;
  std::string text;
  std::vector<Override> settings;
};

struct StudyCounts {
  std::size_t computed = 0, reused = 0, failed = 0;  // failed: of both
};

class Study {
 public:
  using Stop = std::function<bool()>;                     // asked often; true ends the study
  using Heard = std::function<void(const StudyCounts&)>;  // after each run, from any thread
  // What becomes of a problem; may be stopped by the observer, which gives State::not_run.
  using Compute = std::function<study::Judged(const Problem&, Observer*)>;

  // Throws InputError about the case, OutputError if the folder cannot be written or holds a study
  // of another case. `version` of the program, a part of each run's hash.
  Study(const StudiedCase&, const std::filesystem::path& folder, const std::string& version,
        Processes&);

  void stop_when(Stop stop) { stop_ = std::move(stop); }
  void tell(Heard heard) { heard_ = std::move(heard); }
  // Something else of each run than its verdict: kept apart from it under the name of its kind.
  void compute_with(const std::string& kind, Compute compute) {
    kind_ = kind;
    compute_ = std::move(compute);
  }

  const StudiedCase& asked() const { return asked_; }
  const Case& base() const { return base_; }
  const std::filesystem::path& folder() const { return folder_; }
  const StudyCounts& counts() const { return counts_; }
  bool stopped() const { return stopped_; }
  // Whether this process is the one that writes and speaks.
  bool speaks() const { return processes_.first(); }

  // The case with the knobs at these values. Throws InputError.
  Case at(const std::vector<Knob>&, const study::Point&) const;
  // Runs at points, one number [SI] for each knob. It refers to this study. A run whose case is not
  // possible counts as failed. Throws OutputError if a run could not be kept.
  study::Evaluate over(const std::vector<Knob>&);

 private:
  std::vector<study::Judged> run(const std::vector<Knob>&, const std::vector<study::Point>&);
  std::vector<study::Judged> run_different(const std::vector<Knob>&,
                                           const std::vector<study::Point>&);
  study::Judged one(const std::vector<Knob>&, const study::Point&, std::string& hash);
  std::vector<study::Judged> shared(std::vector<study::Judged> runs,
                                    const std::vector<std::string>& hashes,
                                    const StudyCounts& before, const std::string& trouble);
  void refuse_another_case();

  const StudiedCase asked_;
  std::string text_;  // of the case, with its layers written out
  std::filesystem::path folder_;
  std::string version_;
  Processes& processes_;
  Case base_;
  RunStore store_;
  std::string kind_;  // empty: verdicts
  Compute compute_;
  Stop stop_;
  Heard heard_;
  std::mutex counting_;
  StudyCounts counts_;
  bool stopped_ = false;
};

}  // namespace tabmelt
