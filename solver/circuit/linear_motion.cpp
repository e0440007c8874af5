#include "solver/circuit/linear_motion.h"

#include <algorithm>
#include <array>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

namespace tabmelt::circuit {
namespace {

constexpr double longest_series = 0.25;  // [1] time constants

constexpr std::size_t most_terms = 18;
constexpr auto inverse = [] {  // of n + 1
  std::array<double, most_terms + 1> all{};
  for (std::size_t n = 0; n < all.size(); ++n) all[n] = 1 / static_cast<double>(n + 1);
  return all;
}();

// Power series of a short time, at most longest_series. The products obey a linear law too:
// (a^2)' = 2 a p and so on; their series goes twice as fast.
template <bool with_integrals>
Moments series(const Affine& p, const Affine& q, const Point& start, double t,
               double time_constants) {
  double a = start.a, b = start.b;  // the n-th terms
  double aa = a * a, ab = a * b, bb = b * b;
  double p1 = p.one, q1 = q.one;
  Moments sum;
  sum.t = t;
  const auto integrate = [&](double width) {
    sum.a += width * a;
    sum.b += width * b;
    sum.aa += width * aa;
    sum.ab += width * ab;
    sum.bb += width * bb;
  };
  if (with_integrals) integrate(t);
  double size = 1;  // of a term, in parts of the first rise
  for (std::size_t n = 0; n < most_terms && size > 1e-18; ++n) {
    const double step = t * inverse[n];
    if (with_integrals) {
      const double aa_then = 2 * (p.one * a + p.a * aa + p.b * ab);
      const double ab_then = p.one * b + p.b * bb + (p.a + q.b) * ab + q.one * a + q.a * aa;
      bb = step * 2 * (q.one * b + q.a * ab + q.b * bb);
      aa = step * aa_then;
      ab = step * ab_then;
    }
    const double a_then = p1 + p.a * a + p.b * b;
    b = step * (q1 + q.a * a + q.b * b);
    a = step * a_then;
    p1 = q1 = 0;
    sum.gain.a += a;
    sum.gain.b += b;
    if (with_integrals) integrate(t * inverse[n + 1]);
    if (n > 0) size *= 2 * time_constants * inverse[n];
  }
  return sum;
}

}  // namespace

LinearMotion::LinearMotion(const Affine& rate_of_a, const Affine& rate_of_b, const Point& start)
    : p_(rate_of_a),
      q_(rate_of_b),
      start_(start),
      s_(-(p_.a + q_.b)),
      d_(p_.a * q_.b - p_.b * q_.a),
      fastest_(std::abs(p_.a) + std::abs(q_.b) + std::sqrt(std::abs(p_.b * q_.a))),
      discriminant_(s_ * s_ - 4 * d_) {}

LinearMotion::Response LinearMotion::response(double t) const {
  const double time_constants = t * fastest_;
  if (time_constants <= longest_series) {
    const Point gain = series<false>({1, -s_, -d_}, {0, 1, 0}, {0, 0}, t, time_constants).gain;
    return {gain.a, gain.b};
  }
  if (discriminant_ < 0) {
    const double w = 0.5 * std::sqrt(-discriminant_), decay = std::exp(-0.5 * s_ * t);
    const double S = decay * std::sin(w * t) / w;
    return {S, (1 - decay * std::cos(w * t) - 0.5 * s_ * S) / d_};
  }
  // The rates x (slower) and x + D; no difference of the two is taken.
  const double D = std::sqrt(discriminant_), x = 2 * d_ / (s_ + D);
  const double slow = std::exp(-x * t);
  const double S = slow * (D > 0 ? -std::expm1(-D * t) / D : t);
  const double mean = x > 0 ? -std::expm1(-x * t) / x : t;
  return {S, 2 / (s_ + D) * (mean - S)};
}

double LinearMotion::value(const Affine& f, double t) const {
  const auto [r, e] = rate(f);
  const auto [S, G] = response(t);
  return f(start_) + r * S + e * G;
}

Moments LinearMotion::moments(double t) const {
  const double time_constants = t * fastest_;
  const int doublings =
      time_constants > longest_series ? std::ilogb(time_constants / longest_series) + 1 : 0;
  const double h = std::ldexp(t, -doublings);
  Moments sum = series<true>(p_, q_, start_, h, std::ldexp(time_constants, -doublings));
  if (doublings == 0) return sum;
  auto [S, G] = response(h);
  const double pe = p_.b * q_.one - q_.b * p_.one, qe = q_.a * p_.one - p_.a * q_.one;
  for (int n = 0; n < doublings; ++n) {
    // The rows of F for a and b.
    const double stays = 1 - d_ * G;
    const Affine a{p_.one * S + pe * G, stays + p_.a * S, p_.b * S};
    const Affine b{q_.one * S + qe * G, q_.a * S, stays + q_.b * S};
    const Affine ma = sum.times(a), mb = sum.times(b);
    sum.t *= 2;
    sum.a += ma.one;
    sum.b += mb.one;
    sum.aa += a.one * ma.one + a.a * ma.a + a.b * ma.b;
    sum.ab += b.one * ma.one + b.a * ma.a + b.b * ma.b;
    sum.bb += b.one * mb.one + b.a * mb.a + b.b * mb.b;
    const double S_then = S * (2 - s_ * S - 2 * d_ * G);
    G = G * (2 - d_ * G) + S * S;
    S = S_then;
  }
  const Rate a = rate({0, 1, 0}), b = rate({0, 0, 1});
  const Response whole = response(t);
  sum.gain = {a.r * whole.S + a.e * whole.G, b.r * whole.S + b.e * whole.G};
  return sum;
}

// e from the equation of f itself, so that nothing cancels where one time constant is far shorter
// than the other.
LinearMotion::Rate LinearMotion::rate(const Affine& f) const {
  return {f.a * p_(start_) + f.b * q_(start_), f.a * (p_.b * q_.one - q_.b * p_.one) +
                                                   f.b * (q_.a * p_.one - p_.a * q_.one) -
                                                   d_ * (f.a * start_.a + f.b * start_.b)};
}

double LinearMotion::between_turns() const {
  return discriminant_ < 0 ? 2 * std::numbers::pi / std::sqrt(-discriminant_) : infinity;
}

double LinearMotion::first_turn(const Affine& f) const {
  const auto [r, e] = rate(f);
  if (r == 0) return e != 0 ? between_turns() : infinity;
  if (discriminant_ < 0) {
    const double w = 0.5 * std::sqrt(-discriminant_);
    return std::atan2(std::abs(r) * w, std::copysign(1.0, -r) * (e - 0.5 * s_ * r)) / w;
  }
  // With x and x + D the two rates:  r exp(-D t) = (x r - e) (1 - exp(-D t))/D.
  const double D = std::sqrt(discriminant_), x = d_ > 0 ? 2 * d_ / (s_ + D) : 0;
  const double quotient = r / (x * r - e);  // [s] the moment if D = 0
  if (!(quotient > 0) || !std::isfinite(quotient)) return infinity;
  return D > 0 ? std::log1p(D * quotient) / D : quotient;
}

double LinearMotion::first_rise(const Affine& f, double most) const {
  const auto [r, e] = rate(f);
  if (r == 0 && e == 0) return f(start_) > 0 ? 0 : infinity;
  const double turn = first_turn(f);
  const bool rises = r > 0 || (r == 0 && e > 0);
  const double from = rises ? 0 : turn;
  const double to = std::min(most, rises ? turn : turn + between_turns());
  if (!(from < most)) return infinity;
  // Later swings are smaller.
  const auto at = [&](double t) { return value(f, t); };
  const double before = at(from), after = at(to);
  if (!(after > 0)) return infinity;
  if (!(before < 0)) return from;
  std::uintmax_t rounds = 200;
  return boost::math::tools::toms748_solve(at, from, to, before, after,
                                           boost::math::tools::eps_tolerance<double>(), rounds)
      .second;
}

}  // namespace tabmelt::circuit
