#include "tests/support/manufactured_conduction.h"

#include <cmath>

#include "solver/material/constants.h"

namespace tabmelt::exact {
namespace {

// The two wave numbers and the factors of th at a point.
struct Wave {
  double p, q;            // pi/(3R), pi/(3H) [1/m]
  double cr, sr, cz, sz;  // cos and sin of the two arguments
  double A;               // A exp(-t/tau) [K]

  Wave(const ManufacturedConduction& m, double r, double z, double t)
      : p(constants::pi / (3 * m.radius)),
        q(constants::pi / (3 * m.height)),
        cr(std::cos(p * r)),
        sr(std::sin(p * r)),
        cz(std::cos(q * z + 0.3)),
        sz(std::sin(q * z + 0.3)),
        A(m.amplitude * std::exp(-t / m.decay)) {}

  double theta() const { return A * cr * cz; }
  double theta_r() const { return -A * p * sr * cz; }
  double theta_z() const { return -A * q * cr * sz; }
};

}  // namespace

double ManufacturedConduction::theta(double r, double z, double t) const {
  return Wave(*this, r, z, t).theta();
}

double ManufacturedConduction::steady_source(double r, double z, double t) const {
  const Wave w(*this, r, z, t);
  const double th = w.theta(), th_rr = -w.p * w.p * th, th_zz = -w.q * w.q * th;
  const double th_r_over_r = r > 0 ? w.theta_r() / r : th_rr;
  return -conductivity * ((1 + slope * th) * (th_rr + th_r_over_r + th_zz) +
                          slope * (w.theta_r() * w.theta_r() + w.theta_z() * w.theta_z()));
}

double ManufacturedConduction::source(double r, double z, double t) const {
  return steady_source(r, z, t) - heat_capacity * theta(r, z, t) / decay;
}

double ManufacturedConduction::flux_r(double r, double z, double t) const {
  const Wave w(*this, r, z, t);
  return -conductivity * (1 + slope * w.theta()) * w.theta_r();
}

double ManufacturedConduction::flux_z(double r, double z, double t) const {
  const Wave w(*this, r, z, t);
  return -conductivity * (1 + slope * w.theta()) * w.theta_z();
}

}  // namespace tabmelt::exact
