// The inner loops of the linear solver over one panel of columns (panels.h): plain arrays in, plain
// arrays out.
//
// The cycle is a preconditioner: it works in single precision, with half the memory traffic and
// twice the numbers per register. Its set-up therefore never takes a difference of nearly equal
// numbers (see factor). The operator itself and the vectors of conjugate gradients are double.
//
// A panel holds `rows` rows of registers * lanes numbers per colour; what pads a row is zero in
// every conductance and every field. An even column meets the odd one of its own pair (conductance
// `inside`) and that of the pair before, an odd column the even one of its own pair and that of the
// pair behind (`outside`, stored with the odd column). What lies beside a panel is passed as
// columns of their own. Loads may reach one number over either end of a panel.
#pragma once

#include <cstddef>

namespace tabmelt::line_kernels {

constexpr std::size_t lanes = 8;
// Zeros before, between and behind the blocks of a field: a cache line.
constexpr std::size_t spare = 16;

// One column of another panel, row j at at[j * stride]. Without any: zero.
template <typename R>
inline constexpr R nothing = 0;
template <typename R>
struct Column {
  const R* at = &nothing<R>;
  std::size_t stride = 0;
  R operator[](std::size_t row) const { return at[row * stride]; }
};

// The other colour's column that the outermost columns of a panel meet: for even columns the odd
// one on the left and the conductance to it, for odd columns the even one on the right.
template <typename R>
struct Beside {
  Column<R> value;
  Column<R> outside;  // even columns only
};

// Factors of the columns of one colour, and the pairs' conductances.
struct Lines {
  const float *pivot, *factor;
  const float *inside, *outside;
};

// The operator of one colour in double precision.
struct Operator {
  const double *axial, *diagonal;
  const double *inside, *outside;
};

// What a panel needs to pass a residual on: conductances, odd values y, and the even columns'
// weights of the pair before (that of their own pair is one minus this).
struct Passing {
  const float *inside, *outside, *y, *other;
  Beside<float> left;
  Column<float> right_inside, right_y, right_other;
};

// Conductances of one level's pairs of columns, and the even columns' weights. extra holds all that
// ties a cell to nothing on this grid: boundary part plus D.
template <typename R>
struct Pairs {
  R *axial_even, *axial_odd, *extra_even, *extra_odd, *inside, *outside;
};

// Diagonal of A: ties to neighbours plus extra; 1 for a cell without either.
struct Diagonals {
  double *ties_even, *ties_odd, *even, *odd;
};

// One set for each kind of processor. `registers` counts those of the panel.
struct Kernels {
  // Solves all columns of a colour exactly: x = (tridiagonal)^-1 (b + flow from the other colour
  // y). Alone: as if the other colour were zero.
  template <typename Right>
  struct SolveLines {
    void (*even_alone)(std::size_t registers, std::size_t rows, const Lines&, const Right* b,
                       float* x);
    void (*even)(std::size_t registers, std::size_t rows, const Lines&, const Beside<float>&,
                 const Right* b, const float* y, float* x);
    void (*odd)(std::size_t registers, std::size_t rows, const Lines&, const Beside<float>&,
                const Right* b, const float* y, float* x);
  };
  SolveLines<float> solve_lines;
  SolveLines<double> solve_lines_of_double;  // b in double precision

  // Residual of the even columns, left by changing the odd ones from 0 to y, as right side of the
  // coarser grid's colours (rows of m).
  void (*restrict_residual)(std::size_t registers, std::size_t rows, std::size_t m, const Passing&,
                            float* coarse_even, float* coarse_odd);
  // x += (1 - other) e + other e[-1] with the coarse correction e; before: the odd coarse column to
  // the left.
  void (*add_correction)(std::size_t registers, std::size_t rows, std::size_t m,
                         const float* coarse_even, const float* coarse_odd,
                         const Column<float>& before, const float* other, float* x);

  // out = A x for one colour, y the other. Returns x . out.
  struct Multiply {
    double (*even)(std::size_t registers, std::size_t rows, const Operator&, const Beside<double>&,
                   const double* x, const double* y, double* out);
    double (*odd)(std::size_t registers, std::size_t rows, const Operator&, const Beside<double>&,
                  const double* x, const double* y, double* out);
  } multiply;

  // Factors of the columns of one colour. With a_j the conductance from row j to row j + 1 and e_j
  // all others of the cell, elimination from below leaves
  //
  //   s_j = e_j + a_(j-1) s_(j-1) / (a_(j-1) + s_(j-1)),   pivot_j = 1 / (a_j + s_j),
  //   factor_j = a_(j-1) pivot_(j-1)
  //
  // where s_j is what the cells up to j lose to anything but row j + 1: sums and products of
  // positive numbers only, so every factor is right to a few units of the last place. left: the
  // outside conductances to the left.
  void (*factor_even)(std::size_t registers, std::size_t rows, const Pairs<const float>&,
                      const Column<float>& left, float* pivot, float* factor);
  void (*factor_odd)(std::size_t registers, std::size_t rows, const Pairs<const float>&,
                     float* pivot, float* factor);

  // The coarser operator's rows (of m) from the fine pairs, and the fine even columns' weights.
  // Pairs join as resistors in parallel (z) and in series (r).
  struct BesidePairs {
    Column<float> left_inside, left_outside, right_inside;
  };
  void (*coarsen)(std::size_t registers, std::size_t rows, std::size_t m, const Pairs<const float>&,
                  const BesidePairs&, float* other, const Pairs<float>& coarse);

  // Largest of coupling / extra over all cells: how far lines alone are from the whole answer.
  float (*strongest_coupling)(std::size_t count, const float* inside, const float* outside,
                              const float* extra_even, const float* extra_odd);

  // Whole pairs of columns of one row, from the order of a Field to that of a panel; arguments
  // point at the first pair's even cell. left: the radial conductance before it; below: axial of
  // the row below, null in the first one. Returns the largest |now - kept| - share kept: not
  // positive if nothing has moved by more.
  struct NaturalRow {
    const double *radial, *axial, *boundary, *own, *below;
    double left;
  };
  float (*take_pairs)(std::size_t count, const NaturalRow&, const Pairs<double>&, const Diagonals&,
                      const Pairs<const float>& kept, float share);
  // The same where only the diagonal D (`own`) has changed.
  float (*take_diagonals)(std::size_t count, const double* boundary, const double* own,
                          const Pairs<double>&, const Diagonals&, const Pairs<const float>& kept,
                          float share);

  void (*round_to_single)(std::size_t count, const double* from, float* to);

  // x takes `last` times p (x = last p if fresh), then p = z + beta p.
  void (*next_direction)(std::size_t count, const float* z, double beta, double last, bool fresh,
                         double* x, double* p);
  double (*dot)(std::size_t count, const float* z, const double* r);
  // r -= alpha q. Returns r . r.
  double (*reduce)(std::size_t count, double alpha, const double* q, double* r);
  // Largest |r scale|, infinite if r is not a number anywhere; after r -= alpha q.
  double (*largest_scaled)(std::size_t count, const float* scale, const double* r);
  double (*reduce_scaled)(std::size_t count, double alpha, const double* q, const float* scale,
                          double* r);
};

// The set that suits this processor, and the one that any processor can run.
const Kernels& kernels();
const Kernels& plain_kernels();

}  // namespace tabmelt::line_kernels
