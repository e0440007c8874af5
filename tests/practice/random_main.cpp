// Runs random cases and counts the steps whose contacts did not settle, what failed, the worst
// error of the energy balance, and the time.
//
//   practice_random [COUNT] [RESOLUTION]     one line per case, then the sums
#include <fmt/format.h>

#include <cstdlib>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "tests/practice/random_cases.h"

int main(int argc, char** argv) {
  using namespace tabmelt;
  const int count = argc > 1 ? std::atoi(argv[1]) : 100;
  const double resolution = argc > 2 ? std::atof(argv[2]) : 0.4;
  std::size_t steps = 0, unsettled = 0, cases_unsettled = 0, failed = 0;
  double worst = 0, seconds = 0;
  int number = 0;
  for (const std::string& text : practice::random_cases(count, resolution)) {
    const Result r = solve(read_case_text(text, TABMELT_SOURCE_DIR "/cases/random.toml").problem);
    const auto open = static_cast<std::size_t>(r.unsettled_steps);
    fmt::print("{:4} {:5} steps {:4} rejected {:4} unsettled {:7.3f} s {:5.0f} K {}\n", number++,
               r.history.size(), r.rejected_steps, open, r.cpu_seconds,
               r.peak_temperature_any.value, r.ending == Ending::finished ? "" : r.ending_reason);
    std::fflush(stdout);
    steps += r.history.size();
    unsettled += open;
    cases_unsettled += 100 * open > r.history.size() ? 1 : 0;
    failed += r.ending == Ending::finished ? 0 : 1;
    worst = std::max(worst, r.worst_energy_residual);
    seconds += r.cpu_seconds;
  }
  fmt::print(
      "{} cases, {} with more than 1 % of their steps unsettled; {} of {} steps unsettled; {} "
      "failed; worst energy residual {:.1e}; {:.1f} s\n",
      count, cases_unsettled, unsettled, steps, failed, worst, seconds);
}
