// Exact motion of two variables under a linear law, whatever its damping:
//
//   da/dt = p(a, b),   db/dt = q(a, b);   p, q and every value y asked for:  one + x a + y b
//
// Every value obeys  y'' + s y' + d y = const,  s = -(p_a + q_b),  d = p_a q_b - p_b q_a, so that
//
//   y(t) = y + r S(t) + e G(t),   r = y',   e = y'' + s y'  at the start,
//   S' = 1 - s S - d G,   G' = S,   S(0) = G(0) = 0
//
// S and G belong to the law alone and have the textbook forms in exponentials or sine and cosine,
// e.g. Nilsson and Riedel, Electric Circuits, "Natural and step responses of RLC circuits". Within
// a quarter of a time constant (t times |p_a| + |q_b| + sqrt|p_b q_a|, the norm of the law with
// both variables scaled to the same energy) those lose digits and the Taylor series stands in.
//
// The integrals M = int z z^T dt, z = (1, a, b), are those of the series, term by term. A longer
// time is halved until it fits and doubled back,
//
//   M(2h) = M + F M F^T,  F = exp(A h);    S(2h) = S (2 - s S - 2 d G),  G(2h) = G (2 - d G) + S^2
//
// (scaling and squaring, e.g. C. Moler and C. Van Loan, SIAM Review 45 (2003), method 3). S and G
// keep the digits of a slow change beside a fast one, so that each integral is accurate by itself.
//
// r(t) = r S' + e S is zero where y stops rising or falling, at moments known in closed form.
// Between two of them a root finder has one crossing to look for.
#pragma once

#include <limits>

namespace tabmelt::circuit {

inline constexpr double infinity = std::numeric_limits<double>::infinity();

struct Point {
  double a = 0, b = 0;
};

struct Affine {
  double one = 0, a = 0, b = 0;
  double operator()(const Point& at) const { return one + a * at.a + b * at.b; }
};
inline Affine operator*(double c, const Affine& f) { return {c * f.one, c * f.a, c * f.b}; }

// Over a time t: what a and b gain, and the integrals of both and of their products.
struct Moments {
  Point gain;
  double t = 0, a = 0, b = 0, aa = 0, ab = 0, bb = 0;
  // int f (1, a, b) dt
  Affine times(const Affine& f) const {
    return {f.one * t + f.a * a + f.b * b, f.one * a + f.a * aa + f.b * ab,
            f.one * b + f.a * ab + f.b * bb};
  }
  // int f g dt
  double product(const Affine& f, const Affine& g) const {
    const Affine m = times(f);
    return m.one * g.one + m.a * g.a + m.b * g.b;
  }
};

class LinearMotion {
 public:
  // For laws that never grow by themselves: s >= 0, d >= 0.
  LinearMotion(const Affine& rate_of_a, const Affine& rate_of_b, const Point& start);

  const Point& start() const { return start_; }
  double value(const Affine& f, double t) const;  // t [s] >= 0
  Moments moments(double t) const;
  // First t > 0 at which f stops rising or falling [s]; infinity if it never does.
  double first_turn(const Affine& f) const;
  // From one turn to the next [s]; infinity if there is only one.
  double between_turns() const;
  // First t in [0, most] at which f, not above zero at first but for round-off, rises past it;
  // infinity if it does not. A constant f above zero is past it at once.
  double first_rise(const Affine& f, double most) const;

 private:
  struct Response {
    double S, G;
  };
  Response response(double t) const;
  // r and e of the legend.
  struct Rate {
    double r, e;
  };
  Rate rate(const Affine& f) const;

  Affine p_, q_;
  Point start_;
  double s_, d_;         // [1/s], [1/s^2]
  double fastest_;       // [1/s] the norm of the legend
  double discriminant_;  // s^2 - 4 d; negative: the motion swings
};

}  // namespace tabmelt::circuit
