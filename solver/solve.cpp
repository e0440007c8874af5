#include "solver/solve.h"

#include <ctime>
#include <stdexcept>

#include "solver/march.h"

namespace tabmelt {
namespace {

// Of this thread alone: several cases may run side by side.
double cpu_now() {
  std::timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

}  // namespace

Result solve(const Problem& problem, Observer* observer) {
  const std::vector<std::string> wrong = complaints(problem);
  if (!wrong.empty()) {
    std::string all;
    for (const std::string& w : wrong) all += (all.empty() ? "" : "\n") + w;
    throw std::invalid_argument(all);
  }
  const double started = cpu_now();
  Result result = March(problem, observer).run();
  result.cpu_seconds = cpu_now() - started;
  return result;
}

}  // namespace tabmelt
