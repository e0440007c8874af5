// Graded edges along one axis. The wanted cell size at x is
//
//   s(x) = min over features of ( size + growth * |x - position| ),   at most `largest`,
//          and at most the bound of `largest_between` the two fixed edges about x
//
// and edges are placed so that each interval between fixed edges holds a whole number of cells of
// equal share of the integral of dx / s(x). The result is a smooth map of a uniform index, so a
// finer `resolution` divides the same map more often and keeps the order of the scheme.
#pragma once

#include <vector>

namespace tabmelt::mesh {

struct Feature {
  double position = 0;  // [m]
  double size = 0;      // [m] cell size wanted there
};

struct Spacing {
  std::vector<double> fixed;  // [m] edges that must exist, increasing; first and last bound it
  std::vector<Feature> features;
  double growth = 0.2;                       // [1] change of cell size per length
  double largest = 1;                        // [m]
  std::vector<double> largest_between = {};  // [m] one for each two fixed edges; empty: no bound
  double resolution = 1;                     // [1] 2 halves every cell
};

// Throws std::invalid_argument without at least two increasing fixed edges and one feature, and for
// a wrong number of bounds.
std::vector<double> graded_edges(const Spacing&);

}  // namespace tabmelt::mesh
