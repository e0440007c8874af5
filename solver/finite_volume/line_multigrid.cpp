#include "solver/finite_volume/line_multigrid.h"

#include <algorithm>
#include <cmath>

namespace tabmelt {

using Index = Eigen::Index;

void LineMultigrid::set_operator(const FaceConductances& faces, const Field& diagonal) {
  std::size_t wanted = 1;
  for (std::size_t n = faces.nr; n > 1; n = (n + 1) / 2) ++wanted;
  if (levels_.size() < wanted) levels_.resize(wanted);

  Level& top = levels_[0];
  top.nr = faces.nr;
  top.nz = faces.nz;
  const std::size_t n = top.nr * top.nz;
  top.radial.assign(faces.radial.data(), faces.radial.data() + n);
  top.axial.assign(faces.axial.data(), faces.axial.data() + n);
  top.extra.resize(n);
  for (std::size_t c = 0; c < n; ++c)
    top.extra[c] = faces.boundary[static_cast<Index>(c)] + diagonal[static_cast<Index>(c)];
  factor(top);
  used_ = 1;
  while (levels_[used_ - 1].nr > 1) {
    // Where the diagonal outweighs the radial coupling everywhere, lines alone converge fast.
    const Level& fine = levels_[used_ - 1];
    double strongest = 0;
    for (std::size_t c = 0; c < fine.nr * fine.nz; ++c)
      strongest = std::max(strongest, fine.radial[c] / (fine.extra[c] + 1e-300));
    if (strongest < 0.1) break;
    coarsen(levels_[used_ - 1], levels_[used_]);
    factor(levels_[used_]);
    ++used_;
  }
}

void LineMultigrid::factor(Level& level) {
  const std::size_t nr = level.nr, nz = level.nz, n = nr * nz;
  level.diagonal.resize(n);
  level.pivot.resize(n);
  level.factor.resize(n);
  level.b.resize(n);
  level.x.resize(n);
  level.r.resize(n);
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t c = j * nr + i;
      double d = level.extra[c];
      if (i + 1 < nr) d += level.radial[c];
      if (i > 0) d += level.radial[c - 1];
      if (j + 1 < nz) d += level.axial[c];
      if (j > 0) d += level.axial[c - nr];
      // A cell without any coupling (empty, or without current) keeps its value.
      if (d <= 0) d = 1;
      level.diagonal[c] = d;
      double p = d, f = 0;
      if (j > 0) {
        f = level.axial[c - nr] * level.pivot[c - nr];
        p = d - f * level.axial[c - nr];
      }
      level.factor[c] = f;
      level.pivot[c] = 1.0 / std::max(p, 1e-14 * d);
    }
  }
}

void LineMultigrid::coarsen(Level& fine, Level& coarse) {
  const std::size_t nr = fine.nr, nz = fine.nz, half = (nr + 1) / 2;
  coarse.nr = half;
  coarse.nz = nz;
  coarse.radial.assign(half * nz, 0);
  coarse.axial.assign(half * nz, 0);
  coarse.extra.assign(half * nz, 0);
  fine.self.assign(nr * nz, 1);
  fine.other.assign(nr * nz, 0);
  for (std::size_t j = 0; j < nz; ++j) {
    const double* g = &fine.radial[j * nr];
    // Resistance from a pair's centre to either of its cells.
    const auto half_resistance = [&](std::size_t pair) {
      const std::size_t i = 2 * pair;
      return i + 1 < nr && g[i] > 0 ? 0.5 / g[i] : 0.0;
    };
    for (std::size_t pair = 0; pair < half; ++pair) {
      const std::size_t i = 2 * pair, c = j * half + pair, f = j * nr + i;
      const bool two = i + 1 < nr;
      coarse.axial[c] = fine.axial[f] + (two ? fine.axial[f + 1] : 0);
      coarse.extra[c] = fine.extra[f] + (two ? fine.extra[f + 1] : 0);
      if (pair + 1 < half && g[i + 1] > 0) {
        const double a = half_resistance(pair), b = half_resistance(pair + 1);
        const double between = 1.0 / g[i + 1];
        coarse.radial[c] = 1.0 / (a + between + b);
        const double total = a + between + b;
        // The right cell of this pair leans to the next pair, the next pair's left cell to this.
        fine.other[f + 1] = a / total;
        fine.self[f + 1] = 1 - a / total;
        fine.other[f + 2] = b / total;
        fine.self[f + 2] = 1 - b / total;
      }
    }
  }
}

// Solves the columns of one parity exactly, the others held.
void LineMultigrid::relax(Level& level, std::size_t parity, bool zero_guess) {
  const std::size_t nr = level.nr, nz = level.nz;
  const double *axial = level.axial.data(), *radial = level.radial.data();
  const double *pivot = level.pivot.data(), *factor = level.factor.data();
  const double* b = level.b.data();
  double* x = level.x.data();
  double* y = level.r.data();
  for (std::size_t j = 0; j < nz; ++j) {
    const std::size_t row = j * nr;
    for (std::size_t i = parity; i < nr; i += 2) {
      const std::size_t c = row + i;
      double s = b[c];
      if (!zero_guess) {
        if (i > 0) s += radial[c - 1] * x[c - 1];
        if (i + 1 < nr) s += radial[c] * x[c + 1];
      }
      if (j > 0) s += factor[c] * y[c - nr];
      y[c] = s;
    }
  }
  for (std::size_t j = nz; j-- > 0;) {
    const std::size_t row = j * nr;
    for (std::size_t i = parity; i < nr; i += 2) {
      const std::size_t c = row + i;
      double s = y[c];
      if (j + 1 < nz) s += axial[c] * x[c + nr];
      x[c] = s * pivot[c];
    }
  }
}

void LineMultigrid::residual(Level& level) {
  const std::size_t nr = level.nr, nz = level.nz;
  const double *axial = level.axial.data(), *radial = level.radial.data();
  const double *x = level.x.data(), *d = level.diagonal.data(), *b = level.b.data();
  double* r = level.r.data();
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t c = j * nr + i;
      double s = b[c] - d[c] * x[c];
      if (i > 0) s += radial[c - 1] * x[c - 1];
      if (i + 1 < nr) s += radial[c] * x[c + 1];
      if (j > 0) s += axial[c - nr] * x[c - nr];
      if (j + 1 < nz) s += axial[c] * x[c + nr];
      r[c] = s;
    }
  }
}

void LineMultigrid::cycle(std::size_t k) {
  Level& level = levels_[k];
  if (level.nr == 1) {
    relax(level, 0, true);
    return;
  }
  std::fill(level.x.begin(), level.x.end(), 0.0);
  relax(level, 0, true);
  relax(level, 1, false);
  if (k + 1 < used_) {
    residual(level);
    Level& coarse = levels_[k + 1];
    const std::size_t nr = level.nr, half = coarse.nr;
    for (std::size_t j = 0; j < level.nz; ++j) {
      const double* r = &level.r[j * nr];
      const double *self = &level.self[j * nr], *other = &level.other[j * nr];
      for (std::size_t pair = 0; pair < half; ++pair) {
        const std::size_t i = 2 * pair;
        double s = self[i] * r[i];
        if (i + 1 < nr) s += self[i + 1] * r[i + 1];
        if (i > 0) s += other[i - 1] * r[i - 1];
        if (i + 2 < nr) s += other[i + 2] * r[i + 2];
        coarse.b[j * half + pair] = s;
      }
    }
    cycle(k + 1);
    for (std::size_t j = 0; j < level.nz; ++j) {
      double* x = &level.x[j * nr];
      const double* e = &coarse.x[j * half];
      const double *self = &level.self[j * nr], *other = &level.other[j * nr];
      for (std::size_t i = 0; i < nr; ++i) {
        const std::size_t pair = i / 2;
        double s = self[i] * e[pair];
        if (other[i] != 0) s += other[i] * (i % 2 == 0 ? e[pair - 1] : e[pair + 1]);
        x[i] += s;
      }
    }
  }
  relax(level, 1, false);
  relax(level, 0, false);
}

void LineMultigrid::precondition(const Field& r, Field& z) {
  Level& top = levels_[0];
  std::copy(r.data(), r.data() + r.size(), top.b.begin());
  cycle(0);
  z = Eigen::Map<const Field>(top.x.data(), r.size());
}

void LineMultigrid::multiply(const Field& x, Field& y) const {
  const Level& level = levels_[0];
  const std::size_t nr = level.nr, nz = level.nz;
  const double *axial = level.axial.data(), *radial = level.radial.data();
  const double *d = level.diagonal.data(), *in = x.data();
  y.resize(x.size());
  double* out = y.data();
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t c = j * nr + i;
      double s = d[c] * in[c];
      if (i > 0) s -= radial[c - 1] * in[c - 1];
      if (i + 1 < nr) s -= radial[c] * in[c + 1];
      if (j > 0) s -= axial[c - nr] * in[c - nr];
      if (j + 1 < nz) s -= axial[c] * in[c + nr];
      out[c] = s;
    }
  }
}

template <typename Stop>
LinearOutcome LineMultigrid::conjugate_gradients(const Field& b, int limit, Field& x, Stop stop) {
  LinearOutcome outcome;
  multiply(x, q_);
  r_ = b - q_;
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
    x += alpha * p_;
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
  return outcome;
}

LinearOutcome LineMultigrid::solve(const Field& b, const Field& scale, double tolerance, int limit,
                                   Field& x) {
  return conjugate_gradients(b, limit, x, [&](const Field& r) {
    return (r * scale).abs().maxCoeff() <= tolerance;
  });
}

LinearOutcome LineMultigrid::solve(const Field& b, double relative, int limit, Field& x) {
  const double target = relative * std::sqrt(b.square().sum());
  return conjugate_gradients(
      b, limit, x, [&](const Field& r) { return std::sqrt(r.square().sum()) <= target; });
}

}  // namespace tabmelt
