// The linear solver once more without panels, registers and passes that run into one another: the
// same cycle (finite_volume/line_cycle.h), step after step over whole grids, in plain loops that a
// compiler may turn into vector code as it can. What the simpler code would cost in time, and a
// judge of the fast one.
#pragma once

#include <span>
#include <vector>

#include "solver/finite_volume/line_multigrid.h"

namespace tabmelt::bench {

class PlainMultigrid {
 public:
  void set_operator(const FaceConductances&, const Field& diagonal);
  void set_rows(const FaceConductances& faces, const Field& diagonal, std::span<const RowRange>) {
    set_operator(faces, diagonal);
  }
  void set_diagonal(const FaceConductances& faces, const Field& diagonal) {
    set_operator(faces, diagonal);
  }
  LinearOutcome solve_from_zero(const Field& b, const Field& scale, double tolerance, int limit,
                                Field& x);
  LinearOutcome solve(const Field& b, double relative, int limit, Field& x);

 private:
  using Numbers = std::vector<float>;
  // Columns of one colour: number q of a row is column 2 q or 2 q + 1.
  struct Colour {
    Numbers axial, extra, pivot, factor, b, x;
  };
  struct Level {
    std::size_t pairs = 0, rows = 0, columns = 0;
    Colour even, odd;
    Numbers inside, outside;  // within a pair, and to the next one
    Numbers other;            // the even column's weight of the pair before
    void resize(std::size_t columns, std::size_t rows);
  };

  void set_up();
  static void factor(Level&);
  static void factor_colour(const Level&, Colour&, bool even);
  static void coarsen(Level& fine, Level& coarse);
  void cycle(std::size_t level);
  static void solve_lines(const Level&, Colour&);
  static void solve_even(Level&, bool alone);
  static void solve_odd(Level&);
  // z_ = cycle applied to r_.
  void precondition();
  template <typename Measure>
  LinearOutcome conjugate_gradients(int limit, double least, Measure measure, Field& x);

  FaceConductances faces_;
  Field diagonal_, kept_radial_, kept_axial_, kept_extra_;
  std::vector<Level> levels_;
  std::size_t used_ = 0;
  Field r_, z_, p_, q_;
};

}  // namespace tabmelt::bench
