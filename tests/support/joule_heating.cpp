#include "tests/support/joule_heating.h"

#include <cmath>

#include "solver/material/constants.h"
#include "tests/support/root.h"

namespace tabmelt::exact {

using constants::lorenz;

double AdiabaticRod::rise_at_current(double J, double t) const {
  const double tau = density * specific_heat / (resistivity * beta * J * J);
  return std::expm1(t / tau) / beta;
}

double AdiabaticRod::action_to_rise(double rise) const {
  return density * specific_heat / (resistivity * beta) * std::log1p(beta * rise);
}

double AdiabaticRod::time_to_rise(double J, double rise) const {
  return action_to_rise(rise) / (J * J);
}

double AdiabaticRod::melting_time(double J, double rise, double L) const {
  return density * L / (J * J * resistivity * (1 + beta * rise));
}

double AdiabaticRod::rise_at_field(double E, double t) const {
  // The root of th + beta th^2/2 = s, written without cancellation for small beta.
  const double s = E * E * t / (resistivity * density * specific_heat);
  return 2 * s / (1 + std::sqrt(1 + 2 * beta * s));
}

double CapacitorFiredRod::time_at_voltage(double V) const {
  const double K = beta * capacitance / (2 * heat_capacity);
  return resistance * capacitance *
         ((1 + K * voltage * voltage) * std::log(voltage / V) -
          K * (voltage * voltage - V * V) / 2);
}

double CapacitorFiredRod::voltage_at_time(double t) const {
  if (t == 0) {
    return voltage;
  }
  // At its slowest the rod has its final, highest resistance, at its fastest the cold one.
  const double K = beta * capacitance / (2 * heat_capacity);
  const double slowest = resistance * capacitance * (1 + K * voltage * voltage);
  const double low = std::log(voltage) - t / (resistance * capacitance);
  const double high = std::log(voltage) - t / slowest;
  return std::exp(
      root([&](double log_V) { return time_at_voltage(std::exp(log_V)) - t; }, low, high));
}

double CapacitorFiredRod::rise_at_voltage(double V) const {
  return capacitance * (voltage * voltage - V * V) / (2 * heat_capacity);
}

double SteadyRod::temperature(double x) const {
  return end +
         voltage * voltage * x * (length - x) / (2 * conductivity * resistivity * length * length);
}

double kohlrausch_temperature(double T0, double V, double phi) {
  return std::sqrt(T0 * T0 + phi * (V - phi) / lorenz);
}

double kohlrausch_peak(double T0, double V) { return kohlrausch_temperature(T0, V, V / 2); }

double wiedemann_franz_current(double k, double Gamma, double V, double T0) {
  return 2 * k / (std::sqrt(lorenz) * Gamma) * std::atan(V / (2 * std::sqrt(lorenz) * T0));
}

}  // namespace tabmelt::exact
