// From test welds to what is believed of the unknowns of a case, what that makes of any setting,
// and which weld to try next.
//
// The spreads of the case are what was believed before (io/case/spreads.h). Every draw of the
// unknowns is run at the setting of every test weld and weighted by how well it explains the notes
// (solver/inference). A number that is both set and uncertain spreads around its setting, by the
// same share in every weld: a gauge that reads wrong always reads wrong.
#pragma once

#include <string>
#include <vector>

#include "io/inference/weld_table.h"
#include "io/study/spread_runs.h"
#include "solver/inference/posterior.h"

namespace tabmelt {

struct LearnAsked {
  std::vector<std::string> unknowns;  // empty: all that spread
  inference::Drawing drawing = {};
  inference::NoteModel model = {};
  std::vector<study::Point> settings;            // chances wanted besides those of the test welds
  std::vector<std::pair<double, double>> tries;  // range of each knob for the next weld
  std::size_t candidates = 16;
};

// The chance of a good weld at a setting.
struct BeforeAndAfter {
  study::Point setting;
  study::Chance before, after;
};

struct NextWeld {
  study::Point setting;
  double information = 0;                      // [bit]
  std::array<double, inference::notes> yes{};  // chance of each note
};

struct Learning {
  inference::Posterior posterior;
  bool complete = false;
  std::size_t failed = 0;               // runs that could not be computed
  std::vector<BeforeAndAfter> chances;  // test welds' settings, then those asked for
  std::vector<NextWeld> next;           // most telling first
  // Of each test weld: chance of its notes if the others had not been seen to be wrong, i.e. their
  // mean over the posterior; and that of the least likely single note.
  std::vector<double> explained;
  double surprise = 1;  // [1] chance that notes as unlikely as these come out of the model
};

class LearnStudy {
 public:
  // Throws InputError: nothing uncertain, unknowns that are not.
  LearnStudy(Study&, WeldTable, LearnAsked);

  Learning learn();
  const std::vector<UncertainKey>& inputs() const { return inputs_; }
  const WeldTable& table() const { return table_; }
  const std::vector<Knob>& knobs() const { return table_.knobs; }
  std::size_t runs_of_a_round() const { return settings_.size() * asked_.drawing.draws; }

 private:
  using Points = std::vector<std::vector<double>>;
  using Runs = std::vector<std::vector<study::Judged>>;  // [setting][point]
  std::vector<double> log_likelihood(const Points&);
  inference::Foretold foretold(const study::Judged&) const;
  void judge_notes(Learning&) const;
  void add_chances(Learning&);
  void add_next(Learning&);
  std::vector<study::Point> candidates() const;

  Study& study_;
  WeldTable table_;
  LearnAsked asked_;
  std::vector<UncertainKey> inputs_;
  SpreadRuns runs_;                      // over the knobs of the table
  std::vector<study::Point> settings_;   // those of the table that differ
  std::vector<std::size_t> setting_of_;  // of each test weld
  Runs known_;                           // [setting][draw], of all draws so far
};

}  // namespace tabmelt
