#include "solver/circuit/discharge.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace tabmelt::circuit {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// (1 - exp(-x)) / x
double mean_decay(double x) {
  if (x == 0) return 1;
  return -std::expm1(-x) / x;
}

// ln(1 + x) / x
double mean_log(double x) {
  if (x == 0) return 1;
  return std::log1p(x) / x;
}

// Gauss-Legendre rule with eight points: half of the nodes of [-1, 1] and their weights.
// Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4.
constexpr std::array<double, 4> gauss_node{0.183434642495649805, 0.525532409916328986,
                                           0.796666477413626740, 0.960289856497536232};
constexpr std::array<double, 4> gauss_weight{0.362683783378361983, 0.313706645877887287,
                                             0.222381034453374471, 0.101228536290376259};

template <typename Motion>
StepIntegrals gauss_integrals(const Motion& motion, const LoopPoint& start, double resistance,
                              double inductance, double t) {
  StepIntegrals sum;
  double flux_linkage = 0;  // int (u - R i) dt = L (i1 - i0)
  for (std::size_t k = 0; k < gauss_node.size(); ++k) {
    for (const double side : {-1.0, 1.0}) {
      const LoopPoint point = motion.at(0.5 * t * (1 + side * gauss_node[k]));
      const double width = 0.5 * t * gauss_weight[k];
      sum.charge += width * point.current;
      sum.square_current += width * point.current * point.current;
      flux_linkage += width * (point.drive - resistance * point.current);
    }
  }
  sum.current_change = flux_linkage / inductance;
  sum.end.current = start.current + sum.current_change;
  return sum;
}

}  // namespace

CapacitorDischarge::CapacitorDischarge(double resistance, double inductance, double capacitance,
                                       LoopPoint start)
    : resistance_(resistance), inductance_(inductance), capacitance_(capacitance), start_(start) {
  if (!(resistance > 0)) {
    throw std::invalid_argument("a capacitor needs some resistance in its loop");
  }
  if (!(capacitance > 0)) throw std::invalid_argument("capacitance must be positive");
  if (!(inductance >= 0)) throw std::invalid_argument("inductance must not be negative");
  if (inductance == 0) {
    start_.current = start.drive / resistance;
    slow_rate_ = 1 / (resistance * capacitance);
    fast_rate_ = slow_rate_;
    return;
  }
  const double discriminant = resistance * resistance - 4 * inductance / capacitance;
  oscillates_ = discriminant < 0;
  if (oscillates_) {
    damping_ = resistance / (2 * inductance);
    frequency_ = std::sqrt(-discriminant) / (2 * inductance);
    fast_rate_ = 1 / std::sqrt(inductance * capacitance);
  } else {
    split_ = std::sqrt(discriminant);
    slow_rate_ = 2 / (capacitance * (resistance + split_));
    fast_rate_ = (resistance + split_) / (2 * inductance);
  }
}

double CapacitorDischarge::response(double t) const {
  const double x = split_ * (t / inductance_);
  const double slow = std::exp(-slow_rate_ * t);
  return x > 1 ? slow * -std::expm1(-x) / split_ : slow * (t / inductance_) * mean_decay(x);
}

LoopPoint CapacitorDischarge::damped(double t) const {
  const double s = response(t);
  const double a_l = slow_rate_ * inductance_;  // [ohm]
  return {start_.current * (std::exp(-fast_rate_ * t) - a_l * s) + start_.drive * s,
          start_.drive * (std::exp(-slow_rate_ * t) + a_l * s) -
              start_.current * (inductance_ / capacitance_) * s};
}

LoopPoint CapacitorDischarge::oscillating(double t) const {
  const double decay = std::exp(-damping_ * t);
  const double c = std::cos(frequency_ * t);
  const double angle = frequency_ * t;
  const double s = angle == 0 ? t : t * (std::sin(angle) / angle);  // sin(w t)/w
  return {decay * (start_.current * (c - damping_ * s) + start_.drive / inductance_ * s),
          decay * (start_.drive * (c + damping_ * s) - start_.current / capacitance_ * s)};
}

LoopPoint CapacitorDischarge::at(double t) const {
  if (inductance_ == 0) {
    const double u = start_.drive * std::exp(-slow_rate_ * t);
    return {u / resistance_, u};
  }
  return oscillates_ ? oscillating(t) : damped(t);
}

// int i^2 dt of i = exp(-d t) (A cos wt + B sin wt), d = R/(2 L).
double CapacitorDischarge::swing_square_current(double t) const {
  const double a = start_.current;
  const double b = (start_.drive / inductance_ - damping_ * start_.current) / frequency_;
  const double rate = 2 * damping_;
  const double angular = 2 * frequency_;
  const double decay = std::exp(-rate * t);
  const double norm = rate * rate + angular * angular;
  const double c = std::cos(angular * t);
  const double s = std::sin(angular * t);
  const double plain = t * mean_decay(rate * t);
  const double cosine = (rate * (1 - decay * c) + angular * decay * s) / norm;
  const double sine = (angular * (1 - decay * c) - rate * decay * s) / norm;
  return 0.5 * (a * a + b * b) * plain + 0.5 * (a * a - b * b) * cosine + a * b * sine;
}

StepIntegrals CapacitorDischarge::closed_integrals(double t) const {
  StepIntegrals step;
  step.end = at(t);
  step.current_change = step.end.current - start_.current;
  if (inductance_ == 0) {
    const double x = slow_rate_ * t;
    step.charge = start_.current * t * mean_decay(x);
    step.square_current = start_.current * start_.current * t * mean_decay(2 * x);
    return step;
  }
  if (oscillates_) {
    step.charge = capacitance_ * (start_.drive - step.end.drive);
  } else {
    const double s = response(t);
    const double gone = -std::expm1(-slow_rate_ * t) - slow_rate_ * inductance_ * s;
    step.charge = capacitance_ * start_.drive * gone + start_.current * inductance_ * s;
  }
  if (oscillates_ && damping_ < 0.5 * fast_rate_) {
    step.square_current = swing_square_current(t);
  } else {
    const double from_capacitor = step.charge * 0.5 * (start_.drive + step.end.drive);
    const double to_inductance =
        inductance_ * step.current_change * 0.5 * (start_.current + step.end.current);
    step.square_current = (from_capacitor - to_inductance) / resistance_;
  }
  step.square_current = std::max(step.square_current, 0.0);
  return step;
}

StepIntegrals CapacitorDischarge::integrals(double t) const {
  if (inductance_ == 0 || fast_rate_ * t > 1) return closed_integrals(t);
  StepIntegrals step = gauss_integrals(*this, start_, resistance_, inductance_, t);
  step.end.drive = start_.drive - step.charge / capacitance_;
  return step;
}

double CapacitorDischarge::first_reversal() const {
  const double i = start_.current;
  if (inductance_ == 0) return infinity;
  if (oscillates_) {
    if (i == 0) {
      return start_.drive == 0 ? infinity : std::numbers::pi / frequency_;
    }
    const double b = start_.drive / inductance_ - damping_ * i;
    return std::atan2(std::abs(i) * frequency_, std::copysign(1.0, -i) * b) / frequency_;
  }
  // i0 exp(-(b - a) t) = (a i0 - u0/L) (1 - exp(-(b - a) t)) / (b - a)
  if (i == 0) return infinity;
  const double against = slow_rate_ * i - start_.drive / inductance_;
  const double quotient = i / against;  // [s] reversal if the loop were critically damped
  if (!(quotient > 0)) return infinity;
  return quotient * mean_log(split_ / inductance_ * quotient);
}

double CapacitorDischarge::first_extreme() const {
  if (inductance_ == 0) return infinity;
  const double slope = (start_.drive - resistance_ * start_.current) / inductance_;
  const LoopPoint rates{slope, -start_.current / capacitance_};
  return CapacitorDischarge(resistance_, inductance_, capacitance_, rates).first_reversal();
}

BatteryDischarge::BatteryDischarge(double resistance, double inductance, LoopPoint start)
    : resistance_(resistance), inductance_(inductance), start_(start) {
  if (!(resistance >= 0) || !(inductance >= 0) || (resistance == 0 && inductance == 0)) {
    throw std::invalid_argument("a battery needs some resistance or inductance in its loop");
  }
  if (inductance == 0) start_.current = start.drive / resistance;
}

LoopPoint BatteryDischarge::at(double t) const {
  if (inductance_ == 0) return start_;
  const double x = resistance_ * (t / inductance_);
  const double rise = x > 1 ? -std::expm1(-x) / resistance_ : t / inductance_ * mean_decay(x);
  return {start_.current * std::exp(-x) + start_.drive * rise, start_.drive};
}

StepIntegrals BatteryDischarge::integrals(double t) const {
  StepIntegrals step;
  step.end = at(t);
  if (inductance_ == 0) {
    step.charge = start_.current * t;
    step.square_current = start_.current * start_.current * t;
    return step;
  }
  const double x = resistance_ * (t / inductance_);
  if (x <= 1) {
    step = gauss_integrals(*this, start_, resistance_, inductance_, t);
    step.end.drive = start_.drive;
    return step;
  }
  // i = final + gap exp(-t/tau)
  const double tau = inductance_ / resistance_;
  const double final_current = start_.drive / resistance_;
  const double gap = start_.current - final_current;
  const double once = -tau * std::expm1(-x);
  const double twice = -0.5 * tau * std::expm1(-2 * x);
  step.current_change = step.end.current - start_.current;
  step.charge = final_current * t + gap * once;
  step.square_current = std::max(
      0.0, final_current * final_current * t + 2 * final_current * gap * once + gap * gap * twice);
  return step;
}

double BatteryDischarge::first_reversal() const {
  if (inductance_ == 0 || start_.current == 0) return infinity;
  const double quotient = -start_.current * inductance_ / start_.drive;  // [s] without resistance
  if (!(quotient > 0) || !std::isfinite(quotient)) return infinity;
  return quotient * mean_log(resistance_ / inductance_ * quotient);
}

}  // namespace tabmelt::circuit
