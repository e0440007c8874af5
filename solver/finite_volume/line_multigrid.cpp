#include "solver/finite_volume/line_multigrid.h"

#include <algorithm>
#include <cmath>

#include "solver/finite_volume/line_kernels.h"

namespace tabmelt {

using Index = Eigen::Index;

void LineMultigrid::Level::resize(std::size_t columns, std::size_t rows) {
  if (nr == columns && nz == rows) return;
  nr = columns;
  nz = rows;
  pairs = (nr + 1) / 2;
  const std::size_t n = pairs * nz;
  for (std::vector<double>* v : {&inside, &outside, &before}) v->assign(n, 0);
  for (Colour* c : {&even, &odd}) {
    for (std::vector<double>* v : {&c->axial, &c->extra, &c->other}) v->assign(n, 0);
    c->self.assign(n, 1);
    c->diagonal.resize(n);
    c->pivot.resize(n);
    c->factor.resize(n);
    c->b.assign(n, 0);
    c->x.assign(n + 2, 0);
    c->r.assign(n + 2, 0);
  }
}

void LineMultigrid::set_operator(const FaceConductances& faces, const Field& diagonal) {
  std::size_t wanted = 1;
  for (std::size_t n = faces.nr; n > 1; n = (n + 1) / 2) ++wanted;
  if (levels_.size() < wanted) levels_.resize(wanted);

  Level& top = levels_[0];
  top.resize(faces.nr, faces.nz);
  for (std::size_t j = 0; j < top.nz; ++j) {
    for (std::size_t i = 0; i < top.nr; ++i) {
      const std::size_t n = j * top.pairs + i / 2;
      const auto c = static_cast<Index>(j * top.nr + i);
      Colour& colour = i % 2 == 0 ? top.even : top.odd;
      colour.axial[n] = faces.axial[c];
      colour.extra[n] = faces.boundary[c] + diagonal[c];
      if (i % 2 == 0) {
        if (i + 1 < top.nr) top.inside[n] = faces.radial[c];
      } else if (i + 1 < top.nr) {
        top.outside[n] = faces.radial[c];
        top.before[n + 1] = faces.radial[c];
      }
    }
  }
  factor(top);
  used_ = 1;
  while (levels_[used_ - 1].nr > 1) {
    // Where the diagonal outweighs the radial coupling everywhere, lines alone converge fast.
    const Level& fine = levels_[used_ - 1];
    double strongest = 0;
    for (std::size_t n = 0; n < fine.pairs * fine.nz; ++n) {
      const double weakest = std::min(fine.even.extra[n], fine.odd.extra[n]);
      strongest =
          std::max(strongest, std::max(fine.inside[n], fine.outside[n]) / (weakest + 1e-300));
    }
    if (strongest < 0.1) break;
    coarsen(levels_[used_ - 1], levels_[used_]);
    factor(levels_[used_]);
    ++used_;
  }
}

void LineMultigrid::factor(Level& level) {
  const std::size_t n = level.pairs;
  for (Colour* colour : {&level.even, &level.odd}) {
    const std::vector<double>& there = colour == &level.even ? level.before : level.outside;
    for (std::size_t j = 0; j < level.nz; ++j) {
      for (std::size_t i = 0; i < n; ++i) {
        const std::size_t c = j * n + i;
        double d = colour->extra[c] + level.inside[c] + there[c];
        if (j + 1 < level.nz) d += colour->axial[c];
        if (j > 0) d += colour->axial[c - n];
        // A cell without any coupling (empty, or without current) keeps its value.
        if (d <= 0) d = 1;
        colour->diagonal[c] = d;
        double p = d, f = 0;
        if (j > 0) {
          f = colour->axial[c - n] * colour->pivot[c - n];
          p = d - f * colour->axial[c - n];
        }
        colour->factor[c] = f;
        colour->pivot[c] = 1.0 / std::max(p, 1e-14 * d);
      }
    }
  }
}

void LineMultigrid::coarsen(Level& fine, Level& coarse) {
  const std::size_t n = fine.pairs;
  coarse.resize(n, fine.nz);
  for (std::size_t j = 0; j < fine.nz; ++j) {
    for (std::size_t pair = 0; pair < n; ++pair) {
      const std::size_t f = j * n + pair, c = j * coarse.pairs + pair / 2;
      Colour& colour = pair % 2 == 0 ? coarse.even : coarse.odd;
      colour.axial[c] = fine.even.axial[f] + fine.odd.axial[f];
      colour.extra[c] = fine.even.extra[f] + fine.odd.extra[f];
      if (pair + 1 >= n) continue;
      double& coupling = pair % 2 == 0 ? coarse.inside[c] : coarse.outside[c];
      if (fine.outside[f] <= 0) {
        coupling = 0;
        if (pair % 2 == 1) coarse.before[c + 1] = 0;
        fine.odd.other[f] = fine.even.other[f + 1] = 0;
        fine.odd.self[f] = fine.even.self[f + 1] = 1;
        continue;
      }
      // Resistances from a pair's centre to either of its columns, and between the pairs.
      const double a = fine.inside[f] > 0 ? 0.5 / fine.inside[f] : 0.0;
      const double b = fine.inside[f + 1] > 0 ? 0.5 / fine.inside[f + 1] : 0.0;
      const double total = a + 1.0 / fine.outside[f] + b;
      coupling = 1.0 / total;
      if (pair % 2 == 1) coarse.before[c + 1] = coupling;
      // The odd column of this pair leans to the next pair, the next pair's even one to this.
      fine.odd.other[f] = a / total;
      fine.odd.self[f] = 1 - a / total;
      fine.even.other[f + 1] = b / total;
      fine.even.self[f + 1] = 1 - b / total;
    }
  }
}

namespace {
template <typename Colour, typename There>
line_kernels::Couplings couplings(const Colour& c, const std::vector<double>& inside,
                                  const There& there) {
  return {c.axial.data(),    c.pivot.data(), c.factor.data(),
          c.diagonal.data(), inside.data(),  there.data()};
}
}  // namespace

void LineMultigrid::cycle(std::size_t k) {
  Level& level = levels_[k];
  const std::size_t n = level.pairs, nz = level.nz;
  const auto even = couplings(level.even, level.inside, level.before);
  const auto odd = couplings(level.odd, level.inside, level.outside);
  double *xe = level.even.x.data() + 1, *xo = level.odd.x.data() + 1;
  double *re = level.even.r.data() + 1, *ro = level.odd.r.data() + 1;
  const double *be = level.even.b.data(), *bo = level.odd.b.data();

  line_kernels::solve_lines(n, nz, even, be, nullptr, 0, re, xe);
  if (level.nr == 1) return;
  line_kernels::solve_lines(n, nz, odd, bo, xe, +1, ro, xo);
  if (k + 1 < used_) {
    line_kernels::residual(n, nz, even, be, xe, xo, -1, re);
    // The odd columns have just been solved exactly: their residual is zero.
    Level& coarse = levels_[k + 1];
    const std::size_t m = coarse.pairs;
    for (std::size_t j = 0; j < nz; ++j) {
      const double* r = re + j * n;
      const double *self = &level.even.self[j * n], *other = &level.even.other[j * n];
      for (std::size_t pair = 0; pair < n; ++pair) {
        double s = self[pair] * r[pair];
        if (pair + 1 < n) s += other[pair + 1] * r[pair + 1];
        Colour& colour = pair % 2 == 0 ? coarse.even : coarse.odd;
        colour.b[j * m + pair / 2] = s;
      }
    }
    cycle(k + 1);
    for (std::size_t j = 0; j < nz; ++j) {
      const double *ce = coarse.even.x.data() + 1 + j * m, *co = coarse.odd.x.data() + 1 + j * m;
      const auto correction = [&](std::size_t pair) {
        return pair % 2 == 0 ? ce[pair / 2] : co[pair / 2];
      };
      double before = 0, here = correction(0);
      for (std::size_t pair = 0; pair < n; ++pair) {
        const double after = pair + 1 < n ? correction(pair + 1) : 0;
        const std::size_t c = j * n + pair;
        xe[c] += level.even.self[c] * here + level.even.other[c] * before;
        xo[c] += level.odd.self[c] * here + level.odd.other[c] * after;
        before = here;
        here = after;
      }
    }
  }
  line_kernels::solve_lines(n, nz, odd, bo, xe, +1, ro, xo);
  line_kernels::solve_lines(n, nz, even, be, xo, -1, re, xe);
}

void LineMultigrid::split(const Field& natural, Field& coloured) const {
  const Level& top = levels_[0];
  const std::size_t n = top.pairs, half = n * top.nz;
  coloured.setZero(static_cast<Index>(2 * half));
  for (std::size_t j = 0; j < top.nz; ++j) {
    const double* in = natural.data() + j * top.nr;
    double *even = coloured.data() + j * n, *odd = even + half;
    for (std::size_t i = 0; i < top.nr / 2; ++i) {
      even[i] = in[2 * i];
      odd[i] = in[2 * i + 1];
    }
    if (top.nr % 2 == 1) even[n - 1] = in[top.nr - 1];
  }
}

void LineMultigrid::join(const Field& coloured, Field& natural) const {
  const Level& top = levels_[0];
  const std::size_t n = top.pairs, half = n * top.nz;
  for (std::size_t j = 0; j < top.nz; ++j) {
    double* out = natural.data() + j * top.nr;
    const double *even = coloured.data() + j * n, *odd = even + half;
    for (std::size_t i = 0; i < top.nr / 2; ++i) {
      out[2 * i] = even[i];
      out[2 * i + 1] = odd[i];
    }
    if (top.nr % 2 == 1) out[top.nr - 1] = even[n - 1];
  }
}

void LineMultigrid::precondition(const Field& r, Field& z) {
  Level& top = levels_[0];
  const auto half = static_cast<std::ptrdiff_t>(top.pairs * top.nz);
  std::copy(r.data(), r.data() + half, top.even.b.begin());
  std::copy(r.data() + half, r.data() + 2 * half, top.odd.b.begin());
  cycle(0);
  z.resize(r.size());
  std::copy(top.even.x.begin() + 1, top.even.x.begin() + 1 + half, z.data());
  std::copy(top.odd.x.begin() + 1, top.odd.x.begin() + 1 + half, z.data() + half);
}

void LineMultigrid::multiply(const Field& x, Field& y) {
  Level& top = levels_[0];
  const std::size_t n = top.pairs;
  const auto half = static_cast<std::ptrdiff_t>(n * top.nz);
  std::copy(x.data(), x.data() + half, top.even.x.begin() + 1);
  std::copy(x.data() + half, x.data() + 2 * half, top.odd.x.begin() + 1);
  y.resize(x.size());
  const double *xe = top.even.x.data() + 1, *xo = top.odd.x.data() + 1;
  line_kernels::residual(n, top.nz, couplings(top.even, top.inside, top.before), nullptr, xe, xo,
                         -1, y.data());
  line_kernels::residual(n, top.nz, couplings(top.odd, top.inside, top.outside), nullptr, xo, xe,
                         +1, y.data() + half);
}

template <typename Stop>
LinearOutcome LineMultigrid::conjugate_gradients(const Field& b, int limit, Field& x, Stop stop) {
  LinearOutcome outcome;
  split(b, b_);
  split(x, x_);
  multiply(x_, q_);
  r_ = b_ - q_;
  if (stop(r_)) {
    outcome.converged = true;
    return outcome;
  }
  precondition(r_, z_);
  p_ = z_;
  double rz = (r_ * z_).sum();
  while (outcome.iterations < limit) {
    ++outcome.iterations;
    multiply(p_, q_);
    const double curvature = (p_ * q_).sum();
    if (!(curvature > 0)) break;
    const double alpha = rz / curvature;
    x_ += alpha * p_;
    r_ -= alpha * q_;
    if (stop(r_)) {
      outcome.converged = true;
      break;
    }
    precondition(r_, z_);
    const double next = (r_ * z_).sum();
    p_ = z_ + (next / rz) * p_;
    rz = next;
  }
  join(x_, x);
  return outcome;
}

LinearOutcome LineMultigrid::solve(const Field& b, const Field& scale, double tolerance, int limit,
                                   Field& x) {
  split(scale, scale_);
  return conjugate_gradients(
      b, limit, x, [&](const Field& r) { return (r * scale_).abs().maxCoeff() <= tolerance; });
}

LinearOutcome LineMultigrid::solve(const Field& b, double relative, int limit, Field& x) {
  const double target = relative * std::sqrt(b.square().sum());
  return conjugate_gradients(b, limit, x,
                             [&](const Field& r) { return std::sqrt(r.square().sum()) <= target; });
}

}  // namespace tabmelt
