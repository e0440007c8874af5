#include "solver/finite_volume/line_multigrid.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#ifdef __SSE2__
#include <xmmintrin.h>
#endif

namespace tabmelt {

using Index = Eigen::Index;
using line_kernels::lanes;

namespace {

// Where the diagonal outweighs the radial coupling by this everywhere, lines alone converge fast.
constexpr float weak_coupling = 0.1F;
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

std::size_t padded(std::size_t n) { return (n + lanes - 1) / lanes * lanes; }

}  // namespace

void LineMultigrid::Level::resize(std::size_t columns, std::size_t rows) {
  if (nr == columns && nz == rows) return;
  nr = columns;
  nz = rows;
  stride = padded((nr + 1) / 2);
  block = stride * nz;
  for (std::vector<float>* v : {&inside, &outside, &other}) v->assign(block + 2 * lanes, 0);
  self.assign(block + 2 * lanes, 1);
  for (Colour* c : {&even, &odd})
    for (std::vector<float>* v : {&c->axial, &c->extra, &c->pivot, &c->factor}) v->assign(block, 0);
  for (std::vector<float>* v : {&b, &x}) v->assign(field_size(), 0);
  row.assign(4 * (stride + lanes), 0);
}

void LineMultigrid::set_operator(const FaceConductances& faces, const Field& diagonal) {
  std::size_t wanted = 1;
  for (std::size_t n = faces.nr; n > 1; n = (n + 1) / 2) ++wanted;
  if (levels_.size() < wanted) levels_.resize(wanted);

  if (take(faces, diagonal)) return;
  factor(levels_[0]);
  used_ = 1;
  while (levels_[used_ - 1].nr > 1) {
    const Level& fine = levels_[used_ - 1];
    const float strongest = kernels_.strongest_coupling(
        fine.block, fine.inside.data() + lanes, fine.outside.data() + lanes, fine.even.extra.data(),
        fine.odd.extra.data());
    if (strongest < weak_coupling) break;
    coarsen(levels_[used_ - 1], levels_[used_]);
    factor(levels_[used_]);
    ++used_;
  }
}

bool LineMultigrid::take(const FaceConductances& faces, const Field& diagonal) {
  Level& top = levels_[0];
  if (top.nr != faces.nr || top.nz != faces.nz) used_ = 0;
  top.resize(faces.nr, faces.nz);
  const std::size_t padded_block = top.block + 2 * lanes;
  if (finest_.inside.size() != padded_block || finest_nr_ != faces.nr) {
    finest_nr_ = faces.nr;
    for (std::vector<double>* v : {&finest_.inside, &finest_.outside}) v->assign(padded_block, 0);
    for (Finest::Colour* c : {&finest_.even, &finest_.odd})
      for (std::vector<double>* v : {&c->axial, &c->extra, &c->diagonal}) v->assign(top.block, 0);
  }
  for (std::size_t j = 0; j < top.nz; ++j) {
    const std::size_t n = j * top.stride, c = j * top.nr, pairs = top.nr / 2;
    const double *radial = faces.radial.data() + c, *axial = faces.axial.data() + c;
    const double *boundary = faces.boundary.data() + c, *own = diagonal.data() + c;
    double* inside = finest_.inside.data() + lanes + n;
    double* outside = finest_.outside.data() + lanes + n;
    Finest::Colour &even = finest_.even, &odd = finest_.odd;
    const double open = j + 1 < top.nz ? 1.0 : 0.0;  // nothing lies above the last row
    for (std::size_t k = 0; k < pairs; ++k) {
      even.axial[n + k] = open * axial[2 * k];
      odd.axial[n + k] = open * axial[2 * k + 1];
      even.extra[n + k] = boundary[2 * k] + own[2 * k];
      odd.extra[n + k] = boundary[2 * k + 1] + own[2 * k + 1];
      inside[k] = radial[2 * k];
      outside[k] = radial[2 * k + 1];
    }
    if (top.nr % 2 == 1) {
      even.axial[n + pairs] = open * axial[top.nr - 1];
      even.extra[n + pairs] = boundary[top.nr - 1] + own[top.nr - 1];
    } else {
      outside[pairs - 1] = 0;  // the rim
    }
  }
  const double *inside = finest_.inside.data() + lanes, *outside = finest_.outside.data() + lanes;
  kernels_.sum_diagonal(top.stride, top.nz, finest_.even.axial.data(), finest_.even.extra.data(),
                        inside, outside - 1, finest_.even.diagonal.data());
  kernels_.sum_diagonal(top.stride, top.nz, finest_.odd.axial.data(), finest_.odd.extra.data(),
                        inside, outside, finest_.odd.diagonal.data());
  const std::pair<const std::vector<double>*, std::vector<float>*> values[] = {
      {&finest_.inside, &top.inside},         {&finest_.outside, &top.outside},
      {&finest_.even.axial, &top.even.axial}, {&finest_.odd.axial, &top.odd.axial},
      {&finest_.even.extra, &top.even.extra}, {&finest_.odd.extra, &top.odd.extra}};
  const bool close = used_ > 0 && std::all_of(std::begin(values), std::end(values), [&](auto& v) {
                       return kernels_.largest_change(v.first->size(), v.first->data(),
                                                      v.second->data(), largest_change) <= 0;
                     });
  if (!close)
    for (const auto& [now, kept] : values)
      kernels_.round_to_single(now->size(), now->data(), kept->data());
  return close;
}

void LineMultigrid::factor(Level& level) const {
  for (Colour* colour : {&level.even, &level.odd}) {
    const float* inside = level.inside.data() + lanes;
    const float* there = level.outside.data() + lanes - (colour == &level.even ? 1 : 0);
    kernels_.factor(level.stride, level.nz, colour->axial.data(), colour->extra.data(), inside,
                    there, level.row.data(), colour->pivot.data(), colour->factor.data());
  }
}

void LineMultigrid::coarsen(Level& fine, Level& coarse) const {
  coarse.resize((fine.nr + 1) / 2, fine.nz);
  kernels_.coarsen(
      fine.stride, fine.nz, coarse.stride,
      {fine.even.axial.data(), fine.odd.axial.data(), fine.even.extra.data(), fine.odd.extra.data(),
       fine.inside.data() + lanes, fine.outside.data() + lanes, fine.self.data(),
       fine.other.data()},
      fine.row.data(),
      {coarse.even.axial.data(), coarse.odd.axial.data(), coarse.even.extra.data(),
       coarse.odd.extra.data(), coarse.inside.data() + lanes, coarse.outside.data() + lanes});
}

void LineMultigrid::cycle(std::size_t k, const float* b, float* x) {
  Level& level = levels_[k];
  const std::size_t n = level.stride, nz = level.nz;
  const float *inside = level.inside.data() + lanes, *outside = level.outside.data() + lanes;
  const line_kernels::Lines even{level.even.pivot.data(), level.even.factor.data(), inside,
                                 outside - 1, -1};
  const line_kernels::Lines odd{level.odd.pivot.data(), level.odd.factor.data(), inside, outside,
                                +1};
  const float *be = b + level.even_at(), *bo = b + level.odd_at();
  float *xe = x + level.even_at(), *xo = x + level.odd_at();

  kernels_.solve_lines(n, nz, even, be, nullptr, xe);
  if (level.nr == 1) return;
  kernels_.solve_lines(n, nz, odd, bo, xe, xo);
  if (k + 1 < used_) {
    // The odd columns have just been solved: their residual is zero, and that of the even ones is
    // what the odd ones have changed.
    Level& coarse = levels_[k + 1];
    kernels_.restrict_residual(n, nz, coarse.stride, even, xo, level.self.data(),
                               level.other.data(), coarse.b.data() + coarse.even_at(),
                               coarse.b.data() + coarse.odd_at());
    cycle(k + 1, coarse.b.data(), coarse.x.data());
    // The odd columns need no correction: they are solved anew from the even ones.
    kernels_.add_correction(n, nz, coarse.stride, coarse.x.data() + coarse.even_at(),
                            coarse.x.data() + coarse.odd_at(), level.self.data(),
                            level.other.data(), xe);
    kernels_.solve_lines(n, nz, odd, bo, xe, xo);
  }
  kernels_.solve_lines(n, nz, even, be, xo, xe);
}

void LineMultigrid::split(const Field& natural, std::vector<double>& field) const {
  const Level& top = levels_[0];
  if (field.size() != top.field_size()) field.assign(top.field_size(), 0);
  for (std::size_t j = 0; j < top.nz; ++j) {
    const double* in = natural.data() + j * top.nr;
    double* even = field.data() + top.even_at() + j * top.stride;
    double* odd = field.data() + top.odd_at() + j * top.stride;
    const std::size_t pairs = top.nr / 2;
    for (std::size_t k = 0; k < pairs; ++k) {
      even[k] = in[2 * k];
      odd[k] = in[2 * k + 1];
    }
    if (top.nr % 2 == 1) even[pairs] = in[top.nr - 1];
  }
}

void LineMultigrid::join(const std::vector<double>& field, Field& natural) const {
  const Level& top = levels_[0];
  for (std::size_t j = 0; j < top.nz; ++j) {
    double* out = natural.data() + j * top.nr;
    const double* even = field.data() + top.even_at() + j * top.stride;
    const double* odd = field.data() + top.odd_at() + j * top.stride;
    const std::size_t pairs = top.nr / 2;
    for (std::size_t k = 0; k < pairs; ++k) {
      out[2 * k] = even[k];
      out[2 * k + 1] = odd[k];
    }
    if (top.nr % 2 == 1) out[top.nr - 1] = even[pairs];
  }
}

double LineMultigrid::multiply(const std::vector<double>& x, std::vector<double>& y) const {
  const Level& top = levels_[0];
  const double *inside = finest_.inside.data() + lanes, *outside = finest_.outside.data() + lanes;
  const double *xe = x.data() + top.even_at(), *xo = x.data() + top.odd_at();
  return kernels_.multiply(
             top.stride, top.nz,
             {finest_.even.axial.data(), finest_.even.diagonal.data(), inside, outside - 1, -1}, xe,
             xo, y.data() + top.even_at()) +
         kernels_.multiply(
             top.stride, top.nz,
             {finest_.odd.axial.data(), finest_.odd.diagonal.data(), inside, outside, +1}, xo, xe,
             y.data() + top.odd_at());
}

void LineMultigrid::reserve() {
  const std::size_t size = levels_[0].field_size();
  for (std::vector<double>* v : {&x_, &p_, &q_})
    if (v->size() != size) v->assign(size, 0);
  for (std::vector<float>* v : {&residual_, &z_})
    if (v->size() != size) v->assign(size, 0);
}

template <typename Converged>
LinearOutcome LineMultigrid::conjugate_gradients(double square, int limit, Field& x,
                                                 Converged converged) {
  LinearOutcome outcome;
  const std::size_t size = levels_[0].field_size();
  const SmallNumbersAsZero as_zero;
  outcome.converged = converged(square);
  double rz = 0;
  while (!outcome.converged && outcome.iterations < limit && std::isfinite(square)) {
    cycle(0, residual_.data(), z_.data());
    const double next = kernels_.dot(size, z_.data(), r_.data());
    if (outcome.iterations > 0)
      kernels_.next_direction(size, z_.data(), next / rz, p_.data());
    else
      std::copy(z_.begin(), z_.end(), p_.begin());
    rz = next;
    ++outcome.iterations;
    const double curvature = multiply(p_, q_);
    if (!(curvature > 0)) break;
    square = kernels_.update(size, rz / curvature, p_.data(), q_.data(), x_.data(), r_.data(),
                             residual_.data());
    outcome.converged = converged(square);
  }
  join(x_, x);
  return outcome;
}

LinearOutcome LineMultigrid::solve_from_zero(const Field& b, const Field& scale, double tolerance,
                                             int limit, Field& x) {
  reserve();
  split(b, r_);
  split(scale, scale_);
  std::fill(x_.begin(), x_.end(), 0.0);
  kernels_.round_to_single(r_.size(), r_.data(), residual_.data());
  return conjugate_gradients(b.square().sum(), limit, x, [&](double square) {
    return std::isfinite(square) &&
           kernels_.largest_product(r_.size(), r_.data(), scale_.data()) <= tolerance;
  });
}

LinearOutcome LineMultigrid::solve(const Field& b, double relative, int limit, Field& x) {
  const double target = relative * std::sqrt(b.square().sum());
  reserve();
  split(b, r_);
  split(x, x_);
  multiply(x_, q_);
  const double square =
      kernels_.update(r_.size(), 1.0, q_.data(), q_.data(), p_.data(), r_.data(), residual_.data());
  return conjugate_gradients(square, limit, x,
                             [&](double now) { return std::sqrt(now) <= target; });
}

}  // namespace tabmelt
