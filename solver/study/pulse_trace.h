// What an oscilloscope would show of a run, at any moment: the loop marched again through the load
// that the run had in each of its steps.
//
//   current i     at the tips R_load i     at the source  v - R_source i
//
//   R_load  resistance of all spots [ohm], constant within a step     v  source voltage behind its
//   internal resistance R_source [V]
//
// Within a step the loop is solved exactly (circuit/loop.h), so a curve follows its rise however
// long the steps of the fields were. The switch opens at once; how the current falls then is not
// described.
#pragma once

#include <vector>

#include "solver/circuit/loop.h"
#include "solver/inference/trace_fit.h"
#include "solver/result/result.h"

namespace tabmelt {

// One for each step.
struct LoadHistory {
  std::vector<double> end;         // [s]
  std::vector<double> resistance;  // [ohm]; negative: the loop was open

  // As one list and back, end and resistance in turn. Throws std::invalid_argument for an odd list.
  std::vector<double> flat() const;
  static LoadHistory of_flat(const std::vector<double>&);
};

LoadHistory load_history(const Result&);
// Tips bridged by something of constant resistance [ohm].
LoadHistory bridged(const circuit::Circuit&, double resistance, double end);

class PulseTrace : public inference::Curve {
 public:
  // Throws std::invalid_argument as Loop does.
  PulseTrace(const circuit::Circuit&, LoadHistory);
  std::vector<double> means(inference::Channel,
                            const std::vector<inference::Sample>&) const override;
  std::vector<inference::Interval> blind() const override;

 private:
  double mean(inference::Channel, const inference::Sample&, std::size_t& step) const;
  double at(inference::Channel, double time, std::size_t step) const;
  double value(inference::Channel, const circuit::LoopState&, std::size_t step) const;
  std::size_t step_at(double time, std::size_t from) const;

  circuit::Loop loop_;
  LoadHistory load_;
  std::vector<circuit::LoopState> starts_;  // of each step
  circuit::LoopState end_;
};

}  // namespace tabmelt
