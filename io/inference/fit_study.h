// From records to the unknowns of a case: each record belongs to a case, or to the same welder with
// its tips on a thick bar of copper.
//
// A weld's trace is a run of the whole case until the record ends, kept in the study's folder like
// any other; the bare loop costs nothing.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "io/inference/measured_trace.h"
#include "io/study/study.h"

namespace tabmelt {

// At most, in runs that are fitted: with longer steps a computed weld jumps more from one value of
// an unknown to the next. [1]
inline constexpr double fitted_step_tolerance = 2e-4;

// One unknown: a number of the cases with a place to start from.
struct FitUnknown {
  Knob knob;
  double start = 0;   // [SI]
  bool given = true;  // the case has a value; otherwise the start was worked out
};

struct FitRecord {
  MeasuredTrace trace;
  Study* study = nullptr;
  bool bare = false;          // tips on a bar
  double bar_resistance = 0;  // [ohm] of the bar with both its contacts
  inference::Record record;
};

class FitStudy {
 public:
  // Records know trace, study and what they are of. Throws InputError: keys that no case uses or
  // that are no numbers to be fitted, records without a pulse.
  FitStudy(std::vector<FitRecord> records, const std::vector<std::string>& keys);

  // `scale_error`: standard deviation of the current's scale in all records [1].
  inference::TraceFit fit(double scale_error = 0);
  // What fit() minimises over which values: the curves of all records at each point.
  inference::Curves model();
  std::vector<inference::Unknown> bounds() const;
  const std::vector<FitUnknown>& unknowns() const { return unknowns_; }
  const std::vector<FitRecord>& records() const { return records_; }
  // Whether a run was stopped from outside.
  bool stopped() const;

 private:
  using CurvePtr = std::shared_ptr<const inference::Curve>;
  std::vector<std::vector<CurvePtr>> curves(const std::vector<study::Point>&);
  std::vector<CurvePtr> weld_curves(const FitRecord&, const std::vector<study::Point>&);
  CurvePtr bare_curve(const FitRecord&, const study::Point&) const;
  std::vector<Knob> knobs_in(const FitRecord&) const;
  study::Point values_in(const FitRecord&, const study::Point&) const;
  double end_of_run(const FitRecord&) const;

  std::vector<FitRecord> records_;
  std::vector<FitUnknown> unknowns_;
};

// Where an unknown may start: its value in the case; for leads.resistance and leads.inductance what
// length and cross-section make of them. Throws InputError.
FitUnknown fit_unknown(const std::vector<const Case*>&, const std::string& key);

}  // namespace tabmelt
