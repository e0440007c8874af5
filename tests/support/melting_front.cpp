#include "tests/support/melting_front.h"

#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/material/constants.h"
#include "tests/support/root.h"
#include "tests/support/special_functions.h"

namespace tabmelt::exact {

using constants::pi;

SharpFront::SharpFront(const MeltingMetal& metal, double melting, double wall, double initial)
    : metal_(metal), melting_(melting), wall_(wall), initial_(initial) {
  if (!(initial <= melting && melting < wall)) {
    throw std::domain_error("melting front: needs initial <= melting < wall temperature");
  }
  const double superheat = wall_ - melting_;
  const double subcooling = melting_ - initial_;
  const double latent =
      metal_.latent_heat * std::sqrt(pi) / (metal_.specific_heat_liquid * superheat);
  // With subcooling zero the solid's properties drop out and may be left unset.
  const double nu =
      subcooling > 0 ? std::sqrt(metal_.diffusivity_liquid() / metal_.diffusivity_solid()) : 0;
  const double drain =
      metal_.conductivity_solid / metal_.conductivity_liquid * nu * subcooling / superheat;
  // Multiplied by erf(lambda), so that the left end is finite; erfcx avoids 0/0 on the right.
  const auto imbalance = [&](double l) {
    return std::exp(-l * l) - std::erf(l) * (drain / erfcx(nu * l) + l * latent);
  };
  lambda_ = root(imbalance, 0.0, 10.0);
}

double SharpFront::position(double t) const {
  return 2 * lambda_ * std::sqrt(metal_.diffusivity_liquid() * t);
}

double SharpFront::temperature(double x, double t) const {
  if (x <= position(t)) {
    return wall_ - (wall_ - melting_) *
                       std::erf(x / (2 * std::sqrt(metal_.diffusivity_liquid() * t))) /
                       std::erf(lambda_);
  }
  if (melting_ == initial_) {
    return melting_;
  }
  const double depth = 2 * std::sqrt(metal_.diffusivity_solid() * t);
  return initial_ + (melting_ - initial_) * std::erfc(x / depth) / std::erfc(position(t) / depth);
}

double SharpFront::heat(double t) const {
  return 2 * metal_.conductivity_liquid * (wall_ - melting_) * std::sqrt(t) /
         (std::sqrt(pi * metal_.diffusivity_liquid()) * std::erf(lambda_));
}

MushyFront::MushyFront(const MeltingMetal& metal, double conductivity_mush, double solidus,
                       double liquidus, double wall, double initial)
    : metal_(metal),
      k_mush_(conductivity_mush),
      solidus_(solidus),
      liquidus_(liquidus),
      wall_(wall),
      initial_(initial) {
  if (!(initial < solidus && solidus < liquidus && liquidus < wall)) {
    throw std::domain_error("mushy front: needs initial < solidus < liquidus < wall temperature");
  }
  const double c_mush = (metal_.specific_heat_liquid + metal_.specific_heat_solid) / 2 +
                        metal_.latent_heat / (liquidus_ - solidus_);
  alpha_mush_ = k_mush_ / (metal_.density * c_mush);
  // Flux leaving the mush minus flux taken by the solid, at the solidus. A thin liquid layer
  // brings too much heat; a thick one so little that the solidus recedes to infinity.
  const auto imbalance = [&](double eta_l) {
    const double eta_s = solidus_after(eta_l);
    if (std::isinf(eta_s)) {
      return -std::numeric_limits<double>::max();
    }
    const double from_mush =
        flux_at_liquidus(eta_l) * std::exp((eta_l * eta_l - eta_s * eta_s) / (4 * alpha_mush_));
    const double alpha_s = metal_.diffusivity_solid();
    const double into_solid = metal_.conductivity_solid * (solidus_ - initial_) /
                              (std::sqrt(pi * alpha_s) * erfcx(eta_s / (2 * std::sqrt(alpha_s))));
    return from_mush - into_solid;
  };
  // Halve the range first: the solver interpolates, so its right end must be a finite value.
  const double scale = 2 * std::sqrt(metal_.diffusivity_liquid());
  double low = 1e-6 * scale, high = 10 * scale;
  while (imbalance(high) == -std::numeric_limits<double>::max()) {
    const double middle = 0.5 * (low + high);
    (imbalance(middle) > 0 ? low : high) = middle;
  }
  eta_l_ = root(imbalance, low, high);
  eta_s_ = solidus_after(eta_l_);
}

double MushyFront::flux_at_liquidus(double eta_l) const {
  const double alpha = metal_.diffusivity_liquid();
  return metal_.conductivity_liquid * (wall_ - liquidus_) * std::exp(-eta_l * eta_l / (4 * alpha)) /
         (std::sqrt(pi * alpha) * std::erf(eta_l / (2 * std::sqrt(alpha))));
}

double MushyFront::solidus_after(double eta_l) const {
  // T = Tl - B (erf(eta/w) - erf(eta_l/w)) with the flux k_m B exp(-eta_l^2/w^2)/sqrt(pi alpha_m)
  const double w = 2 * std::sqrt(alpha_mush_);
  const double u = eta_l / w;
  const double B =
      flux_at_liquidus(eta_l) * std::sqrt(pi * alpha_mush_) / k_mush_ * std::exp(u * u);
  const double left = std::erfc(u) - (liquidus_ - solidus_) / B;
  return left > 0 ? w * boost::math::erfc_inv(left) : std::numeric_limits<double>::infinity();
}

double MushyFront::wall_flux(double t) const {
  const double alpha = metal_.diffusivity_liquid();
  return metal_.conductivity_liquid * (wall_ - liquidus_) /
         (std::sqrt(pi * alpha * t) * std::erf(eta_l_ / (2 * std::sqrt(alpha))));
}

double MushyFront::heat(double t) const { return 2 * t * wall_flux(t); }

double MushyFront::temperature(double x, double t) const {
  const double eta = x / std::sqrt(t);
  if (eta <= eta_l_) {
    const double w = 2 * std::sqrt(metal_.diffusivity_liquid());
    return wall_ - (wall_ - liquidus_) * std::erf(eta / w) / std::erf(eta_l_ / w);
  }
  if (eta < eta_s_) {
    const double w = 2 * std::sqrt(alpha_mush_);
    return liquidus_ - (liquidus_ - solidus_) * (std::erf(eta / w) - std::erf(eta_l_ / w)) /
                           (std::erf(eta_s_ / w) - std::erf(eta_l_ / w));
  }
  const double w = 2 * std::sqrt(metal_.diffusivity_solid());
  return initial_ + (solidus_ - initial_) * std::erfc(eta / w) / std::erfc(eta_s_ / w);
}

double MushyFront::melted_depth(double t) const {
  // f = (erf(b) - erf(eta/w))/(erf(b) - erf(a)) in the mush, a = eta_l/w, b = eta_s/w;
  // Int erf = u erf(u) + exp(-u^2)/sqrt(pi).
  const double w = 2 * std::sqrt(alpha_mush_);
  const double a = eta_l_ / w, b = eta_s_ / w;
  const auto integral = [](double u) { return u * std::erf(u) + std::exp(-u * u) / std::sqrt(pi); };
  const double mush =
      w * ((b - a) * std::erf(b) - (integral(b) - integral(a))) / (std::erf(b) - std::erf(a));
  return std::sqrt(t) * (eta_l_ + mush);
}

}  // namespace tabmelt::exact
