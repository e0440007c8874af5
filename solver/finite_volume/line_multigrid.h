// Solves (A + D) x = b for the five-point operator of diffusion.h with D >= 0 diagonal, by
// conjugate gradients with one multigrid cycle (line_cycle.h) as preconditioner. Tatebe, Proc. 6th
// Copper Mountain Conf. (1993) 621 (multigrid preconditioned CG).
//
// All in plain loops, panels and registers left out, the same takes a fifth of the code
// (tests/bench/plain/plain_multigrid.h) and a whole run 1.4 to 1.6 times as long: 5 700 and 22 800
// cells of the demo weld; 1.2 to 1.4 times with constant properties.
//
// An iteration goes over the finest grid four times: down and up the cycle, once for direction and
// product with A, once for the residual.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "solver/finite_volume/diffusion.h"
#include "solver/finite_volume/line_cycle.h"

namespace tabmelt {

struct LinearOutcome {
  int iterations = 0;
  bool converged = false;
};

class LineMultigrid {
 public:
  explicit LineMultigrid(const line_kernels::Kernels& kernels = line_kernels::kernels())
      : kernels_(kernels), cycle_(kernels) {}

  // Takes the operator's values; shapes may change between calls. Conductances of faces that do
  // not exist (last column outwards, last row upwards) are 0.
  void set_operator(const FaceConductances&, const Field& diagonal);
  // The same where nothing has changed since the last call but what concerns cells of these rows,
  // and where nothing has changed but the diagonal D.
  void set_rows(const FaceConductances&, const Field& diagonal, std::span<const RowRange>);
  void set_diagonal(const FaceConductances&, const Field& diagonal);

  // First guess 0. Stops when max over cells of |residual| * scale <= tolerance.
  LinearOutcome solve_from_zero(const Field& b, const Field& scale, double tolerance, int limit,
                                Field& x);
  // x holds the first guess. Stops when |residual|_2 <= relative * |b|_2.
  LinearOutcome solve(const Field& b, double relative, int limit, Field& x);

 private:
  struct PanelRow;
  enum class Guess { zero, given };

  // From x_ (nothing yet if the guess is zero) and its residual r_. reduce(alpha) takes alpha q_
  // off r_ and returns the measure that is to fall to the limit; `measure` is its present value.
  template <typename Reduce>
  LinearOutcome conjugate_gradients(Guess, double measure, double limit, int most, Field& x,
                                    Reduce reduce);
  // q_ = A p_, where p_ first becomes z_ + beta p_ and x_ takes `last` of the old p_, the first of
  // all if fresh. Returns p . q.
  double next_product(double beta, double last, bool fresh);
  // q_ = A x on one panel. Returns its part of x . q.
  double multiply_panel(std::size_t p, const AlignedVector<double>& x);

  void reshape(std::size_t columns, std::size_t rows);
  // Takes panel after panel; sets the cycle up anew if anything has moved too far.
  template <typename TakePanel>
  void follow(TakePanel);
  // One row of one panel. Each returns how much further anything has moved from what the cycle was
  // set up for than it may.
  float take(const FaceConductances&, const Field& diagonal, std::size_t p, std::size_t row);
  float take_diagonal(const FaceConductances&, const Field& diagonal, std::size_t p,
                      std::size_t row);
  float take_single(const FaceConductances&, const Field& diagonal, const PanelRow&);
  line_kernels::Diagonals diagonals(std::size_t at);

  const line_kernels::Kernels& kernels_;
  LineCycle cycle_;
  Panels panels_;
  PairFields<double> operator_;
  AlignedVector<double> ties_even_, ties_odd_;  // diagonal of A without extra
  AlignedVector<double> diagonal_even_, diagonal_odd_;
  AlignedVector<double> x_, r_, p_, q_;
  AlignedVector<float> z_, scale_;
};

}  // namespace tabmelt
