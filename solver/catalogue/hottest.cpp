#include <algorithm>
#include <functional>
#include <vector>

#include "solver/catalogue/catalogue.h"

namespace tabmelt {
namespace {

bool cooler(const Extreme& a, const Extreme& b) { return a.value < b.value; }

// The hottest of a sheet's cells, of its joints and, on the outside, of what lies bare.
template <typename T, typename Joint, typename Less>
T hottest_of(std::size_t n, std::size_t sheets, T hottest, const T& top, const T& wall,
             const std::vector<Joint>& joints, T Joint::*of_joint, Less less) {
  if (n == 0) hottest = std::max(hottest, top, less);
  if (n > 0 && n - 1 < joints.size()) hottest = std::max(hottest, joints[n - 1].*of_joint, less);
  if (n < joints.size()) hottest = std::max(hottest, joints[n].*of_joint, less);
  if (n + 1 == sheets) hottest = std::max(hottest, wall, less);
  return hottest;
}

}  // namespace

Extreme hottest_of_sheet(const Result& run, std::size_t n) {
  return hottest_of(n, run.sheets.size(), run.sheets[n].peak, run.peak_top, run.peak_inner_wall,
                    run.joints, &JointSummary::peak, cooler);
}

double hottest_of_sheet(const StepRecord& step, std::size_t n) {
  return hottest_of(n, step.sheets.size(), step.sheets[n].temperature, step.top_temperature,
                    step.inner_wall_temperature, step.joints, &JointRecord::temperature,
                    std::less<double>());
}

Extreme hottest_of_all(const Result& run) {
  Extreme hottest = std::max(run.peak_temperature_any, run.peak_tip, cooler);
  for (std::size_t n = 0; n < run.sheets.size(); ++n)
    hottest = std::max(hottest, hottest_of_sheet(run, n), cooler);
  return hottest;
}

double hottest_of_all(const StepRecord& step) {
  double hottest = std::max(step.peak_temperature, step.tip_temperature);
  for (std::size_t n = 0; n < step.sheets.size(); ++n)
    hottest = std::max(hottest, hottest_of_sheet(step, n));
  return hottest;
}

}  // namespace tabmelt
