#include "solver/contact/contact.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/material/constants.h"

namespace tabmelt {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double cmy_factor = 1.25;
constexpr double cmy_power = 0.95;
constexpr double film_reference = 293.15;  // [K]
// What a fixed contact without resistance has: less than a layer of atoms of copper. [ohm m^2]
constexpr double least_resistance = 1e-16;

double harmonic(double a, double b) { return 2 * a * b / (a + b); }

double melting_point(const ContactSide& side) {
  return side.enthalpy->melts() ? side.enthalpy->solidus() : infinity;
}

}  // namespace

// x^0.95, remembered: most of the voltages tried for a face find the same true area.
struct ContactModel::Power {
  double x = 0, value = 0;
  double of(double now) {
    if (now != x) {
      x = now;
      value = std::pow(x, cmy_power);
    }
    return value;
  }
};

ContactModel::ContactModel(const Contact& contact, ContactSide lower, ContactSide upper)
    : contact_(contact), lower_(lower), upper_(upper) {
  if (contact_.yields() && !contact_.hardness && !lower.material->hardness &&
      !upper.material->hardness)
    throw std::invalid_argument("contact between " + lower.material->name + " and " +
                                upper.material->name + ": neither material has a hardness");
  double cold = infinity;
  for (const ContactSide& side : {lower, upper})
    if (side.material->hardness) cold = std::min(cold, *side.material->hardness);
  if (contact_.hardness && std::isfinite(cold)) stated_hardness_ = *contact_.hardness / cold;
  // The softer side's spot boils first: the one with the lower melting point.
  boiling_ = melting_point(lower) <= melting_point(upper) ? lower.enthalpy->boiling()
                                                          : upper.enthalpy->boiling();
}

double ContactModel::hardness(double T) const {
  double softer = infinity;
  for (const ContactSide& side : {lower_, upper_})
    if (side.material->hardness) softer = std::min(softer, side.table->hardness(T));
  // Neither material has one: the stated hardness holds at any temperature.
  if (!std::isfinite(softer)) return contact_.hardness.value_or(infinity);
  return stated_hardness_ * softer;
}

ContactModel::Conductance ContactModel::conductance(double voltage, double bulk,
                                                    const ContactMoment& moment,
                                                    const ContactMemory& memory,
                                                    Power& power) const {
  Conductance c{};
  c.spot = std::sqrt(bulk * bulk + voltage * voltage / (4 * constants::lorenz));
  c.spot = std::min(c.spot, std::max(boiling_, bulk));
  c.film_left = std::min(memory.film_left,
                         std::exp(-std::max(c.spot - film_reference, 0.0) / contact_.film_decay));
  const double middle = 0.5 * (bulk + c.spot);
  const double rho_lower = lower_.table->resistivity(middle);
  const double rho_upper = upper_.table->resistivity(middle);
  const double lambda = harmonic(1.0 / rho_lower, 1.0 / rho_upper);
  c.g_metal = lambda / contact_.roughness;
  const double load = moment.pressure / hardness(c.spot);
  const auto bound = [&](double before, double factor) {
    return moment.growth > 0 && before > 0 ? before * factor : infinity;
  };
  double narrowing = 0, one_spot = infinity;  // [ohm m^2]
  double touching = 1;                        // [1] share of the face over which the spot touches
  double area = std::min(1.0, load);
  if (moment.field_radius > 0) {
    const double whole = moment.field_radius;
    const double half_resistance = constants::pi * whole * whole * 0.25 * (rho_lower + rho_upper);
    const double largest = bound(moment.spot_radius, std::sqrt(1 + moment.growth));
    c.radius = std::min(std::max(moment.spot_radius, whole * std::sqrt(load)), whole);
    c.held_back = c.radius > largest;
    c.radius = std::min(c.radius, largest);
    narrowing = half_resistance * (1 / c.radius - 1 / whole);
    touching = c.radius * c.radius / (whole * whole);
    area = std::min(area, touching);
    one_spot = half_resistance / whole;  // over the root of the true share, below
  }
  c.true_fraction = std::max(memory.true_fraction, area);
  const double largest = bound(memory.true_fraction, 1 + moment.growth);
  c.held_back |= c.true_fraction > largest;
  c.true_fraction = std::min(c.true_fraction, largest);
  if (c.true_fraction <= 0) return c;
  const double asperities =
      std::min(one_spot / std::sqrt(c.true_fraction),
               1 / std::min(c.g_metal, cmy_factor * lambda * contact_.slope / contact_.roughness *
                                           touching * power.of(c.true_fraction / touching)));
  const double film = contact_.film_resistance * c.film_left / c.true_fraction;
  c.g = 1.0 / (asperities + film + narrowing);
  return c;
}

ContactAnswer ContactModel::answer(const ContactMoment& moment, const ContactMemory& memory) const {
  ContactAnswer answer;
  answer.memory = memory;
  const double bulk = 0.5 * (moment.lower_temperature + moment.upper_temperature);
  answer.spot_temperature = bulk;
  if (contact_.fixed) {
    answer.g = 1.0 / std::max(contact_.fixed->area_resistance, least_resistance);
    answer.h = contact_.fixed->area_conductance;
    answer.voltage = moment.current_density / answer.g;
    return answer;
  }

  const double j = std::abs(moment.current_density);
  const double burst = std::isfinite(boiling_) && boiling_ > bulk
                           ? 2 * std::sqrt(constants::lorenz * (boiling_ * boiling_ - bulk * bulk))
                           : (std::isfinite(boiling_) ? 1e-3 : 5.0);

  answer.memory.merged =
      std::max(memory.merged, std::min(lower_.enthalpy->liquid_fraction(moment.lower_temperature),
                                       upper_.enthalpy->liquid_fraction(moment.upper_temperature)));
  const double merged = answer.memory.merged;
  Power power;
  const auto whole = [&](double U, Conductance& c) {
    c = conductance(U, bulk, moment, memory, power);
    return (1 - merged) * c.g + merged * c.g_metal;
  };

  // Smallest U with U g(U) = j. g falls while the spot heats and rises when it softens, so U g(U)
  // may turn back: walk up in steps of a fixed share of the burst voltage, then close in.
  Conductance c{};
  double g = whole(0, c);
  double U = 0;
  if (j > 0) {
    constexpr int steps = 24;
    double low = 0, low_value = -j, high = burst, high_value = 0;
    bool found = false;
    for (int n = 1; n <= steps; ++n) {
      high = burst * n / steps;
      g = whole(high, c);
      high_value = high * g - j;
      if (high_value >= 0) {
        found = true;
        break;
      }
      low = high;
      low_value = high_value;
    }
    if (found) {
      for (int n = 0; n < 60 && high - low > 1e-12 * burst; ++n) {
        // False position with the stale end's weight halved (Illinois).
        U = (low * high_value - high * low_value) / (high_value - low_value);
        g = whole(U, c);
        const double value = U * g - j;
        if (std::abs(value) <= 1e-5 * j) break;
        if (value < 0) {
          low = U;
          low_value = value;
          high_value *= 0.5;
        } else {
          high = U;
          high_value = value;
          low_value *= 0.5;
        }
      }
    } else {
      U = burst;
      g = whole(burst, c);
      answer.expelled_share = 1 - U * g / j;
      g = j / U;
    }
  }
  answer.g = g;
  answer.voltage = U;
  answer.spot_temperature = c.spot;
  answer.spot_radius = c.radius;
  answer.held_back = c.held_back;
  answer.memory.true_fraction = c.true_fraction;
  answer.memory.film_left = c.film_left;
  const double k = harmonic(lower_.table->conductivity_z(moment.lower_temperature),
                            upper_.table->conductivity_z(moment.upper_temperature));
  const double h_metal = k / contact_.roughness;
  const double h_spots = std::min(h_metal, cmy_factor * k * contact_.slope / contact_.roughness *
                                               std::pow(c.true_fraction, cmy_power));
  answer.h = (1 - merged) * h_spots + merged * h_metal;
  return answer;
}

}  // namespace tabmelt
