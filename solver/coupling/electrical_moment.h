// Electrical values of the steps, moved to the times of their records.
//
// Contacts and current field of a step from t - dt to t are those of its middle. With the middles
// t_1 < t_2 of two steps that follow each other, values there a_1 and a_2,
//
//   a(t) = a_1 + (t - t_1)/(t_2 - t_1) (a_2 - a_1),     0 <= a(t) <= 2 max(a_1, a_2)
//
// of second order: between the middles for a step that another follows, beyond t_2 for the last
// one before the current is switched. The step alone keeps its own value.
#pragma once

#include <optional>
#include <vector>

#include "solver/result/result.h"

namespace tabmelt {

class ElectricalMoments {
 public:
  // `now` is the record of a step through which current flowed, with the values of its middle; it
  // is moved to its own time, and with it `before`, the record of the step just before, if the
  // current flowed through both without a jump.
  void add(StepRecord* before, StepRecord& now);
  // Current or contacts have jumped: what follows has nothing to do with what was.
  void forget() { last_.reset(); }

 private:
  struct Middle {
    double time = 0;  // [s]
    double load_resistance = 0, base_share = 0;
    std::vector<SpotRecord> spots;
  };
  static Middle middle_of(const StepRecord&);
  static void move(StepRecord&, const Middle& a, const Middle& b);

  std::optional<Middle> last_;
};

}  // namespace tabmelt
