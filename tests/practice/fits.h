// Welders whose numbers are known, recorded with noise of known size, and fitted.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "io/inference/fit_study.h"
#include "tests/practice/draws.h"

namespace tabmelt::practice {

// What is recorded of which case, and what is to be found.
struct Bench {
  std::string name;
  std::string case_name;  // below cases/
  std::vector<std::string> unknowns;
  std::vector<inference::Channel> channels;
  bool bare = false;  // tips on a bar of 0.05 mohm
};

// "bar", "current", "three", "bank"
const std::vector<Bench>& benches();
// Throws std::invalid_argument.
const Bench& bench_of(const std::string& name);

// One welder: true values of the unknowns, its record, and the fit of the case as it is shipped.
class Welder {
 public:
  // Truths spread by a factor of 1.15 (one standard deviation, log-normal) around the case's.
  Welder(const Bench&, std::uint64_t seed, double resolution);
  ~Welder();
  const std::vector<double>& truth() const { return truth_; }
  FitStudy& fitting() { return *fitting_; }
  std::size_t runs() const;  // computed so far

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
  std::vector<double> truth_;
  std::unique_ptr<FitStudy> fitting_;
};

}  // namespace tabmelt::practice
