#include "solver/finite_volume/line_multigrid.h"

#include <algorithm>
#include <cmath>
#include <utility>

#ifdef __SSE2__
#include <xmmintrin.h>
#endif

namespace tabmelt {

using line_kernels::spare;

namespace {

// Factors and coarser grids are kept while no conductance and no diagonal term has moved by more
// than this share: each is a positive term of the energy x (A + D) x, so the kept preconditioner
// stays within the same share of the right one.
constexpr float largest_change = 0.25F;

// Far from the heat the cycle's numbers fall below what single precision holds in full; processors
// handle such remainders slowly, and zero does as well.
class SmallNumbersAsZero {
 public:
#ifdef __SSE2__
  SmallNumbersAsZero() : before_(_mm_getcsr()) { _mm_setcsr(before_ | flush_to_zero); }
  ~SmallNumbersAsZero() { _mm_setcsr(before_); }
  SmallNumbersAsZero(const SmallNumbersAsZero&) = delete;
  SmallNumbersAsZero& operator=(const SmallNumbersAsZero&) = delete;

 private:
  static constexpr unsigned flush_to_zero = 0x8040;  // results and operands
  unsigned before_;
#endif
};

}  // namespace

void LineMultigrid::reshape(std::size_t columns, std::size_t rows) {
  if (panels_.columns() == columns && panels_.rows() == rows) return;
  panels_ = Panels(columns, rows);
  operator_.resize(panels_);
  for (AlignedVector<double>* v : {&ties_even_, &ties_odd_}) v->assign(panels_.block(), 0);
  for (AlignedVector<double>* v : {&diagonal_even_, &diagonal_odd_}) v->assign(panels_.block(), 1);
  for (AlignedVector<double>* v : {&x_, &p_, &q_}) v->assign(panels_.field_size(), 0);
  z_.assign(panels_.field_size(), 0);
  cycle_.reshape(panels_);
}

void LineMultigrid::set_operator(const FaceConductances& faces, const Field& diagonal) {
  reshape(faces.nr, faces.nz);
  const RowRange all{0, faces.nz};
  set_rows(faces, diagonal, {&all, 1});
}

void LineMultigrid::set_rows(const FaceConductances& faces, const Field& diagonal,
                             std::span<const RowRange> rows) {
  follow([&](std::size_t p) {
    float moved = 0;
    for (const RowRange& range : rows)
      for (std::size_t j = range.first; j < range.first + range.count; ++j)
        moved = std::max(moved, take(faces, diagonal, p, j));
    return moved;
  });
}

void LineMultigrid::set_diagonal(const FaceConductances& faces, const Field& diagonal) {
  follow([&](std::size_t p) {
    float moved = 0;
    for (std::size_t j = 0; j < faces.nz; ++j)
      moved = std::max(moved, take_diagonal(faces, diagonal, p, j));
    return moved;
  });
}

template <typename TakePanel>
void LineMultigrid::follow(TakePanel take_panel) {
  float moved = 0;
  for (std::size_t p = 0; p < panels_.size(); ++p) moved = std::max(moved, take_panel(p));
  if (!cycle_.is_set_up() || moved > 0) cycle_.set_up(operator_);
}

struct LineMultigrid::PanelRow {
  PanelRow(const Panels& panels, std::size_t p, std::size_t row)
      : pairs(std::min(panels[p].width(), panels.columns() / 2 - panels[p].pair)),
        at(panels[p].at + row * panels[p].width()),
        cell(row * panels.columns() + 2 * panels[p].pair),
        single(panels.columns() % 2 == 1 && panels[p].pair + pairs == panels.columns() / 2 &&
               pairs < panels[p].width()) {}
  std::size_t pairs, at, cell;  // whole pairs; first number of the block; first cell
  bool single;                  // an even column without partner follows
};

line_kernels::Diagonals LineMultigrid::diagonals(std::size_t at) {
  return {ties_even_.data() + at, ties_odd_.data() + at, diagonal_even_.data() + at,
          diagonal_odd_.data() + at};
}

float LineMultigrid::take(const FaceConductances& faces, const Field& diagonal, std::size_t p,
                          std::size_t j) {
  const PanelRow row(panels_, p, j);
  const double* radial = faces.radial.data() + row.cell;
  const double* axial = faces.axial.data() + row.cell;
  const double* below = j > 0 ? axial - faces.nr : nullptr;
  const line_kernels::Pairs<double> to = operator_.from(row.at);
  const line_kernels::Pairs<const float> kept = cycle_.finest().from(row.at);
  float moved = kernels_.take_pairs(
      row.pairs,
      {radial, axial, faces.boundary.data() + row.cell, diagonal.data() + row.cell, below,
       panels_[p].pair > 0 ? radial[-1] : 0.0},
      to, diagonals(row.at), kept, largest_change);
  if (!row.single) return moved;
  const std::size_t k = row.pairs;
  to.axial_even[k] = axial[2 * k];
  ties_even_[row.at + k] =
      axial[2 * k] + (below ? below[2 * k] : 0.0) + (faces.nr > 1 ? radial[2 * k - 1] : 0.0);
  moved = std::max(moved, std::abs(static_cast<float>(to.axial_even[k]) - kept.axial_even[k]) -
                              largest_change * kept.axial_even[k]);
  return std::max(moved, take_single(faces, diagonal, row));
}

float LineMultigrid::take_diagonal(const FaceConductances& faces, const Field& diagonal,
                                   std::size_t p, std::size_t j) {
  const PanelRow row(panels_, p, j);
  const float moved = kernels_.take_diagonals(
      row.pairs, faces.boundary.data() + row.cell, diagonal.data() + row.cell,
      operator_.from(row.at), diagonals(row.at), cycle_.finest().from(row.at), largest_change);
  return row.single ? std::max(moved, take_single(faces, diagonal, row)) : moved;
}

float LineMultigrid::take_single(const FaceConductances& faces, const Field& diagonal,
                                 const PanelRow& row) {
  const auto cell = row.cell + 2 * row.pairs;
  const std::size_t at = row.at + row.pairs;
  const double extra = faces.boundary[cell] + diagonal[cell], whole = ties_even_[at] + extra;
  operator_.extra_even[at] = extra;
  diagonal_even_[at] = whole > 0 ? whole : 1.0;
  const float kept = cycle_.finest().extra_even[at];
  return std::abs(static_cast<float>(extra) - kept) - largest_change * kept;
}

double LineMultigrid::multiply_panel(std::size_t p, const AlignedVector<double>& x) {
  const Panel& panel = panels_[p];
  const std::size_t at = panel.at;
  const double *inside = operator_.inside.data() + spare,
               *outside = operator_.outside.data() + spare;
  const double *even = x.data() + panels_.even_at(), *odd = x.data() + panels_.odd_at();
  return kernels_.multiply.even(panel.registers, panels_.rows(),
                                {operator_.axial_even.data() + at, diagonal_even_.data() + at,
                                 inside + at, outside + at},
                                {panels_.left_of(p, odd), panels_.left_of(p, outside)}, even + at,
                                odd + at, q_.data() + panels_.even_at() + at) +
         kernels_.multiply.odd(panel.registers, panels_.rows(),
                               {operator_.axial_odd.data() + at, diagonal_odd_.data() + at,
                                inside + at, outside + at},
                               {panels_.right_of(p, even), {}}, odd + at, even + at,
                               q_.data() + panels_.odd_at() + at);
}

double LineMultigrid::next_product(double beta, double last, bool fresh) {
  double sum = 0;
  for (std::size_t p = 0; p <= panels_.size(); ++p) {
    if (p < panels_.size()) {
      const std::size_t count = panels_[p].width() * panels_.rows();
      for (const std::size_t at :
           {panels_.even_at() + panels_[p].at, panels_.odd_at() + panels_[p].at})
        kernels_.next_direction(count, z_.data() + at, beta, last, fresh, x_.data() + at,
                                p_.data() + at);
    }
    if (p > 0) sum += multiply_panel(p - 1, p_);
  }
  return sum;
}

template <typename Reduce>
LinearOutcome LineMultigrid::conjugate_gradients(Guess guess, double measure, double limit,
                                                 int most, Field& x, Reduce reduce) {
  LinearOutcome outcome;
  const SmallNumbersAsZero as_zero;
  double rz = 0, alpha = 0;
  bool fresh = guess == Guess::zero;
  while (!(measure <= limit) && outcome.iterations < most && std::isfinite(measure)) {
    const double next = cycle_.apply(r_, z_);
    const double beta = outcome.iterations > 0 ? next / rz : 0.0;
    const double curvature = next_product(beta, alpha, fresh);
    fresh = fresh && outcome.iterations == 0;
    alpha = 0;
    rz = next;
    ++outcome.iterations;
    if (!(curvature > 0)) break;
    alpha = rz / curvature;
    measure = reduce(alpha);
  }
  outcome.converged = measure <= limit;
  if (fresh && alpha == 0)
    x.setZero();
  else
    panels_.join(fresh ? nullptr : x_.data(), alpha == 0 ? nullptr : p_.data(), alpha, x);
  return outcome;
}

LinearOutcome LineMultigrid::solve_from_zero(const Field& b, const Field& scale, double tolerance,
                                             int limit, Field& x) {
  panels_.split(b, r_);
  panels_.split(scale, scale_);
  const double measure = kernels_.largest_scaled(r_.size(), scale_.data(), r_.data());
  return conjugate_gradients(Guess::zero, measure, tolerance, limit, x, [&](double alpha) {
    return kernels_.reduce_scaled(r_.size(), alpha, q_.data(), scale_.data(), r_.data());
  });
}

LinearOutcome LineMultigrid::solve(const Field& b, double relative, int limit, Field& x) {
  const double target = relative * std::sqrt(b.square().sum());
  panels_.split(b, r_);
  panels_.split(x, x_);
  for (std::size_t p = 0; p < panels_.size(); ++p) multiply_panel(p, x_);
  const auto reduce = [&](double alpha) {
    return std::sqrt(kernels_.reduce(r_.size(), alpha, q_.data(), r_.data()));
  };
  return conjugate_gradients(Guess::given, reduce(1), target, limit, x, reduce);
}

}  // namespace tabmelt
