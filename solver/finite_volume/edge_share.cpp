#include "solver/finite_volume/edge_share.h"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numbers>

namespace tabmelt {
namespace {

using std::numbers::pi;

// Points and weights of the mean over k = 0..pi. They crowd at 0, where the logarithm of a poor
// contact bends: k = pi x^3.
struct Point {
  double y, cosine, weight;  // 2 sin(k/2), cos(k/2)
};
constexpr unsigned points = 16;

std::array<Point, points> find_points() {
  using Rule = boost::math::quadrature::gauss<double, points>;
  std::array<Point, points> found;
  for (std::size_t n = 0; n < points; ++n) {
    const double side = n % 2 == 0 ? 1 : -1;
    const double x = 0.5 + 0.5 * side * Rule::abscissa()[n / 2];
    const double half = 0.5 * pi * x * x * x;
    found[n] = {2 * std::sin(half), std::cos(half), 1.5 * x * x * Rule::weights()[n / 2]};
  }
  return found;
}

template <typename F>
WithSlope mean(F f) {
  static const std::array<Point, points> at = find_points();
  WithSlope sum;
  for (const Point& p : at) {
    const WithSlope here = f(p.y, p.cosine);
    sum.value += p.weight * here.value;
    sum.slope += p.weight * here.slope;
  }
  return sum;
}

// The plane about the edge in columns of width 1.
struct Plane {
  double a1, a2;  // 1/s
  double q1, q2;  // dz/2h
  double film;    // 1/(g h)
  Plane(const EdgeSides& e, double h)
      : a1(1 / e.k_lower),
        a2(1 / e.k_upper),
        q1(0.5 * e.dz_lower / h),
        q2(0.5 * e.dz_upper / h),
        film(1 / (e.g * h)) {}
  // y Z
  double impedance(double y) const { return a1 * root(q1 * y) + a2 * root(q2 * y) + film * y; }
  // (y Z - c - film y)/y^2
  double bending(double y) const {
    return a1 * q1 * q1 / (1 + root(q1 * y)) + a2 * q2 * q2 / (1 + root(q2 * y));
  }
  // Of a column's two half cells and contact.
  double own() const { return a1 * q1 + a2 * q2 + film; }
  static double root(double x) { return std::sqrt(1 + x * x); }
};

bool conducts(const EdgeSides& e) { return e.k_lower > 0 && e.k_upper > 0 && e.g > 0; }

// p
WithSlope power(const EdgeSides& e, double b) {
  const double contact = 1 / (pi * e.g), spreading = (1 / e.k_lower + 1 / e.k_upper) * b / 4;
  const double share = contact / (contact + spreading);
  return {1 + share, share * (1 - share)};
}

// e_m
WithSlope edge_beside_face(const std::vector<double>& r_edges, std::size_t m,
                           const EdgeSides& sides) {
  if (m == 0) return {};
  const bool last = m + 1 == r_edges.size();
  const double h = last ? r_edges[m] - r_edges[m - 1] : 0.5 * (r_edges[m + 1] - r_edges[m - 1]);
  const WithSlope shift = edge_shift(sides, h);
  const double innermost = 0.5 * (r_edges[m - 1] + r_edges[m]) * 0.5;
  const double e = r_edges[m] - h * shift.value;
  if (e < innermost) return {innermost, 0};
  return {e, -h * shift.slope};
}

// Largest share of a column under a rod's corner: beyond, its half cells have less resistance than
// the corner would take away.
constexpr double largest_corner_share = 4;

// The last column of a rod, b between the edge e that the lattice sees and its own outer face R.
void at_corner(const EdgeSides& sides, double h, WithSlope e, double b, double R, EdgeShare& out) {
  out.touching = out.share = 1;
  if (b <= e.value) return;
  const Plane plane(sides, h);
  const double flat = sides.dz_lower / h;
  const double less =
      std::min(0.17 * (1 + flat * flat) * plane.a1 / plane.own(), 1 - 1 / largest_corner_share);
  const double most = 1 / (1 - less), most_slope = -most * most * less * plane.film / plane.own();
  const double ring = R - e.value, part = std::min(1.0, (b - e.value) / ring);
  const double part_slope = -e.slope * (1 - part) / ring;
  out.share = 1 + part * (most - 1);
  out.slope = -(part_slope * (most - 1) + part * most_slope) / (out.share * out.share);
}

// (e/b)^p
WithSlope to_power(WithSlope e, double b, WithSlope p) {
  if (e.value <= 0) return {};
  const double logarithm = std::log(e.value / b), value = std::exp(p.value * logarithm);
  return {value, value * (p.slope * logarithm + p.value * e.slope / e.value)};
}

}  // namespace

WithSlope edge_shift(const EdgeSides& sides, double h) {
  const Plane plane(sides, h);
  const double c = plane.a1 + plane.a2, epsilon = plane.film / c;
  // ln(y Z/c) = ln(y Z/(c + c epsilon y)) + ln(1 + epsilon y). The second part against the
  // continuum's, both over dy: up to y = 2 they differ by 1 - dy/dk, beyond stands the continuum's.
  const WithSlope inside = mean([&](double y, double cosine) {
    const double film = 1 + epsilon * y, film_slope = epsilon * y / film, rest = 4 * (1 + cosine);
    const double bent = plane.bending(y) / (c * film), square = y * y;
    return WithSlope{std::log1p(bent * square) / square + std::log1p(epsilon * y) / rest,
                     -film_slope * bent / (1 + bent * square) + film_slope / rest};
  });
  const double tail = epsilon > 0 ? epsilon * std::log1p(1 / (2 * epsilon)) : 0;
  return {0.25 + inside.value - (0.5 * std::log1p(2 * epsilon) + tail) / pi,
          inside.slope - tail / pi};
}

WithSlope edge_impedance(const EdgeSides& sides, double h) {
  const Plane plane(sides, h);
  const double own = plane.own();
  // The mean of ln y is 0.
  const WithSlope logarithm = mean([&](double y, double) {
    const double whole = plane.impedance(y);
    return WithSlope{std::log(whole), plane.film * y / whole};
  });
  const double kappa = std::exp(logarithm.value) / own;
  return {kappa, kappa * (logarithm.slope - plane.film / own)};
}

EdgeShare edge_share(const std::vector<double>& r_edges, std::size_t columns,
                     const EdgeSides& sides, double b) {
  EdgeShare out;
  if (b <= 0) return out;
  std::size_t m = 0;
  while (m < columns && r_edges[m + 1] <= b) ++m;
  out.column = m;
  if (!conducts(sides)) return out;
  WithSlope from = edge_beside_face(r_edges, m, sides), to = from;
  for (;; ++m, from = to) {
    out.column = m;
    if (m == columns) break;
    to = edge_beside_face(r_edges, m + 1, sides);
    if (b < to.value) break;
  }
  if (m == columns) {
    out.column = m - 1;
    const double R = r_edges[m];
    at_corner(sides, R - r_edges[m - 1], from, b, R, out);
    return out;
  }
  const WithSlope p = power(sides, b);
  const WithSlope low = to_power(from, b, p), high = to_power(to, b, p);
  const double width = high.value - low.value;
  if (b <= from.value || width <= 0) return out;
  const double t = (1 - low.value) / width;
  const double t_slope = (-low.slope - t * (high.slope - low.slope)) / width;
  const WithSlope kappa = edge_impedance(sides, r_edges[m + 1] - r_edges[m]);
  out.touching = t;
  out.share = t / (t + kappa.value * (1 - t));
  out.slope = (kappa.slope * (1 - t) - kappa.value * t_slope / t) / t;
  return out;
}

}  // namespace tabmelt
