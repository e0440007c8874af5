#include "tests/bench/plain/plain_multigrid.h"

#include <algorithm>
#include <cmath>

namespace tabmelt::bench {

using Index = Eigen::Index;

namespace {

constexpr double largest_change = 0.25;  // as in line_multigrid.cpp
constexpr float weak_coupling = 0.1F;    // as in line_cycle.cpp

bool within(const Field& now, const Field& kept) {
  return now.size() == kept.size() && ((now - kept).abs() <= largest_change * kept).all();
}

}  // namespace

void PlainMultigrid::Level::resize(std::size_t all, std::size_t height) {
  columns = all;
  rows = height;
  pairs = (all + 1) / 2;
  for (Colour* colour : {&even, &odd})
    for (Numbers* n :
         {&colour->axial, &colour->extra, &colour->pivot, &colour->factor, &colour->b, &colour->x})
      n->assign(pairs * rows, 0);
  for (Numbers* n : {&inside, &outside, &other}) n->assign(pairs * rows, 0);
}

void PlainMultigrid::set_operator(const FaceConductances& faces, const Field& diagonal) {
  faces_ = faces;
  diagonal_ = diagonal;
  const Field extra = faces.boundary + diagonal;
  if (used_ > 0 && levels_[0].columns == faces.nr && levels_[0].rows == faces.nz &&
      within(faces.radial, kept_radial_) && within(faces.axial, kept_axial_) &&
      within(extra, kept_extra_))
    return;
  kept_radial_ = faces.radial;
  kept_axial_ = faces.axial;
  kept_extra_ = extra;
  set_up();
}

void PlainMultigrid::set_up() {
  const std::size_t nr = faces_.nr, nz = faces_.nz;
  if (levels_.empty()) levels_.resize(1);
  levels_[0].resize(nr, nz);
  Level& top = levels_[0];
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const auto c = static_cast<Index>(j * nr + i);
      const std::size_t q = j * top.pairs + i / 2;
      Colour& colour = i % 2 == 0 ? top.even : top.odd;
      colour.axial[q] = static_cast<float>(faces_.axial[c]);
      colour.extra[q] = static_cast<float>(kept_extra_[c]);
      (i % 2 == 0 ? top.inside : top.outside)[q] = static_cast<float>(faces_.radial[c]);
    }
  }
  factor(top);
  used_ = 1;
  while (levels_[used_ - 1].columns > 1) {
    const Level& fine = levels_[used_ - 1];
    float strongest = 0;
    for (std::size_t q = 0; q < fine.inside.size(); ++q) {
      const float own = std::min(fine.even.extra[q], fine.odd.extra[q]);
      strongest = std::max(strongest, std::max(fine.inside[q], fine.outside[q]) / (own + 1e-30F));
    }
    if (strongest < weak_coupling) break;
    if (levels_.size() == used_) levels_.emplace_back();
    coarsen(levels_[used_ - 1], levels_[used_]);
    factor(levels_[used_]);
    ++used_;
  }
}

void PlainMultigrid::factor(Level& level) {
  factor_colour(level, level.even, true);
  factor_colour(level, level.odd, false);
}

void PlainMultigrid::factor_colour(const Level& level, Colour& colour, bool even) {
  const std::size_t m = level.pairs;
  Numbers loss(m, 0), from_below(m, 0);
  for (std::size_t j = 0; j < level.rows; ++j) {
    for (std::size_t q = 0; q < m; ++q) {
      const std::size_t at = j * m + q;
      const float there = even ? (q > 0 ? level.outside[at - 1] : 0) : level.outside[at];
      const float s = colour.extra[at] + level.inside[at] + there + loss[q];
      const float sum = colour.axial[at] + s;
      const float pivot = sum > 0 ? 1 / sum : 1;
      colour.pivot[at] = pivot;
      colour.factor[at] = from_below[q];
      from_below[q] = colour.axial[at] * pivot;
      loss[q] = from_below[q] * s;
    }
  }
}

void PlainMultigrid::coarsen(Level& fine, Level& coarse) {
  coarse.resize(fine.pairs, fine.rows);
  const std::size_t m = fine.pairs;
  Numbers half(m + 1), coupling(m + 1);
  for (std::size_t j = 0; j < fine.rows; ++j) {
    const std::size_t row = j * m;
    half[m] = coupling[m] = 0;
    for (std::size_t q = 0; q < m; ++q)
      half[q] = fine.inside[row + q] > 0 ? 0.5F / fine.inside[row + q] : 0;
    for (std::size_t q = 0; q < m; ++q) {
      const float out = fine.outside[row + q];
      coupling[q] = out > 0 ? 1 / (half[q] + 1 / out + half[q + 1]) : 0;
      fine.other[row + q] = q > 0 ? half[q] * coupling[q - 1] : 0;
    }
    for (std::size_t q = 0; q < m; ++q) {
      const std::size_t to = j * coarse.pairs + q / 2;
      Colour& colour = q % 2 == 0 ? coarse.even : coarse.odd;
      colour.axial[to] = fine.even.axial[row + q] + fine.odd.axial[row + q];
      colour.extra[to] = fine.even.extra[row + q] + fine.odd.extra[row + q];
      (q % 2 == 0 ? coarse.inside : coarse.outside)[to] = coupling[q];
    }
  }
}

// x holds the right side on the way in.
void PlainMultigrid::solve_lines(const Level& level, Colour& colour) {
  const std::size_t m = level.pairs;
  float* __restrict x = colour.x.data();
  const float *factor = colour.factor.data(), *pivot = colour.pivot.data();
  for (std::size_t j = 1; j < level.rows; ++j)
    for (std::size_t q = j * m; q < (j + 1) * m; ++q) x[q] += factor[q] * x[q - m];
  for (std::size_t j = level.rows; j-- > 0;) {
    for (std::size_t q = j * m; q < (j + 1) * m; ++q) x[q] *= pivot[q];
    if (j + 1 < level.rows)
      for (std::size_t q = j * m; q < (j + 1) * m; ++q) x[q] += factor[q + m] * x[q + m];
  }
}

void PlainMultigrid::solve_even(Level& level, bool alone) {
  const std::size_t n = level.even.x.size();
  float* __restrict x = level.even.x.data();
  const float *b = level.even.b.data(), *odd = level.odd.x.data();
  if (alone) {
    std::copy(b, b + n, x);
  } else {
    // outside is 0 at the end of each row.
    x[0] = b[0] + level.inside[0] * odd[0];
    for (std::size_t q = 1; q < n; ++q)
      x[q] = b[q] + level.inside[q] * odd[q] + level.outside[q - 1] * odd[q - 1];
  }
  solve_lines(level, level.even);
}

void PlainMultigrid::solve_odd(Level& level) {
  const std::size_t n = level.odd.x.size();
  float* __restrict x = level.odd.x.data();
  const float *b = level.odd.b.data(), *even = level.even.x.data();
  for (std::size_t q = 0; q + 1 < n; ++q)
    x[q] = b[q] + level.inside[q] * even[q] + level.outside[q] * even[q + 1];
  x[n - 1] = b[n - 1] + level.inside[n - 1] * even[n - 1];
  solve_lines(level, level.odd);
}

void PlainMultigrid::cycle(std::size_t k) {
  Level& level = levels_[k];
  solve_even(level, true);
  if (level.columns == 1) return;
  solve_odd(level);
  if (k + 1 < used_) {
    Level& coarse = levels_[k + 1];
    const std::size_t m = level.pairs;
    Numbers left(m + 1);
    for (std::size_t j = 0; j < level.rows; ++j) {
      const std::size_t row = j * m;
      // What the odd columns have changed in the even ones.
      left[m] = 0;
      for (std::size_t q = 0; q < m; ++q)
        left[q] = level.inside[row + q] * level.odd.x[row + q] +
                  (q > 0 ? level.outside[row + q - 1] * level.odd.x[row + q - 1] : 0);
      for (std::size_t q = 0; q < m; ++q) {
        const float next = q + 1 < m ? level.other[row + q + 1] * left[q + 1] : 0;
        (q % 2 == 0 ? coarse.even.b : coarse.odd.b)[j * coarse.pairs + q / 2] =
            (1 - level.other[row + q]) * left[q] + next;
      }
    }
    cycle(k + 1);
    for (std::size_t j = 0; j < level.rows; ++j) {
      float before = 0;
      for (std::size_t q = 0; q < m; ++q) {
        const float own = (q % 2 == 0 ? coarse.even.x : coarse.odd.x)[j * coarse.pairs + q / 2];
        const float other = level.other[j * m + q];
        level.even.x[j * m + q] += own + other * (before - own);
        before = own;
      }
    }
    solve_odd(level);
  }
  solve_even(level, false);
}

void PlainMultigrid::precondition() {
  Level& top = levels_[0];
  const std::size_t nr = top.columns;
  for (std::size_t j = 0; j < top.rows; ++j) {
    const double* r = r_.data() + j * nr;
    for (std::size_t q = 0; q < nr / 2; ++q) {
      top.even.b[j * top.pairs + q] = static_cast<float>(r[2 * q]);
      top.odd.b[j * top.pairs + q] = static_cast<float>(r[2 * q + 1]);
    }
    if (nr % 2 == 1) top.even.b[(j + 1) * top.pairs - 1] = static_cast<float>(r[nr - 1]);
  }
  cycle(0);
  for (std::size_t j = 0; j < top.rows; ++j) {
    double* z = z_.data() + j * nr;
    for (std::size_t q = 0; q < nr / 2; ++q) {
      z[2 * q] = static_cast<double>(top.even.x[j * top.pairs + q]);
      z[2 * q + 1] = static_cast<double>(top.odd.x[j * top.pairs + q]);
    }
    if (nr % 2 == 1) z[nr - 1] = static_cast<double>(top.even.x[(j + 1) * top.pairs - 1]);
  }
}

template <typename Measure>
LinearOutcome PlainMultigrid::conjugate_gradients(int limit, double least, Measure measure,
                                                  Field& x) {
  LinearOutcome outcome;
  z_.resize(r_.size());
  double last = 0;
  while (!(outcome.converged = measure() <= least) && outcome.iterations < limit) {
    ++outcome.iterations;
    precondition();
    const double now = (r_ * z_).sum();
    p_ = outcome.iterations == 1 ? z_ : Field(z_ + now / last * p_);
    last = now;
    apply(faces_, p_, q_);
    q_ += diagonal_ * p_;
    const double alpha = now / (p_ * q_).sum();
    if (!std::isfinite(alpha)) break;
    x += alpha * p_;
    r_ -= alpha * q_;
  }
  return outcome;
}

LinearOutcome PlainMultigrid::solve_from_zero(const Field& b, const Field& scale, double tolerance,
                                              int limit, Field& x) {
  x.setZero(b.size());
  r_ = b;
  return conjugate_gradients(
      limit, tolerance, [&] { return (r_.abs() * scale).maxCoeff(); }, x);
}

LinearOutcome PlainMultigrid::solve(const Field& b, double relative, int limit, Field& x) {
  apply(faces_, x, q_);
  r_ = b - q_ - diagonal_ * x;
  return conjugate_gradients(
      limit, relative * b.matrix().norm(), [&] { return r_.matrix().norm(); }, x);
}

}  // namespace tabmelt::bench
