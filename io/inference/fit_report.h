// What a fit found, in words, as a table of its residuals, and as a file that a case takes.
#pragma once

#include <string>

#include "io/inference/fit_study.h"
#include "io/report/document.h"

namespace tabmelt {

struct FitAnswer {
  std::string title;
  const FitStudy* study = nullptr;
  inference::TraceFit fit;
  double scale_error = 0;  // [1] asked for: of the current's calibration
};

std::string fit_sentence(const FitAnswer&);
report::Document fit_report(const FitAnswer&);
// One line for each sample: record, channel, time, recorded, fitted, residual over the noise.
std::string fit_csv(const FitAnswer&);
// "8.12 mohm", "0.11 mohm"
std::string fitted_value(const FitAnswer&, std::size_t unknown);
std::string fitted_error(const FitAnswer&, std::size_t unknown);
// Whether the records say too little about it, or it ended at a bound.
bool is_doubtful(const FitAnswer&, std::size_t unknown);
// "cannot tell A from B", and what else a reader must know; the worst first.
std::vector<std::string> fit_remarks(const FitAnswer&);

// Values with their spreads, but for those that could not be told.
Learnt fit_as_learnt(const FitAnswer&);

}  // namespace tabmelt
