#include "solver/solve.h"

#include <ctime>
#include <stdexcept>
#include <utility>

#include "solver/cost.h"
#include "solver/march.h"

namespace tabmelt {
namespace {

// Of this thread alone: several cases may run side by side.
double cpu_now() {
  std::timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

void refuse_what_makes_no_sense(const Problem& problem) {
  std::vector<std::string> wrong = complaints(problem);
  if (wrong.empty()) wrong = cost_complaints(problem);
  if (wrong.empty()) return;
  std::string all;
  for (const std::string& w : wrong) all += (all.empty() ? "" : "\n") + w;
  throw std::invalid_argument(all);
}

// The observer is asked between the parts of the preparation.
Result prepared_and_run(const Problem& problem, Observer* observer) {
  const auto asked_to_stop = [&] { return observer && !observer->prepared(); };
  Result nothing;
  nothing.ending = Ending::stopped_by_observer;
  nothing.ending_reason = "stopped from outside";
  if (asked_to_stop()) return nothing;
  WeldModel model = build_model(problem);
  if (asked_to_stop()) return nothing;
  March march(problem, std::move(model), observer);
  if (asked_to_stop()) return nothing;
  return march.run();
}

}  // namespace

Result solve(const Problem& problem, Observer* observer) {
  refuse_what_makes_no_sense(problem);
  const double started = cpu_now();
  Result result = prepared_and_run(problem, observer);
  result.cpu_seconds = cpu_now() - started;
  return result;
}

}  // namespace tabmelt
