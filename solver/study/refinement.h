// What the grid and the time steps of a run add to its figures: the same problem on finer ones.
//
//   f(h) = F + c h^p                                        F the value without that error
//   (f1 - f2) / (f2 - f3) = (h1^p - h2^p) / (h2^p - h3^p)   the observed order p from three grids
//   F = f3 - (f2 - f3) h3^p / (h2^p - h3^p)                 Richardson's extrapolation
//   error = f1 - F,  band = S max(|error|, largest f - smallest f)
//
// h1 > h2 > h3 are the mean cell sizes, f1 belongs to the case's own settings. p is limited to
// [1, 2]: the scheme is of second order in smooth fields, of first at a melting front or a
// switching event. The safety factor S is 1.25 where p was observed inside these limits and 3 where
// it was not (P. J. Roache, J. Fluids Eng. 116 (1994) 405, grid convergence index; factors from
// memory).
#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt {

enum class Convergence {
  settled,      // the three values agree to round-off
  orderly,      // observed order within [1, 2]
  faster,       // above 2: the first step changed much more than the second
  slower,       // below 1: the changes shrink too slowly, or grow
  oscillating,  // up and down
};

struct Extrapolation {
  Convergence convergence = Convergence::settled;
  double order = 2;  // [1] used, in [1, 2]
  double value = 0;  // F, unit of f
  double error = 0;  // f1 - F
  double band = 0;   // |f1 - F| is believed to be within it
};

// Sizes and values from coarse to fine. Throws std::invalid_argument unless the sizes are positive
// and fall, and the values are finite.
Extrapolation extrapolated(const std::array<double, 3>& sizes, const std::array<double, 3>& values);

// Refinement of the second and third run relative to the first [1].
inline constexpr std::array<double, 3> refinement_factors{1.0, 1.5, 2.25};

// The problem on a grid finer by a factor: first and longest step divided by it, the tolerances of
// the steps and of the iterations inside a step by its square. The local error of a step grows with
// the third power of its length, so steps shorten by factor^(2/3) and their sum of errors falls by
// factor^(4/3), between the two limits of p.
Problem refined(const Problem&, double factor);

// Mean size of the cells relative to that of a single one [1]: cells^(-1/2) in two dimensions.
double relative_cell_size(const Result&);

// One number a weld is judged by.
struct Figure {
  std::string name;
  std::string unit;   // "K", "m", "A"
  double value = 0;   // SI
  double origin = 0;  // SI; relative errors refer to value - origin: ambient for temperatures
};

// Nugget diameter, peaks of the joint, the strip's upper face and the inner wall, of the deepest
// layer with a limit if there is one, and the current; the same names in the same order for every
// grid of a problem.
std::vector<Figure> judged_figures(const Problem&, const Result&);

}  // namespace tabmelt
