// How far the figures of cases can be trusted: what 20 slightly different step tolerances and a
// finer grid do to each.
//
//   practice_demos [--runs N] [--factor F] CASE.toml...
//
// One line per case and figure: value, scatter (largest less smallest over the N runs, tolerances
// within 20 % of the case's own) and difference to the run F times finer, both in per cent of the
// value; of the rise for temperatures.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "solver/study/refinement.h"

namespace {

using namespace tabmelt;

void study(const std::string& file, int runs, double factor) {
  const Problem problem = read_case(file).problem;
  const Result own = solve(problem);
  const std::vector<Figure> figures = judged_figures(problem, own);
  const std::vector<Figure> fine =
      factor > 1 ? judged_figures(problem, solve(refined(problem, factor))) : figures;
  std::vector<double> least, most;
  for (const Figure& f : figures) least.push_back(f.value);
  most = least;
  for (int n = 0; n < runs; ++n) {
    Problem p = problem;
    p.numerics.step_tolerance *= 0.8 + 0.4 * (n + 0.5) / runs;
    const std::vector<Figure> now = judged_figures(p, solve(p));
    for (std::size_t k = 0; k < now.size(); ++k) {
      least[k] = std::min(least[k], now[k].value);
      most[k] = std::max(most[k], now[k].value);
    }
  }
  for (std::size_t k = 0; k < figures.size(); ++k) {
    const double size = std::abs(figures[k].value - figures[k].origin);
    if (size <= 0) continue;
    fmt::print(
        "{:60} {:45} {:12.5g} {} scatter {:6.2f} %  to finer {:+7.2f} %  {:.2f} s {} cells\n", file,
        figures[k].name, figures[k].value, figures[k].unit, 100 * (most[k] - least[k]) / size,
        100 * (fine[k].value - figures[k].value) / size, own.cpu_seconds, own.grid.cells());
  }
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  int runs = 20;
  double factor = 2.25;
  for (int n = 1; n < argc; ++n) {
    const std::string word = argv[n];
    if (word == "--runs" && n + 1 < argc)
      runs = std::atoi(argv[++n]);
    else if (word == "--factor" && n + 1 < argc)
      factor = std::atof(argv[++n]);
    else
      study(word, runs, factor);
  }
}
