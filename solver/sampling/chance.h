// A chance from a count, with its confidence interval.
//
// Interval of Clopper and Pearson (Biometrika 26 (1934) 404), from the binomial distribution of
// Boost.Math: it holds its confidence for any chance and number of runs. Points of a low-
// discrepancy sequence scatter less than the independent ones it assumes, so it errs on the wide
// side.
#pragma once

#include <cstddef>

namespace tabmelt::study {

struct Chance {
  double value = 0;  // [1] count / trials
  double low = 0, high = 1;
  std::size_t count = 0, trials = 0;
};

inline constexpr double usual_confidence = 0.95;

// `undecided` trials could have come out either way: low takes them as not, high as counted, the
// value leaves them out. Throws std::invalid_argument if count + undecided > trials.
Chance chance_of(std::size_t count, std::size_t trials, std::size_t undecided = 0,
                 double confidence = usual_confidence);

}  // namespace tabmelt::study
