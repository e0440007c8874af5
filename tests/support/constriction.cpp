#include "tests/support/constriction.h"

#include <Eigen/Dense>
#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <vector>

#include "solver/material/constants.h"
#include "tests/support/special_functions.h"

namespace tabmelt::exact::constriction {
namespace {

using boost::math::cyl_bessel_j;
using boost::math::quadrature::gauss;
using boost::math::quadrature::gauss_kronrod;
using constants::pi;

// t G(y) of the header with b = y/(2 t); 1/(exp(x) + 1) ends at x = 40.
double plate_kernel(double b) {
  return gauss_kronrod<double, 31>::integrate(
      [b](double x) { return std::cos(b * x) / (std::exp(x) + 1); }, 0.0, 40.0, 10, 1e-13);
}

}  // namespace

double half_space_equipotential(double kappa, double a) { return 1 / (4 * kappa * a); }

double half_space_uniform_flux(double kappa, double a) { return 8 / (3 * pi * pi * kappa * a); }

double half_space_uniform_flux_centre(double kappa, double a) { return 1 / (pi * kappa * a); }

double plate_uniform_flux(double kappa, double a, double t) {
  // The half-space less the integral over 1 - tanh(x s) = 2/(exp(2 x s) + 1), which has an end;
  // pieces of at most one oscillation of J1^2 keep the quadrature from missing any.
  const double s = t / a;
  const double end = 20 / s;
  const int pieces = 1 + static_cast<int>(end / pi);
  const auto integrand = [s](double x) {
    const double j = x == 0 ? 0.5 : cyl_bessel_j(1, x) / x;
    return j * j * 2 / (std::exp(2 * x * s) + 1);
  };
  double missing = 0;
  for (int i = 0; i < pieces; ++i) {
    missing += gauss_kronrod<double, 31>::integrate(integrand, end * i / pieces,
                                                    end * (i + 1) / pieces, 6, 1e-13);
  }
  return half_space_uniform_flux(kappa, a) - 2 / (pi * kappa * a) * missing;
}

double plate_equipotential(double kappa, double a, double t) {
  // Gauss-Legendre nodes on 0..a: the equation for f becomes a small dense system. The kernel is
  // analytic, so the answer converges faster than any power of the number of nodes.
  using Rule = gauss<double, 30>;
  std::vector<double> s, w;
  for (std::size_t i = 0; i < Rule::abscissa().size(); ++i) {
    for (const double sign : {-1.0, 1.0}) {
      s.push_back(0.5 * a * (1 + sign * Rule::abscissa()[i]));
      w.push_back(0.5 * a * Rule::weights()[i]);
    }
  }
  const auto n = static_cast<Eigen::Index>(s.size());
  Eigen::MatrixXd A = Eigen::MatrixXd::Identity(n, n);
  const double scale = 1 / (2 * t);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const double si = s[static_cast<std::size_t>(i)], sj = s[static_cast<std::size_t>(j)];
      A(i, j) -= w[static_cast<std::size_t>(j)] / (pi * t) *
                 (plate_kernel(scale * (si - sj)) + plate_kernel(scale * (si + sj)));
    }
  }
  const Eigen::VectorXd f = A.partialPivLu().solve(Eigen::VectorXd::Constant(n, 2 / pi));
  const double integral = f.dot(Eigen::Map<const Eigen::VectorXd>(w.data(), n));
  return 1 / (2 * pi * kappa * integral);
}

double cylinder_uniform_flux(double kappa, double a, double b, double l) {
  const double eps = a / b;
  double sum = 0;
  for (const double z : zeros_of_j1()) {
    const double j1 = cyl_bessel_j(1, z * eps), j0 = cyl_bessel_j(0, z);
    sum += j1 * j1 * std::tanh(z * l / b) / (z * z * z * j0 * j0);
  }
  // The terms beyond the table average 1/(2 eps z^3) and lie pi apart; what oscillates about
  // that sums to less than 1e-8 of R for eps >= 0.1.
  const double Z = zeros_of_j1().back() + pi / 2;
  sum += 1 / (4 * pi * eps * Z * Z);
  return l / (kappa * pi * b * b) + 4 / (pi * kappa * a * eps) * sum;
}

double cylinder_equipotential(double kappa, double a, double b, double l) {
  const double e = a / b;
  const double psi = 1 - 1.40978 * e + 0.34406 * std::pow(e, 3) + 0.0435 * std::pow(e, 5) +
                     0.02271 * std::pow(e, 7);
  return l / (kappa * pi * b * b) + psi / (4 * kappa * a);
}

FilmDisc half_spaces_with_film(double kappa_1, double kappa_2, double a, double g) {
  constexpr Eigen::Index terms = 200;
  const double spreading = a * (1 / kappa_1 + 1 / kappa_2);
  Eigen::MatrixXd A(terms, terms);
  for (Eigen::Index m = 0; m < terms; ++m) {
    for (Eigen::Index n = 0; n < terms; ++n) {
      const auto d = static_cast<double>(m - n), s = static_cast<double>(m + n);
      const double sign = (m - n) % 2 == 0 ? 1 : -1;
      A(m, n) = spreading * sign / (4 * pi * (0.25 - d * d) * (s + 0.5) * (s + 1.5));
    }
    A(m, m) += 1 / (g * (4.0 * static_cast<double>(m) + 2));
  }
  const Eigen::VectorXd j = A.ldlt().solve(0.5 * Eigen::VectorXd::Unit(terms, 0));
  const double current = pi * a * a * j[0];
  double heat = 0;
  for (Eigen::Index n = 0; n < terms; ++n)
    heat += 2 * pi * a * a * j[n] * j[n] / (g * (4.0 * static_cast<double>(n) + 2));
  return {1 / current, heat / (current * current)};
}

}  // namespace tabmelt::exact::constriction
