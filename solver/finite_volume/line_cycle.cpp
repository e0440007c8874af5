#include "solver/finite_volume/line_cycle.h"

#include <type_traits>
#include <utility>

namespace tabmelt {

using line_kernels::Column;
using line_kernels::Kernels;
using line_kernels::lanes;
using line_kernels::spare;

namespace {

// Where the diagonal outweighs the radial coupling by this everywhere, lines alone converge fast.
constexpr float weak_coupling = 0.1F;

// Where the pairs of a panel lie on the coarser grid, as columns of one panel there.
struct CoarsePlace {
  CoarsePlace(const Panel& fine, const Panels& coarse)
      : panel(coarse.holding(fine.pair / 2 / lanes)),
        first(fine.pair / 2 - coarse[panel].pair),
        at(coarse[panel].at + first),
        width(coarse[panel].width()) {}
  std::size_t panel, first, at, width;
};

struct Silent {
  void operator()(std::size_t) const {}
};

// What is done to single panels of one grid, with right side b and answer x.
template <typename Right>
class Leg {
 public:
  Leg(const Kernels& kernels, LineLevel& level, const Right* b, float* x)
      : kernels_(kernels),
        level_(level),
        panels_(level.panels),
        b_even_(b + panels_.even_at()),
        b_odd_(b + panels_.odd_at()),
        even_(x + panels_.even_at()),
        odd_(x + panels_.odd_at()) {}

  void solve_even_alone(std::size_t p) const {
    const std::size_t at = panels_[p].at;
    solve_lines().even_alone(panels_[p].registers, panels_.rows(), lines(level_.even, at),
                             b_even_ + at, even_ + at);
  }
  void solve_even(std::size_t p) const {
    const std::size_t at = panels_[p].at;
    solve_lines().even(panels_[p].registers, panels_.rows(), lines(level_.even, at),
                       {panels_.left_of<float>(p, odd_), panels_.left_of(p, level_.outside())},
                       b_even_ + at, odd_ + at, even_ + at);
  }
  void solve_odd(std::size_t p) const {
    const std::size_t at = panels_[p].at;
    solve_lines().odd(panels_[p].registers, panels_.rows(), lines(level_.odd, at),
                      {panels_.right_of<float>(p, even_), {}}, b_odd_ + at, even_ + at, odd_ + at);
  }
  // The odd columns have just been solved: their residual is zero, and that of the even ones is
  // what the odd ones have changed.
  void restrict_residual(std::size_t p, LineLevel& coarse) const {
    const std::size_t at = panels_[p].at;
    const CoarsePlace to(panels_[p], coarse.panels);
    const float* other = level_.other.data() + spare;
    kernels_.restrict_residual(
        panels_[p].registers, panels_.rows(), to.width,
        {level_.inside() + at,
         level_.outside() + at,
         odd_ + at,
         other + at,
         {panels_.left_of<float>(p, odd_), panels_.left_of(p, level_.outside())},
         panels_.right_of(p, level_.inside()),
         panels_.right_of<float>(p, odd_),
         panels_.right_of(p, other)},
        coarse.b.data() + coarse.panels.even_at() + to.at,
        coarse.b.data() + coarse.panels.odd_at() + to.at);
  }
  // The odd columns need no correction: they are solved anew from the even ones.
  void correct_even(std::size_t p, const LineLevel& coarse) const {
    const std::size_t at = panels_[p].at;
    const CoarsePlace from(panels_[p], coarse.panels);
    const float* coarse_even = coarse.x.data() + coarse.panels.even_at();
    const float* coarse_odd = coarse.x.data() + coarse.panels.odd_at();
    const Column<float> before = from.first > 0
                                     ? Column<float>{coarse_odd + from.at - 1, from.width}
                                     : coarse.panels.left_of(from.panel, coarse_odd);
    kernels_.add_correction(panels_[p].registers, panels_.rows(), from.width, coarse_even + from.at,
                            coarse_odd + from.at, before, level_.other.data() + spare + at,
                            even_ + at);
  }

 private:
  line_kernels::Lines lines(const LineLevel::Colour& colour, std::size_t at) const {
    return {colour.pivot.data() + at, colour.factor.data() + at, level_.inside() + at,
            level_.outside() + at};
  }
  const Kernels::SolveLines<Right>& solve_lines() const {
    if constexpr (std::is_same_v<Right, double>)
      return kernels_.solve_lines_of_double;
    else
      return kernels_.solve_lines;
  }

  const Kernels& kernels_;
  const LineLevel& level_;
  const Panels& panels_;
  const Right *b_even_, *b_odd_;
  float *even_, *odd_;
};

}  // namespace

void LineCycle::reshape(const Panels& panels) {
  std::size_t wanted = 1;
  for (std::size_t n = panels.columns(); n > 1; n = (n + 1) / 2) ++wanted;
  if (levels_.size() < wanted) levels_.resize(wanted);
  levels_[0].resize(panels.columns(), panels.rows());
  used_ = 0;
}

void LineCycle::set_up(const PairFields<double>& now) {
  LineLevel& top = levels_[0];
  const auto round = [&](const AlignedVector<double>& from, AlignedVector<float>& to) {
    kernels_.round_to_single(from.size(), from.data(), to.data());
  };
  round(now.axial_even, top.pairs.axial_even);
  round(now.axial_odd, top.pairs.axial_odd);
  round(now.extra_even, top.pairs.extra_even);
  round(now.extra_odd, top.pairs.extra_odd);
  round(now.inside, top.pairs.inside);
  round(now.outside, top.pairs.outside);
  factor(top);
  used_ = 1;
  while (levels_[used_ - 1].panels.columns() > 1) {
    const LineLevel& fine = levels_[used_ - 1];
    const float strongest =
        kernels_.strongest_coupling(fine.panels.block(), fine.inside(), fine.outside(),
                                    fine.pairs.extra_even.data(), fine.pairs.extra_odd.data());
    if (strongest < weak_coupling) break;
    coarsen(levels_[used_ - 1], levels_[used_]);
    factor(levels_[used_]);
    ++used_;
  }
}

void LineCycle::factor(LineLevel& level) const {
  const Panels& panels = level.panels;
  for (std::size_t p = 0; p < panels.size(); ++p) {
    const std::size_t registers = panels[p].registers, at = panels[p].at;
    const line_kernels::Pairs<const float> pairs = std::as_const(level.pairs).from(at);
    kernels_.factor_even(registers, panels.rows(), pairs, panels.left_of(p, level.outside()),
                         level.even.pivot.data() + at, level.even.factor.data() + at);
    kernels_.factor_odd(registers, panels.rows(), pairs, level.odd.pivot.data() + at,
                        level.odd.factor.data() + at);
  }
}

void LineCycle::coarsen(LineLevel& fine, LineLevel& coarse) const {
  const Panels& panels = fine.panels;
  coarse.resize((panels.columns() + 1) / 2, panels.rows());
  for (std::size_t p = 0; p < panels.size(); ++p) {
    const CoarsePlace to(panels[p], coarse.panels);
    kernels_.coarsen(panels[p].registers, panels.rows(), to.width,
                     std::as_const(fine.pairs).from(panels[p].at),
                     {panels.left_of(p, fine.inside()), panels.left_of(p, fine.outside()),
                      panels.right_of(p, fine.inside())},
                     fine.other.data() + spare + panels[p].at, coarse.pairs.from(to.at));
  }
}

template <typename Right, typename Finished>
void LineCycle::cycle(std::size_t k, const Right* b, float* x, Finished finished) {
  LineLevel& level = levels_[k];
  const Leg<Right> leg(kernels_, level, b, x);
  const std::size_t panels = level.panels.size();
  if (level.panels.columns() == 1) {
    leg.solve_even_alone(0);
    finished(0);
    return;
  }
  if (k + 1 == used_) {
    for (std::size_t p = 0; p <= panels; ++p) {
      if (p < panels) leg.solve_even_alone(p);
      if (p == 0) continue;
      leg.solve_odd(p - 1);
      leg.solve_even(p - 1);
      finished(p - 1);
    }
    return;
  }
  LineLevel& coarse = levels_[k + 1];
  for (std::size_t p = 0; p < panels + 2; ++p) {
    if (p < panels) leg.solve_even_alone(p);
    if (p > 0 && p <= panels) leg.solve_odd(p - 1);
    if (p > 1) leg.restrict_residual(p - 2, coarse);
  }
  cycle(k + 1, static_cast<const float*>(coarse.b.data()), coarse.x.data(), Silent{});
  for (std::size_t p = 0; p <= panels; ++p) {
    if (p < panels) leg.correct_even(p, coarse);
    if (p == 0) continue;
    leg.solve_odd(p - 1);
    leg.solve_even(p - 1);
    finished(p - 1);
  }
}

double LineCycle::apply(const AlignedVector<double>& r, AlignedVector<float>& z) {
  const Panels& panels = levels_[0].panels;
  double sum = 0;
  cycle(0, r.data(), z.data(), [&](std::size_t p) {
    const std::size_t count = panels[p].width() * panels.rows();
    for (const std::size_t at : {panels.even_at() + panels[p].at, panels.odd_at() + panels[p].at})
      sum += kernels_.dot(count, z.data() + at, r.data() + at);
  });
  return sum;
}

}  // namespace tabmelt
